"""What is said beside the offer to make a thing that was named."""

OFFER_NOTES = {
    "setup": "with no hours to get it out yet: type them in the shop's room of setups",
    "station": "one of it, or as many as the task needs; more in the shop's room of setups",
}
"""By the noun of the kind."""

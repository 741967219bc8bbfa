"""How each sum of money was worked out: a sentence or two with its own numbers in it."""

from webapp.build.money import MoneyGrowth, Offer, Sums
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.money import cents


def sums_how(sums: Sums, count: int, unknown: int) -> How:
    """The three sums and their total."""
    known = count - unknown
    return How(
        figures=("money",),
        of="the sums",
        sentences=(
            f"Of {words.count(count, 'thing that costs', 'things that cost')} money"
            f" {words.count(known, 'has', 'have')} a price: what was paid where that is said, else"
            f" the estimate. Paid {cents(sums.spent)} + ordered or begun and not paid"
            f" {cents(sums.committed)} + to come {cents(sums.to_come)} = {cents(sums.total)}.",
            "A part counts with the subsystem and the wish of the first task that it serves. An"
            " undecided wish counts with nothing. Sums are added in hundredths.",
        ),
    )


def growth_how(growth: MoneyGrowth) -> How:
    """The growth of money since the baseline."""
    return How(
        figures=("money-growth",),
        of="the growth of money",
        sentences=(
            f"First sum {cents(growth.first)}, dropped from it {cents(growth.dropped)}, priced or"
            f" paid otherwise {cents(growth.anew)}, added from wishes {cents(growth.from_wishes)},"
            f" added otherwise {cents(growth.otherwise)}: {cents(growth.now)} now.",
        ),
    )


def limit_how(*, limit: int, sums: Sums) -> How:
    """What is left of the limit."""
    return How(
        figures=("money-limit",),
        of="what is left of the limit",
        sentences=(
            f"The limit of {cents(limit)} less all that is paid, ordered and to come,"
            f" {cents(sums.total)}, is {cents(limit - sums.total)}. On the stick, from MAX down:"
            f" 1 paid {cents(sums.spent)}, 2 ordered {cents(sums.committed)},"
            f" 3 to come {cents(sums.to_come)}.",
        ),
    )


def saved_how(name: str, offer: Offer, *, own: int) -> How:
    """What an hour saved costs, with one offer as an example."""
    less = f" less the {cents(own)} it costs otherwise" if own else ""
    an_hour = cents(offer.cents_an_hour or 0)
    return How(
        figures=("money-saved",),
        of="what an hour saved costs",
        sentences=(
            f"What somebody else would take{less}, over the hours that are still to go. {name}:"
            f" {cents(offer.cents)} over {words.tenth_hours(offer.hours)} is {an_hour} an hour."
            " What it does to the date stands on Path.",
        ),
    )

"""Week: hours against estimates, where the time went, the closing of the week, the time log."""

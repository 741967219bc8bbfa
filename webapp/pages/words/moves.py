"""What a change did to first start, in words."""

import datetime as dt

from webapp.pages.words import amounts as words


def move_words(before: dt.datetime | None, after: dt.datetime | None, *, today: dt.date) -> str:
    """What a change did to first start, as a sentence: "By the plan first start moves ..."."""
    if after is None:
        if before is None:
            return "First start has no date yet."
        return (
            f"First start was {words.day(before, today=today)}; now it can not be planned."
            " What stands in the way is on the Order page."
        )
    day = words.day(after, today=today)
    if before is None:
        return f"First start can be planned now: {day}."
    if before.date() != after.date():
        days = words.days_apart(before, after)
        return (
            f"By the plan first start moves from {words.day(before, today=today)} to {day}:"
            f" {words.days(abs(days))} {'later' if days > 0 else 'earlier'}."
        )
    minutes = round((after - before).total_seconds() / 60)
    if minutes == 0:
        return f"By the plan first start stays on {day}."
    return (
        f"By the plan first start stays on {day}, {words.hours(abs(minutes) / 60)}"
        f" {'later' if minutes > 0 else 'earlier'} in the day."
    )

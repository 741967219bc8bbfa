"""First start as it was before a change, so that the page after it can say how far it moved."""

import datetime as dt
import threading
from collections import OrderedDict

from webapp.pages.words import amounts as words

KEPT = 200


class FirstStarts:
    """First start of the last few revisions that were changed; None where it had no date."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[tuple[str, int], dt.datetime | None] = OrderedDict()

    def keep(self, slug: str, revision: int, at: dt.datetime | None) -> None:
        """Remember first start of a build as planned at this revision."""
        with self._lock:
            self._kept[slug, revision] = at
            self._kept.move_to_end((slug, revision))
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)

    def recall(self, slug: str, revision: int) -> tuple[bool, dt.datetime | None]:
        """Whether this revision is remembered, and its first start."""
        with self._lock:
            return (slug, revision) in self._kept, self._kept.get((slug, revision))


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

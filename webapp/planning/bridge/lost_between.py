"""The sessions of the days between two builds as they were lived: lost hours cut off, more put on.

Lost on a date are its workable minutes less those worked, and only if the house rules, from that
morning's lived state with the hours as lived, would have worked more minutes of hands. They are
cut off the end of the workable stretches. On a date without any work at all on which work without
hands stood still nobody was there: all of it was lost. A day with nothing lost keeps its promised
sessions.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from webapp.build.build_input import BuildInput
from webapp.build.shop import DayHours
from webapp.build.time.promised_days import minute_of_day
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time.shop_weeks import range_on
from webapp.build.time.stretches import Stretch
from webapp.build.time_units import DAY_MINUTES
from webapp.planning.bridge.lived import Lived
from webapp.planning.bridge.work_between import WorkBetween

CLOSED_DAY_BEGINS_MINUTE = 8 * 60
"""Work on a day the shop was closed is taken to have begun at 8:00."""
LEAST_MINUTES = 1
"""Less than this is rounding."""


class LostBetween:
    """The lived sessions of any date between two builds."""

    def __init__(
        self, earlier: BuildInput, later: BuildInput, between: WorkBetween, lived: Lived
    ) -> None:
        self._earlier, self._later, self._between, self._lived = earlier, later, between, lived

    def sessions(self, day: dt.date) -> tuple[DayHours, ...]:
        """The stretches of a date that were worked or could have been, and those still ahead.

        A date that the later build gave sessions of its own has those.
        """
        first = minute_of_day(self._between.since, day)
        last = minute_of_day(self._between.until, day)
        promised = sessions_on(self._earlier, day)
        lived = sessions_on(self._later, day)
        if _told_apart(self._earlier, self._later, day):
            promised = lived
        stretches = [cut for s in promised if (cut := _cut(s, first, last))]
        open_minutes = sum(s.closes_minute - s.opens_minute for s in stretches)
        more = round(self._between.minutes_in_use[day] - open_minutes)
        if more >= LEAST_MINUTES:
            kept = [*stretches, *_beyond(stretches, more, first, last)]
        else:
            kept = _without(stretches, self._lost(day, promised, (first, last)))
        ahead = [cut for s in lived if (cut := _cut(s, last, DAY_MINUTES))]
        return tuple(sorted([*kept, *ahead], key=lambda s: s.opens_minute))

    def _lost(self, day: dt.date, sessions: tuple[DayHours, ...], within: Stretch) -> list[Stretch]:
        """The stretches that were lost on a date, of those of its sessions."""
        first, last = within
        workable = [
            (max(begins, first), min(ends, last))
            for begins, ends in self._lived.workable(day, sessions)
            if begins < last and ends > first
        ]
        if not self._between.hand_minutes[day] and self._lived.stood(day, sessions):
            return [within]
        people = max(1, self._earlier.shop.people)
        worked = self._between.hand_minutes[day] + LEAST_MINUTES
        if worked > people * sum(ends - begins for begins, ends in workable):
            return []
        hands = self._lived.hands_on(day, sessions, self._between.until)
        if worked > sum(n * (ends - begins) for begins, ends, n in hands):
            return []
        hand_minutes = self._between.hand_minutes[day]
        since = _reached(hands, hand_minutes) if hand_minutes else first
        return [(max(begins, since), ends) for begins, ends in workable if ends > since]


def _told_apart(earlier: BuildInput, later: BuildInput, day: dt.date) -> bool:
    """Whether the sessions of a date were changed since, or its range's, not the whole week's."""
    if sessions_on(earlier, day) == sessions_on(later, day):
        return False
    if range_on(earlier.shop, day) != range_on(later.shop, day):
        return True
    return any(d.date == day for d in (*earlier.shop.days, *later.shop.days))


def _reached(hands: Sequence[tuple[int, int, int]], minutes: float) -> int:
    """The minute of the day by which so many minutes of hands are worked."""
    marks = sorted({mark for begins, ends, _ in hands for mark in (begins, ends)})
    gone = 0.0
    for begins, ends in pairwise(marks):
        at_work = sum(n for b, e, n in hands if b <= begins and ends <= e)
        if at_work and gone + at_work * (ends - begins) >= minutes:
            return begins + round((minutes - gone) / at_work)
        gone += at_work * (ends - begins)
    return marks[-1] if marks else 0


def _cut(session: DayHours, first: int, last: int) -> DayHours | None:
    opens, closes = max(session.opens_minute, first), min(session.closes_minute, last)
    if opens >= closes:
        return None
    return replace(session, opens_minute=opens, closes_minute=closes)


def _without(sessions: Iterable[DayHours], lost: Iterable[Stretch]) -> list[DayHours]:
    """Sessions with some stretches of time taken out of them."""
    left = list(sessions)
    for begins, ends in lost:
        pieces = ((_cut(s, 0, begins), _cut(s, ends, DAY_MINUTES)) for s in left)
        left = [piece for pair in pieces for piece in pair if piece]
    return left


def _beyond(promised: list[DayHours], minutes: int, first: int, last: int) -> list[DayHours]:
    """Where work beyond the promised sessions went: after the last of them, then before."""
    begins = promised[-1].closes_minute if promised else CLOSED_DAY_BEGINS_MINUTE
    begins = min(max(begins, first), last)
    after = min(minutes, last - begins)
    found = [DayHours(opens_minute=begins, closes_minute=begins + after)] if after > 0 else []
    minutes -= max(0, after)
    gap_ends = begins
    for session in [*reversed(promised), None]:
        gap_begins = session.closes_minute if session else first
        taken = min(minutes, gap_ends - gap_begins)
        if taken > 0:
            found.append(DayHours(opens_minute=gap_ends - taken, closes_minute=gap_ends))
            minutes -= taken
        gap_ends = session.opens_minute if session else first
    return found

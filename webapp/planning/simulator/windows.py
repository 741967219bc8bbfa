"""Stretches of shop time that work in one go, or with the helper, must lie within."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.time.shop_calendar import NEVER, Seconds, ShopCalendar


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Windows:
    """Stretches in shop seconds, in order, and where the next long enough one is.

    begins, ends : (k + 1,), the last a stretch that never comes
    lengths : (c,) the distinct lengths, ascending
    next_with : (c, k + 2) the first stretch at or after a place that is at least so long
    """

    begins: Seconds
    ends: Seconds
    lengths: Seconds
    next_with: NDArray[np.int64]

    @classmethod
    def of_sessions(cls, calendar: ShopCalendar) -> "Windows":
        """The merged sessions of the shop."""
        return cls.of(calendar.shop_at_open, calendar.shop_at_close)

    @classmethod
    def of_helper(cls, calendar: ShopCalendar) -> "Windows":
        """The stretches with the helper there."""
        return cls.of(calendar.helper_from, calendar.helper_to)

    @classmethod
    def of(cls, begins: Seconds, ends: Seconds) -> "Windows":
        """Windows from their begins and ends in shop seconds."""
        count = len(begins)
        lengths = np.unique(ends - begins)
        next_with = np.full((len(lengths), count + 2), count, np.int64)
        places = np.arange(count, dtype=np.int64)
        for row, length in enumerate(lengths):
            long_enough = np.where(ends - begins >= length, places, count)
            next_with[row, :count] = np.minimum.accumulate(long_enough[::-1])[::-1]
        never = np.array([NEVER], np.int64)
        return cls(
            begins=np.concatenate([begins, never]),
            ends=np.concatenate([ends, never]),
            lengths=lengths,
            next_with=next_with,
        )

    def place_of(self, begin: Seconds) -> NDArray[np.int64]:
        """In which stretch work lies that `fit` let begin then."""
        return self.ends[:-1].searchsorted(begin, side="right")

    def fit(self, earliest: Seconds, needed: Seconds) -> Seconds:
        """The first moments at or after `earliest` with `needed` seconds of a stretch left.

        Both in shop seconds; `needed` may be broadcast. Work longer than every stretch takes one
        of the longest from its beginning and runs over; where none comes any more, `NEVER`.
        """
        count = len(self.begins) - 1
        if not count:
            return np.full(earliest.shape, NEVER, np.int64)
        needed = np.minimum(needed, self.lengths[-1])
        at = self.ends[:count].searchsorted(earliest, side="right")
        begin = np.maximum(earliest, self.begins[at])
        fits = self.ends[at] - begin >= needed
        if fits.all():
            return begin
        kind = self.lengths.searchsorted(needed)
        later = self.next_with[kind, at + 1]
        # A stretch that only begins after `earliest` was looked at whole: it is too short.
        return np.where(fits, begin, self.begins[later])

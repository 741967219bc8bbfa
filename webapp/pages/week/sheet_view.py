"""What the week sheet holds, ready to be printed."""

from dataclasses import dataclass

from webapp.pages.words.how import How
from webapp.pictures.weeks import WeeksPicture


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursLine:
    """A subsystem or one of its tasks. `address` is "" for a subsystem.

    `printed` is False for what a page of A4 has no room for.
    """

    name: str
    address: str
    estimate: str
    worked: str
    in_all: str
    left: str
    error: str
    printed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SubsystemLines:
    whole: HoursLine
    tasks: tuple[HoursLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WishLine:
    text: str
    said: str
    address: str
    printed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureLine:
    name: str
    value: str
    words: str
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekLine:
    """One week of the record."""

    name: str
    address: str
    promised: str
    worked: str
    earned: str
    current: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """The hours of one week. `lost_days` says on which days, "" where none were lost.

    `nothing` says in one line what there was none of, "" where there was some of everything.

    `weeks` is the whole record, `last_weeks` the last few up to this one; the last come first.
    """

    promised: str
    workable: str
    worked: str
    lost: str
    lost_days: str
    how: How
    nothing: str
    has_errors: bool
    unprinted: str
    subsystems: tuple[SubsystemLines, ...]
    sum: HoursLine
    finished: tuple[HoursLine, ...]
    wishes: tuple[WishLine, ...]
    added: str
    figures: tuple[FigureLine, ...]
    weeks: tuple[WeekLine, ...]
    last_weeks: tuple[WeekLine, ...]
    pictures: tuple[WeeksPicture, ...]

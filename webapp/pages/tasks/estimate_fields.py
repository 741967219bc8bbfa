"""The three hours of an estimate: if all goes well, likely, if it fights you.

The likely hours alone are no certainty: their range is assumed. Certain is what was said three
times, or ticked to be certain.
"""

from dataclasses import dataclass

from webapp.build.assumed_range import COMMON_SHARES, RangeShares
from webapp.build.build_input import Task
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words import amounts as words

WELL, LIKELY, FIGHTS = "if all goes well", "likely", "if it fights you"


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """Hours as they were typed, and whether their range is assumed."""

    hours: ThreePoint
    spread_assumed: bool = False


CERTAIN_HOUR = Estimate(hours=ThreePoint.certain(1.0))
"""Stands in where the likely hours can not be read, so that the other faults are found too."""


ESTIMATE_STEMS = ("well", "likely", "fights", "certain")
"""The fields of an estimate."""


def estimate_shown(shown: Shown, task: Task, suffix: str = "") -> Shown:
    """The fields of a task's estimate: an assumed range leaves its two fields empty."""
    hours = ThreePoint.certain(task.hours.most_likely) if task.spread_assumed else task.hours
    well, likely, fights, certain = (f"{stem}{suffix}" for stem in ESTIMATE_STEMS)
    return shown.points((well, likely, fights), hours).tick(certain, is_certain(task))


def is_certain(task: Task) -> bool:
    """Whether somebody said that the hours are certain."""
    equal = task.hours == ThreePoint.certain(task.hours.most_likely)
    return equal and not task.spread_assumed


def read_estimate(
    form: TypedForm,
    name: str,
    suffix: str = "",
    *,
    shares: RangeShares = COMMON_SHARES,
    stored: Task | None = None,
) -> Estimate:
    """Read `well`, `likely`, `fights` and the tick `certain` (with `suffix`) of the task `name`.

    An empty point takes its share of the likely hours, or what is `stored` while the likely hours
    are those stored: a range once assumed stays until other hours are typed. The range of a
    starter list's guess goes with the guess where other likely hours alone are typed.
    """
    likely = form.hours(f"likely{suffix}", f"{name}, {LIKELY}", needed=True)
    well = form.hours(f"well{suffix}", f"{name}, {WELL}")
    fights = form.hours(f"fights{suffix}", f"{name}, {FIGHTS}")
    if likely is None:
        return CERTAIN_HOUR
    if stored is not None and _outgrows_a_guess(stored, well, likely, fights):
        well = fights = None
    if form.ticked(f"certain{suffix}"):
        if any(point not in (None, likely) for point in (well, fights)):
            form.fault(
                f"certain{suffix}",
                f"{name}: hours that are certain have no range. Untick that they are certain, or "
                f"empty “{WELL}” and “{FIGHTS}”.",
            )
        return Estimate(hours=ThreePoint.certain(likely))
    if likely == 0 and not well and not fights:
        return Estimate(hours=ThreePoint.certain(0.0))
    assumed = shares.round(likely)
    if stored is not None and stored.spread_assumed and stored.hours.most_likely == likely:
        assumed = stored.hours
    return Estimate(
        hours=ThreePoint(
            optimistic=assumed.optimistic if well is None else well,
            most_likely=likely,
            pessimistic=assumed.pessimistic if fights is None else fights,
        ),
        spread_assumed=well is None and fights is None,
    )


def _outgrows_a_guess(
    stored: Task, well: float | None, likely: float, fights: float | None
) -> bool:
    """Whether a starter list's guess got other likely hours, and its range was left as it was."""
    was = stored.hours
    is_left = (well, fights) == (was.optimistic, was.pessimistic)
    return stored.hours_guessed and is_left and likely != was.most_likely


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumedWords:
    """What stands in grey in and below the two empty fields; "" where nothing is assumed."""

    well: str = ""
    fights: str = ""
    why: str = ""


def assumed_words(task: Task, shares: RangeShares) -> AssumedWords:
    """The assumed range of a task as its form shows it."""
    if not task.spread_assumed:
        return AssumedWords()
    return AssumedWords(
        well=f"{words.hours(task.hours.optimistic)} assumed",
        fights=f"{words.hours(task.hours.pessimistic)} assumed",
        why=f"The grey hours are assumed: {where_from(shares)} Type your own over them.",
    )


def where_from(shares: RangeShares) -> str:
    """Where an assumed range comes from, as a sentence."""
    if shares.tasks:
        return (
            f"{shares.low:.2g} to {shares.high:.2g} times the likely hours, as far as your"
            f" {shares.tasks} finished tasks of this kind fell round their middle."
        )
    return (
        f"{shares.low:.2g} to {shares.high:.2g} times the likely hours, common practice, until"
        " eight tasks of this kind are finished."
    )

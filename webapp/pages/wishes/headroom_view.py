"""Headroom on the screen: the dipstick with its sentence, or why there is none."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.circuit_dependencies import as_planned
from webapp.build.precedence import needed_for
from webapp.build.wish import Wish
from webapp.pages.frame.context import PageContext
from webapp.pages.wishes.taken import NOTHING_TAKEN, Taken
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How, dipstick_how
from webapp.pages.words.missing import missing_words
from webapp.pages.words.the_end import capital_end, the_end
from webapp.pictures.dipstick import Dipstick, dipstick
from webapp.planning.chances.headroom import proposed_date

DRIFT = (
    "A build without a date drifts: every idea seems small as long as nothing says what it takes"
    " away. With a date there is headroom, and each wish visibly takes its hours from it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenHours:
    """What an accepted wish or a cause took: its number on the dipstick, its hours."""

    number: int
    text: str
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedDate:
    """A wanted-by date to offer: as a form sends it, and in words."""

    typed: str
    day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadroomView:
    """`dip` is there once the forecast is, where a date is wanted; `sentence` says the same."""

    wanted: str
    dip: Dipstick | None
    sentence: str
    taken: tuple[TakenHours, ...]
    proposed: ProposedDate | None
    drift: str
    working: bool
    how: How | None = None


def headroom_view(page: PageContext, since_baseline: Taken = NOTHING_TAKEN) -> HeadroomView:
    """Headroom as far as it is known now; what causes took of it where that is asked for."""
    build, figures = page.build, page.figures
    wanted = words.day(build.wanted_by, today=page.today) if build.wanted_by else ""
    if figures is None:
        return HeadroomView(
            wanted=wanted,
            dip=None,
            sentence="" if not page.forecast.ready else _no_forecast(page),
            taken=(),
            proposed=None,
            drift="" if build.wanted_by else DRIFT,
            working=not page.forecast.ready,
        )
    if figures.headroom_hours is None:
        day = proposed_date(build, figures.forecast)
        return HeadroomView(
            wanted="",
            dip=None,
            sentence="There is no wanted-by date, so there is no headroom to measure.",
            taken=(),
            proposed=ProposedDate(typed=day.isoformat(), day=words.day(day, today=page.today)),
            drift=DRIFT,
            working=False,
        )
    took = _took(build, since_baseline)
    left, gone = figures.headroom_hours, sum(hours for _, hours in took)
    sentence = _level(left, gone, odds=words.odds(build.confidence), wanted=wanted)
    return HeadroomView(
        wanted=wanted,
        dip=dipstick(left, [hours for _, hours in took], title=f"Headroom: {sentence}"),
        sentence=sentence,
        taken=tuple(
            TakenHours(number=number, text=text, hours=words.tenth_hours(hours))
            for number, (text, hours) in enumerate(took, start=1)
        ),
        proposed=None,
        drift="",
        working=since_baseline.working,
        how=dipstick_how(
            left=max(left, 0.0),
            taken=gone,
            hours_a_day=since_baseline.hours_a_day,
            won=[(one.name, -one.hours) for one in since_baseline.causes if one.hours < 0],
        ),
    )


def _took(build: BuildInput, since_baseline: Taken) -> list[tuple[str, float]]:
    """What took headroom: accepted wishes one by one, then the causes, each with its hours."""
    wishes = [(wish.text, hours) for wish, hours in accepted_hours(build)]
    causes = [(words.sentence(c.name), c.hours) for c in since_baseline.causes if c.hours > 0]
    return wishes + causes


def _level(left: float, gone: float, *, odds: str, wanted: str) -> str:
    """The dipstick in a sentence: what is left of how much, or how much is over."""
    if left <= 0:
        return (
            f"None left: at {odds} the build needs {words.tenth_hours(-left)} more than there are"
            f" up to {wanted}. Let something go, fit it later, find shop hours, or move the date."
        )
    if not gone:
        return f"{words.tenth_hours(left)} left, at {odds}; nothing has taken any."
    return f"{words.tenth_hours(left)} left of {words.tenth_hours(left + gone)}, at {odds}."


def _no_forecast(page: PageContext) -> str:
    """Why nothing can be said of headroom."""
    if page.faults:
        return "Headroom can not be worked out while faults stand in the way of a plan."
    if page.forecast.failed:
        return f"How sure {the_end()} is could not be worked out. The plan itself stands."
    nothing = f"{capital_end()} has no date, so there is no headroom to measure."
    return f"{nothing} {missing_words(page.build)}".rstrip()


def accepted_hours(build: BuildInput) -> tuple[tuple[Wish, float], ...]:
    """Each accepted wish with the expected hours of its tasks before first start, if any.

    The first decided comes first.
    """
    if build.first_start is None or all(t.key != build.first_start for t in build.tasks):
        return ()
    needed = needed_for(as_planned(build), build.first_start)
    hours: dict[str, float] = {}
    for task in build.tasks:
        if task.wish is not None and task.key in needed and task.set_aside_on is None:
            hours[task.wish] = hours.get(task.wish, 0.0) + task.hours.expected
    decided = [(w.decision.decided_on, n, w) for n, w in enumerate(build.wishes) if w.decision]
    in_order = [wish for *_, wish in sorted(decided, key=lambda one: one[:2])]
    return tuple((wish, hours[wish.key]) for wish in in_order if hours.get(wish.key, 0.0) > 0)

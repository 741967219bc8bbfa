"""Headroom on the screen: the dipstick with its sentence, or why there is none."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Wish
from webapp.build.precedence import needed_for
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How, dipstick_how
from webapp.pages.words.missing import missing_words
from webapp.pictures.dipstick import Dipstick, dipstick
from webapp.planning.chances.headroom import proposed_date

DRIFT = (
    "A build without a date drifts: every idea seems small as long as nothing says what it takes"
    " away. With a date there is headroom, and each wish visibly takes its hours from it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenHours:
    """What one accepted wish takes before first start: its number on the dipstick, its hours."""

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


def headroom_view(page: PageContext) -> HeadroomView:
    """Headroom as far as it is known now."""
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
    accepted = accepted_hours(build)
    left, sentence = figures.headroom_hours, ""
    full = max(left, 0.0) + sum(hours for _, hours in accepted)
    odds = words.odds(build.confidence)
    if left > 0:
        sentence = f"{words.tenth_hours(left)} left of {words.tenth_hours(full)}, at {odds}."
        if not accepted:
            sentence = f"{words.tenth_hours(left)} left, at {odds}; no wish has taken any."
    else:
        over = words.tenth_hours(-left)
        sentence = (
            f"None left: at {odds} the build needs {over} more than there are up to {wanted}."
            " Let something go, fit it later, find shop hours, or move the date."
        )
    return HeadroomView(
        wanted=wanted,
        dip=dipstick(left, [hours for _, hours in accepted], title=f"Headroom: {sentence}"),
        sentence=sentence,
        taken=tuple(
            TakenHours(number=number, text=wish.text, hours=words.tenth_hours(hours))
            for number, (wish, hours) in enumerate(accepted, start=1)
        ),
        proposed=None,
        drift="",
        working=False,
        how=dipstick_how(left=max(left, 0.0), taken=full - max(left, 0.0), full=full),
    )


def _no_forecast(page: PageContext) -> str:
    """Why nothing can be said of headroom."""
    if page.faults:
        return "Headroom can not be worked out while faults stand in the way of a plan."
    if page.forecast.failed:
        return "How sure first start is could not be worked out. The plan itself stands."
    nothing = "First start has no date, so there is no headroom to measure."
    return f"{nothing} {missing_words(page.build)}".rstrip()


def accepted_hours(build: BuildInput) -> tuple[tuple[Wish, float], ...]:
    """Each accepted wish with the expected hours of its tasks before first start, if any.

    The first decided comes first.
    """
    if build.first_start is None or all(t.key != build.first_start for t in build.tasks):
        return ()
    needed = needed_for(build, build.first_start)
    hours: dict[str, float] = {}
    for task in build.tasks:
        if task.wish is not None and task.key in needed and task.set_aside_on is None:
            hours[task.wish] = hours.get(task.wish, 0.0) + task.hours.expected
    decided = [(w.decision.decided_on, n, w) for n, w in enumerate(build.wishes) if w.decision]
    in_order = [wish for *_, wish in sorted(decided, key=lambda one: one[:2])]
    return tuple((wish, hours[wish.key]) for wish in in_order if hours.get(wish.key, 0.0) > 0)

"""Tightening on the Path page: what can be asked for, how far it has come, what was found."""

import datetime as dt
import math
from dataclasses import dataclass

from webapp.build.by_key import find_by_key
from webapp.pages.frame.context import PageContext
from webapp.pages.path.best_over_draws import OverDraws, over_draws
from webapp.pages.path.changed_places import Comparison, comparison_of
from webapp.pages.words import amounts as words
from webapp.pages.words.blocks import block_words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import order_how
from webapp.pages.words.moves import gain_words, stands_words
from webapp.pages.words.the_end import capital_end, the_end
from webapp.planning.order.known_date import what_is_missing
from webapp.planning.order.plan import Plan
from webapp.planning.tighten.tighten import Tightened
from webapp.services.tightenings import Found, Run

SECONDS = (10, 30, 120)
USUAL_SECONDS = 30
DAY_SECONDS = 86_400
HOLDS = "If every promised hour is worked and every estimate holds"
LEAST_GAIN_DAYS = 0.1
OUTGROWN_AFTER = dt.timedelta(hours=2)
"""So long what was found holds where nothing but the time has changed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """A run that is on. `facts` are pairs of a name and what it has come to."""

    facts: tuple[tuple[str, str], ...]
    seconds_gone: int
    seconds: int
    ending: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a run found, in words; `blocked` has the things that keep first start out of reach.

    `keep` is offered only where there is something to gain, `compared` likewise; `urged` where
    nothing speaks against it, and no order is better over the draws. `drawn` has the three orders
    side by side, `urges_drawn` where the best over the draws is the one to keep.
    """

    number: int
    verdict: str
    sentences: tuple[str, ...]
    blocked: tuple[str, ...]
    outgrown: str
    keep: bool
    urged: bool
    has_kept: bool
    how: How | None
    compared: Comparison | None
    drawn: OverDraws | None
    urges_drawn: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TightenView:
    """`offered` where there is a first start to tighten; `choices` are seconds and their words."""

    offered: bool
    choices: tuple[tuple[int, str, bool], ...]
    running: Running | None
    outcome: Outcome | None
    failed: bool
    wrong: str


def tighten_view(page: PageContext, run: Run | None, wrong: str = "") -> TightenView:
    """The section of the Path page; `wrong` says what was wrong with what was asked."""
    first = find_by_key(page.build.tasks, page.build.first_start)
    chosen = run.seconds if run is not None else USUAL_SECONDS
    on = run is not None and not run.ended.is_set()
    return TightenView(
        offered=page.plan is not None
        and first is not None
        and first.is_open
        and what_is_missing(page.planned.linked) is None,
        choices=tuple((s, f"{s} seconds", s == chosen) for s in SECONDS),
        running=_running(page, run) if run is not None and on else None,
        outcome=_outcome(page, run, run.found) if run is not None and run.found else None,
        failed=run is not None and run.failed,
        wrong=wrong,
    )


def _running(page: PageContext, run: Run) -> Running:
    gone = run.seconds_gone
    facts = [("Seconds gone", f"{gone} of {run.seconds}")]
    come = run.progress
    if come is not None:
        at, hours = come.first_start_at, come.first_start_shop_hours
        if at is not None and hours is not None:
            moment = f"{words.day(at, today=page.today)} {words.time(at)}"
            facts.append(
                (f"Best {the_end()} found", f"{moment}, in {_up(round(hours * 3600))} shop hours")
            )
        else:
            facts.append((f"Best {the_end()} found", "none yet"))
        if come.bound_shop_hours is not None:
            facts.append(("No order needs less than", f"{_down(come.bound_shop_hours)} shop hours"))
    if run.over_draws is not None:
        gained = run.over_draws.gained_days
        so_far = f"about {words.days(gained)} earlier" if gained >= LEAST_GAIN_DAYS else "none yet"
        facts.append(("Gained over the draws so far", so_far))
    return Running(
        facts=tuple(facts),
        seconds_gone=min(gone, run.seconds),
        seconds=run.seconds,
        ending=run.stop.is_set(),
    )


def _outcome(page: PageContext, run: Run, found: Found) -> Outcome:
    tightened = found.tightened
    outgrown = _outgrown(page, run)
    gained = _gained(found) or _is_earlier(found)
    drawn = over_draws(page, found.orders) if found.orders is not None else None
    urges_drawn = not outgrown and drawn is not None and drawn.is_best
    return Outcome(
        number=run.number,
        verdict=verdict(tightened, today=page.today),
        sentences=tuple(_sentences(page, found)),
        blocked=block_words(run.build, tightened.blocked),
        outgrown=outgrown,
        keep=gained,
        urged=not outgrown and not urges_drawn and _is_earlier(found),
        has_kept=bool(page.build.kept_order),
        how=order_how("This order against the one that holds", found.move) if found.move else None,
        compared=comparison_of(page, run.build, tightened) if gained else None,
        drawn=drawn,
        urges_drawn=urges_drawn,
    )


def _outgrown(page: PageContext, run: Run) -> str:
    """That what was found is for the build as it was, "" where it still holds."""
    made = words.moment(run.build.now, today=page.today)
    if run.version != page.planned.version:
        return (
            f"This is for the build as it was {made}. It has changed since, so nothing here is "
            "proved of the build as it is."
        )
    if abs(page.now - run.build.now) > OUTGROWN_AFTER:
        return f"This is for the build as it stood {made}. Time has gone by since."
    return ""


def verdict(tightened: Tightened, *, today: dt.date) -> str:
    """How near the best possible the order is; never more than was proved."""
    at, bound = tightened.plan.first_start_at, tightened.bound_at
    if at is None:
        no_order = f"No order reaches {the_end()}."
        return no_order if tightened.blocked else f"{capital_end()} has no date."
    if tightened.proved_best:
        return "This is the best possible order."
    if bound is None:
        return "How near the best possible it is, is not known."
    no_order = f"No order brings {the_end()} before {words.day(bound, today=today)}"
    return (
        f"{words.sentence(within(tightened))} of the best possible. {no_order} {words.time(bound)}."
    )


def within(tightened: Tightened) -> str:
    """ "within 3 shop hours", rounded up to a tenth of an hour."""
    plan, bound = tightened.plan, tightened.bound_shop_hours
    if plan.first_start_shop_hours is not None and bound is not None:
        gap = round((plan.first_start_shop_hours - bound) * 3600)
        if gap > 0:
            return f"within {_up(gap)} shop hours"
    # Shop hours stand still while the shop is closed and work goes on outside.
    assert plan.first_start_at is not None
    assert tightened.bound_at is not None
    minutes = (plan.first_start_at - tightened.bound_at).total_seconds() / 60
    return f"within {_up((minutes + 1) * 60)} hours by the clock"


def _up(seconds: float) -> str:
    """Hours to a tenth, never fewer than there are."""
    return words.number(math.ceil(seconds / 360) / 10, 1)


def _down(hours: float) -> str:
    """Hours to a tenth, never more than there are."""
    return words.number(math.floor(round(hours * 3600) / 360) / 10, 1)


def _gained(found: Found) -> bool:
    """Whether the order brings first start earlier than the order that holds."""
    at = found.tightened.plan.first_start_at
    holds = found.kept_at or found.tightened.house_rules.first_start_at
    return at is not None and (holds is None or at < holds)


def _sentences(page: PageContext, found: Found) -> list[str]:
    tightened = found.tightened
    plan, house = tightened.plan, tightened.house_rules
    at = plan.first_start_at
    if at is None:
        if tightened.blocked:
            return ["These things together make it so:"]
        return [
            "No order that reaches it was found in this time; that there is none is not proved."
        ]
    said = []
    if found.kept_at is not None and not _gained(found):
        said.append("No gain: no order earlier than the kept one was found.")
    elif found.kept_at is not None:
        said.append(f"{capital_end()} is {_earlier(at, found.kept_at)} than in the kept order.")
    elif not _gained(found):
        said.append("No gain: no order earlier than that of the house rules was found.")
    said.append(f"{HOLDS}: {house_rules_cost(plan, house, today=page.today)}")
    said.extend(_move_sentences(page, found))
    return said


def house_rules_cost(plan: Plan, house: Plan, *, today: dt.date) -> str:
    """How many days the house rules cost against an order."""
    at, by_house = plan.first_start_at, house.first_start_at
    assert at is not None
    day = f"{words.day(at, today=today)} {words.time(at)}"
    if by_house is None:
        return f"{the_end()} is {day}; by the house rules it has no date."
    if by_house == at:
        return f"{the_end()} is {day}, the same as by the house rules: they cost nothing."
    if by_house < at:
        return f"{the_end()} is {day}; the house rules would be {_earlier(by_house, at)}."
    by_rules = f"{words.day(by_house, today=today)} {words.time(by_house)}"
    cost = words.days((by_house - at).total_seconds() / DAY_SECONDS)
    hours = ""
    if house.first_start_shop_hours is not None and plan.first_start_shop_hours is not None:
        apart = house.first_start_shop_hours - plan.first_start_shop_hours
        hours = f" ({words.number(apart, 1)} shop hours)"
    if cost.startswith("0 "):
        cost = f"{words.number((by_house - at).total_seconds() / 3600)} hours"
    return (
        f"{the_end()} is {day}, by the house rules {by_rules}: they cost {cost} against it{hours}."
    )


def _earlier(early: dt.datetime, late: dt.datetime) -> str:
    """ "2.5 days earlier", in hours where it is less than a tenth of a day."""
    seconds = (late - early).total_seconds()
    if seconds < DAY_SECONDS / 10:
        return f"{words.number(seconds / 3600)} hours earlier"
    return f"{words.days(seconds / DAY_SECONDS)} earlier"


def _is_earlier(found: Found) -> bool:
    """Whether keeping the order brings first start earlier, all uncertain hours counted."""
    return found.move is not None and found.move.days < 0


def _move_sentences(page: PageContext, found: Found) -> list[str]:
    """What keeping it does to the date that is shown."""
    if found.move is None or found.likely_at is None:
        return []
    stands = stands_words(found.likely_at, found.firm_at, today=page.today)
    if words.number(abs(found.move.days), 1) == "0":
        return [f"All uncertain hours counted, keeping it gains nothing: {stands}."]
    days = gain_words(found.move.days, found.move.error_days)
    if _is_earlier(found):
        return [
            f"All uncertain hours counted, keeping it brings {the_end()} {days} earlier: {stands}."
        ]
    return [
        f"All uncertain hours counted, keeping it would make {the_end()} {days} later: {stands}."
        " An order made for certain hours bends less when work takes longer."
    ]

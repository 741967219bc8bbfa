"""What the page of fill day shows: what to pour, circuit by circuit, and what it waits for."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from webapp.build.build_input import Part
from webapp.build.data_sheet import FIGURES
from webapp.build.due_days import due_of
from webapp.build.moments import date_of
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words import amounts as words
from webapp.pages.words import coolant as mixing
from webapp.pages.words import sizes
from webapp.pages.words.how import How, together
from webapp.pages.words.parts import assumed
from webapp.plumbing.coolant import CoolantFill, NoMixture
from webapp.plumbing.coolant_to_buy import LEAST_LITRES
from webapp.sizing.answers import Missing
from webapp.sizing.fill_day import Fill, fill_day

LEDE = (
    "Everything that is poured in, by circuit, and what it waits for. Volumes are about: the block"
    " holds what it holds, so measure as you fill and write it down."
)
NOT_DRAWN = (
    "What no circuit is drawn for (gearbox, axles, clutch, brakes, washer) is not on this list."
)
FIRST_FUEL = (
    "Fresh, and the right one. How much goes in at first is yours: enough over the pick-up, no"
    " more than you would drain again."
)
FULL, DRAIN = "Full", "Drain first"
NO_VOLUME = "nobody said how much it holds"


@dataclass(frozen=True, slots=True, kw_only=True)
class Waited:
    """One thing that a fill waits for: a part with its day, or a task with its planned moment."""

    name: str
    address: str
    told: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FillLine:
    """One circuit: what to buy and pour, and what it waits for.

    `asks` are the fields where what is missing is typed.
    """

    circuit: Named
    pours: tuple[tuple[str, str], ...]
    told: tuple[str, ...]
    asks: tuple[Named, ...]
    parts: tuple[Waited, ...]
    tasks: tuple[Waited, ...]
    from_day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FillDayView:
    """The page; `from_day` is the first day on which all of it can be here, `buys` the list of
    fluids: what, for which circuit, how much."""

    lines: tuple[FillLine, ...]
    buys: tuple[tuple[str, str, str], ...]
    others: tuple[str, ...]
    from_day: str
    cautions: tuple[str, ...]
    how: How | None


def fill_day_view(page: PageContext, seen: Seen) -> FillDayView:
    """Every circuit of a liquid in its order."""
    day = fill_day(seen.build, seen.plumbed)
    lines = tuple(_line(page, seen, fill) for fill in day.fills)
    hows = [
        mixing.coolant_how(fill.coolant)
        for fill in day.fills
        if isinstance(fill.coolant, CoolantFill)
    ]
    return FillDayView(
        lines=lines,
        buys=tuple(
            (name, line.circuit.name, amount)
            for line in lines
            for name, amount in line.pours
            if name not in (FULL, DRAIN)
        ),
        others=tuple(
            f"{circuit.name}: filled by {left.who}. {left.caution}" for circuit, left in day.others
        ),
        from_day=_from_day(page.today, [part for fill in day.fills for part in fill.parts]),
        cautions=mixing.cautions(None) if hows else (),
        how=together("the mixture", *hows) if hows else None,
    )


def _line(page: PageContext, seen: Seen, fill: Fill) -> FillLine:
    circuit = fill.circuit
    named = Named(name=circuit.name, address=addresses.circuit(page.slug, circuit.key))
    return FillLine(
        circuit=named,
        pours=tuple(_pours(fill)),
        told=tuple(_told(seen, fill)),
        asks=tuple(_asks(page.slug, fill)),
        parts=tuple(_part(page, part) for part in fill.parts),
        tasks=tuple(_tasks(page, seen, fill)),
        from_day=_from_day(page.today, fill.parts),
    )


def _pours(fill: Fill) -> Iterator[tuple[str, str]]:
    holds = f"about {sizes.litres(fill.litres)}" if fill.litres else NO_VOLUME
    if isinstance(fill.coolant, CoolantFill):
        if fill.coolant.drained_litres >= LEAST_LITRES:
            yield DRAIN, sizes.litres(fill.coolant.drained_litres)
        yield "Concentrate", sizes.litres(fill.coolant.concentrate_litres)
        yield "Soft water", sizes.litres(fill.coolant.water_litres)
        yield FULL, holds
    elif fill.circuit.medium == "fuel":
        yield fill.fuel.capitalize() or "Fuel", f"full {holds}" if fill.litres else holds
    else:
        yield {"oil": "Oil of the right grade", "water": FULL}[fill.circuit.medium], holds


def _told(seen: Seen, fill: Fill) -> Iterator[str]:
    if isinstance(fill.coolant, CoolantFill):
        yield mixing.mixture_said(fill.coolant.mixture)
    elif isinstance(fill.coolant, NoMixture):
        yield mixing.NO_MIXTURE[fill.coolant.why]
    elif isinstance(fill.coolant, Missing):
        yield "How strong it is mixed, and for which frost, nobody typed yet."
    if fill.circuit.medium == "fuel":
        yield FIRST_FUEL
    if fill.is_typed:
        yield "The volume is the one that was typed, for the drawing has holes."
    elif fill.without:
        yield mixing.without(tuple(seen.name_of(key) for key in fill.without))
    if not fill.is_closed:
        yield "The circuit is open: nothing goes in before it is closed and tested."


def _asks(slug: str, fill: Fill) -> Iterator[Named]:
    if fill.coolant is not None:
        address = addresses.coolant(slug, fill.circuit.key)
        yield Named(name="Coolant for a frost", address=address)
    if isinstance(fill.coolant, Missing):
        for name in fill.coolant.figures:
            yield Named(
                name=f"Type the {FIGURES[name].words}", address=addresses.figure(slug, name)
            )


def _part(page: PageContext, part: Part) -> Waited:
    due = due_of(part, page.today)
    if due is None:
        told = "no day is known"
    else:
        told = words.day(date_of(due.on), today=page.today)
        why = assumed(part, due, page.today)
        told += f" ({why})" if why else ""
    return Waited(name=part.name, address=addresses.part(page.slug, part.key), told=told)


def _tasks(page: PageContext, seen: Seen, fill: Fill) -> Iterator[Waited]:
    begins = {one.key: one.begins for one in page.plan.tasks} if page.plan else {}
    finished = {task.key for task in seen.build.tasks if task.finished_on is not None}
    for key in fill.holds:
        if key in finished or key not in seen.tasks:
            continue
        at = begins.get(key)
        told = "not planned" if at is None else f"planned {words.day(at, today=page.today)}"
        yield Waited(name=seen.tasks[key].name, address=seen.tasks[key].address, told=told)


def _from_day(today: dt.date, parts: Sequence[Part]) -> str:
    """The first day on which the last of these parts is reckoned with; "" where one has no day."""
    days = [due_of(part, today) for part in parts]
    known = [date_of(one.on) for one in days if one is not None]
    if len(known) < len(days):
        return "no day yet: a part has none"
    return words.day(max(known), today=today) if known else ""

"""The buy list as parts: one a circuit, with what it brings; kept in step with what is drawn.

A part that was made so is known by its key. As long as nobody ordered it, it follows what lacks;
what was ordered stays as it was ordered, and what lacks beyond that comes with another part.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Part
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited
from webapp.build.plumbing import Ordered, Run
from webapp.build.verbs.plumbing_edits import checked_edit, refused
from webapp.build.verbs.wish_tasks import fresh_key
from webapp.plumbing.lacking import Lacking, add_need
from webapp.plumbing.named_things import is_clamp, is_seal
from webapp.plumbing.needs import MM_IN_A_METRE, Need

SOLD_BY_MM = 100.0
"""Lengths are bought in whole steps of this: common practice."""
USUAL_LEAD_DAYS = 7.0
"""Until what is bought comes, where no part of the build says how long that takes: assumed, no
source."""
BUY, POUR = "buy-", "pour-"
"""What the keys of parts begin with that are made of a buy list, and of what is poured in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What a circuit lacks beyond what is ordered: as a part would bring it, and its tasks."""

    circuit: str
    lines: tuple[Ordered, ...]
    serves: tuple[str, ...]
    made: str = BUY
    name: str = "pieces, clamps and seals"


@dataclass(frozen=True, slots=True, kw_only=True)
class OverOrdered:
    """More of a thing than lacks is on its way: count or mm, of which so much is wanted."""

    what: str
    ordered: float
    wanted: float
    is_length: bool


def usual_lead_days(build: BuildInput) -> float | None:
    """What parts of this build take, the middle one of them; None where none says."""
    known = sorted(part.lead_days for part in build.parts if part.lead_days is not None)
    return known[len(known) // 2] if known else None


def put_into_parts(build: BuildInput, *, lead_days: float) -> Edited[tuple[str, ...]]:
    """With parts for all that lacks and is not ordered, and the keys of those that differ by it.

    Nothing is changed where they say so already: a second press adds nothing.
    """
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, (), *standing)
    return parts_edit(build, with_wanted(build, wanted_parts(Lacking(build)), lead_days=lead_days))


def with_wanted(build: BuildInput, wanted: Iterable[Wanted], *, lead_days: float) -> BuildInput:
    """With parts that bring all that is wanted."""
    for one in wanted:
        build = with_part(build, one, lead_days=lead_days, serves=one.serves)
    return in_order(build)


def parts_edit(build: BuildInput, after: BuildInput) -> Edited[tuple[str, ...]]:
    """The edit from one to the other; made are the keys of the parts that differ by it."""
    return checked_edit(build, after, differing_parts(build, after))


def differing_parts(build: BuildInput, after: BuildInput) -> tuple[str, ...]:
    """The keys of the parts that are not the same in both, or do not bring the same."""
    was = {part.key: (part, lines_of(build, part.key)) for part in build.parts}
    now = {part.key: (part, lines_of(after, part.key)) for part in after.parts}
    keys = (key for key in (*was, *now) if was.get(key) != now.get(key))
    return tuple(dict.fromkeys(keys))


def with_parts_in_step(before: BuildInput, lacking: Lacking) -> BuildInput:
    """With the parts that are not ordered yet following what a change made of what lacks.

    No part is made by it. Tasks that need a part by the change are served by it; those that its
    person took out of it stay out. What lacked before is asked for only where there are such.
    """
    after = followed = lacking.build
    served: dict[str, tuple[str, ...]] | None = None
    for wanted in wanted_parts(lacking):
        part = loose_part_of(after, wanted.circuit)
        if part is None:
            continue
        serves = tuple(key for key in wanted.serves if key not in part.serves)
        if serves:
            served = _served_by_circuit(before) if served is None else served
            serves = tuple(key for key in serves if key not in served.get(wanted.circuit, ()))
        followed = with_part(followed, wanted, lead_days=0.0, serves=serves)
    return after if followed == after else in_order(followed)


def _served_by_circuit(build: BuildInput) -> dict[str, tuple[str, ...]]:
    return {one.circuit: one.serves for one in wanted_parts(Lacking(build))}


def wanted_parts(lacking: Lacking) -> tuple[Wanted, ...]:
    """What each circuit lacks beyond what is ordered, in their order.

    A circuit that has a part which is not ordered yet stands here too where it lacks nothing.
    """
    build, found = lacking.build, []
    fixed = _on_their_way(build)
    for circuit in build.plumbing.circuits:
        needs = lacking.by_circuit[circuit.key]
        lines = tuple(
            line for what in sorted(needs) if (line := _line(what, needs[what], fixed)) is not None
        )
        if lines or loose_part_of(build, circuit.key) is not None:
            named = {line.what for line in lines}
            runs = lacking.drawing.runs_by_circuit[circuit.key]
            serves = dict.fromkeys(key for run in runs for key in _served(lacking, run, named))
            found.append(Wanted(circuit=circuit.key, lines=lines, serves=tuple(serves)))
    return tuple(found)


def over_ordered(lacking: Lacking) -> tuple[OverOrdered, ...]:
    """Things of which more was ordered than lacks by now, lengths by a step or more.

    What was ordered by itself, for no part of the buy list, counts as well.
    """
    build, lacks = lacking.build, dict[str, Need]()
    for needs in lacking.by_circuit.values():
        for need in needs.values():
            add_need(lacks, need)
    on_order: dict[str, tuple[float, bool]] = {}
    for line in build.plumbing.ordered:
        part = find_by_key(build.parts, line.part)
        is_poured = line.litres is not None
        if part is not None and not (part.arrived or is_loose(part) or is_poured):
            amount = _amount(line) + on_order.get(line.what, (0.0, False))[0]
            on_order[line.what] = amount, line.metres is not None
    over = []
    for what, (ordered, is_length) in sorted(on_order.items()):
        need = lacks.get(what, Need(what=what))
        wanted = need.length_mm if is_length else float(need.count)
        if ordered - wanted >= (SOLD_BY_MM if is_length else 1):
            one = OverOrdered(what=what, ordered=ordered, wanted=wanted, is_length=is_length)
            over.append(one)
    return tuple(over)


def loose_part_of(build: BuildInput, circuit: str, made: str = BUY) -> Part | None:
    """The part that was made of what a circuit lacks and that nobody ordered yet."""
    return next((part for part in parts_made(build, circuit, made) if is_loose(part)), None)


def parts_made(build: BuildInput, circuit: str, made: str) -> Iterator[Part]:
    """The parts that were made of what a circuit lacks, ordered or not."""
    own = f"{made}{circuit}"
    others = {f"{made}{one.key}" for one in build.plumbing.circuits} - {own}
    for part in build.parts:
        number = part.key.removeprefix(f"{own}-")
        is_its = part.key == own or (number != part.key and number.isdecimal())
        if is_its and part.key not in others:
            yield part


def is_loose(part: Part) -> bool:
    """Whether it was made of what lacks and follows it: not ordered, no day promised."""
    is_open = not part.arrived and part.ordered_on is None and part.promised_on is None
    return is_open and part.arrives_on is None and part.key.startswith((BUY, POUR))


# --- what lacks ----------------------------------------------------------------------------------


def _on_their_way(build: BuildInput) -> dict[str, float]:
    """By thing how much parts bring that do not follow: count, or mm.

    What came and was not put on the shelf yet is among it, for it will lie there.
    """
    found: dict[str, float] = {}
    for line in build.plumbing.ordered:
        part = find_by_key(build.parts, line.part)
        if part is not None and not is_loose(part):
            found[line.what] = found.get(line.what, 0.0) + _amount(line)
    return found


def _amount(line: Ordered) -> float:
    return float(line.count or 0) + (line.metres or 0.0) * MM_IN_A_METRE


def _line(what: str, need: Need, fixed: dict[str, float]) -> Ordered | None:
    """What is to be bought of a thing beyond `fixed`, which is used up; None where it is enough."""
    wanted = need.length_mm or float(need.count)
    there = min(fixed.get(what, 0.0), wanted)
    fixed[what] = fixed.get(what, 0.0) - there
    rest = wanted - there
    if not need.length_mm:
        return Ordered(part="", what=what, count=round(rest)) if rest else None
    if rest <= _kerf_slack_mm(there):
        return None
    steps = math.ceil(round(rest / SOLD_BY_MM, 6))
    return Ordered(part="", what=what, metres=round(steps * SOLD_BY_MM / MM_IN_A_METRE, 3))


def _kerf_slack_mm(there: float) -> float:
    """So little beyond what is ordered is the cuts alone: nothing is ordered for that."""
    return SOLD_BY_MM / 10 if there else 0.0


def _served(lacking: Lacking, run: Run, named: set[str]) -> Iterator[str]:
    """The open tasks of a run that wait for what it lacks: clamps and seals hold the last alone."""
    of_build = lacking.build.tasks
    tasks = [key for key in run.tasks if (task := find_by_key(of_build, key)) and task.is_open]
    lacks = [need.what for need in lacking.given.run_needs[run.key] if need.what in named]
    if any(not is_clamp(what) and not is_seal(what) for what in lacks):
        yield from tasks
    elif lacks:
        yield from tasks[-1:]


# --- parts ---------------------------------------------------------------------------------------


def with_part(
    build: BuildInput, wanted: Wanted, *, lead_days: float, serves: tuple[str, ...]
) -> BuildInput:
    """With the part of a circuit bringing what is wanted; one that would bring nothing goes.

    One that has a supplier or a cost, which somebody typed, stays and brings nothing.
    """
    part = loose_part_of(build, wanted.circuit, wanted.made)
    if part is None:
        circuit = find_by_key(build.plumbing.circuits, wanted.circuit)
        assert circuit is not None
        part = Part(
            key=fresh_key(f"{wanted.made}{wanted.circuit}", {one.key for one in build.parts}),
            name=f"{circuit.name}: {wanted.name}",
            lead_days=lead_days,
        )
        build = replace(build, parts=(*build.parts, part))
    others = tuple(one for one in build.plumbing.ordered if one.part != part.key)
    lines = tuple(replace(line, part=part.key) for line in wanted.lines)
    plumbing = replace(build.plumbing, ordered=(*others, *lines))
    if not lines and part.cost is None and not part.supplier:
        left = tuple(one for one in build.parts if one.key != part.key)
        return replace(build, parts=left, plumbing=plumbing)
    both = tuple(dict.fromkeys((*part.serves, *serves)))
    parts = replaced_by_key(build.parts, replace(part, serves=both))
    return replace(build, parts=parts, plumbing=plumbing)


def lines_of(build: BuildInput, key: str) -> tuple[Ordered, ...]:
    return tuple(line for line in build.plumbing.ordered if line.part == key)


def in_order(build: BuildInput) -> BuildInput:
    """What parts bring, in the order of the parts."""
    place = {part.key: number for number, part in enumerate(build.parts)}
    ordered = sorted(build.plumbing.ordered, key=lambda line: place.get(line.part, len(place)))
    return replace(build, plumbing=replace(build.plumbing, ordered=tuple(ordered)))

"""Each open thing as a line: its place, what is wrong, what it needs."""

from dataclasses import dataclass

from webapp.build.by_key import find_by_key
from webapp.build.due_days import due_of
from webapp.build.plumbing import Port
from webapp.pages import addresses
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.plumbing.work_forms import (
    Press,
    cover_press,
    mend_press,
    next_press,
    port_press,
)
from webapp.pages.words import amounts as words
from webapp.pages.words import plumbing_open as said
from webapp.pages.words import sizes
from webapp.plumbing.ends import is_measured, joining_of
from webapp.plumbing.names import stop_name
from webapp.plumbing.needs import Need
from webapp.plumbing.open_list import Open, OpenWord, counted_once
from webapp.plumbing.shelf import is_cap_missing


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLine:
    """One open thing. `place` may begin a sentence after "open at"; `mark` is its number.

    `address` is where it is told at length or mended, "" where this is the place; `press` says
    that it is done, for a port where `of_port`; `to_task` is where a task is made of what has none;
    `to_size` is where its size is typed.
    """

    mark: str
    place: str
    says: str
    needs: str
    address: str
    tasks: tuple[Named, ...]
    press: Press | None = None
    of_port: bool = False
    to_task: str = ""
    to_size: str = ""


HOLDS_OFFERED = 3
"""Before so many of what a circuit holds an offered task is put."""
CAN_BE_DONE: frozenset[OpenWord] = frozenset(("to make", "not fitted", "not clamped"))
"""Where a run is told to be done without looking at it first: nothing of it is wrong."""


def open_line(seen: Seen, one: Open) -> OpenLine:
    """One open thing in words."""
    match one.kind:
        case "port":
            return _port_line(seen, one)
        case "component":
            return _component_line(seen, one)
        case "run":
            return _run_line(seen, one)
        case "circuit":
            return OpenLine(
                mark="",
                place="the whole circuit",
                says=said.OF_THE_WHOLE[one.why].rstrip("."),
                needs="",
                address="",
                tasks=(),
            )


def open_lines(seen: Seen, circuit: str) -> tuple[OpenLine, ...]:
    """All that is open in a circuit, in flow order."""
    opens = counted_once(seen.circuits[circuit].open)
    return tuple(open_line(seen, one) for one in opens)


def _to_task(seen: Seen, one: Open) -> str:
    """Where a task is made of an open port without one, before what its circuit holds."""
    do = said.DO.get(one.why)
    if one.tasks or do is None or one.what in seen.drawing.run_at:
        return ""
    waits = seen.held_by.get(seen.drawing.ports[one.what].circuit or "", ())
    before = [task.name for task in waits if task.key != seen.build.first_start]
    return addresses.new_task(
        seen.slug, f"{do}: {seen.port_name(one.what)}", "; ".join(before[:HOLDS_OFFERED])
    )


def _port_line(seen: Seen, one: Open) -> OpenLine:
    placed = seen.drawing.ports[one.what]
    needs = ""
    if is_cap_missing(seen.drawing, placed) and one.why == "cap missing":
        end = joining_of(placed.port).end
        if one.needs or is_measured(end):
            cap = Need(what=stop_name(end), count=1)
            needs = said.needs_said(() if one.needs else (cap,), one.needs)
    run = seen.drawing.run_at.get(one.what)
    address = addresses.port(seen.slug, one.what)
    return OpenLine(
        mark="" if run is None else str(seen.numbers[run.key]),
        place=seen.place(one.what),
        says=said.of_port(one.why, placed.port.stop),
        needs=needs,
        address=address,
        tasks=tuple(seen.tasks[key] for key in one.tasks),
        press=_press(one, placed.port),
        of_port=True,
        to_task=_to_task(seen, one),
        to_size=address if one.why == "not measured" else "",
    )


def _press(one: Open, port: Port) -> Press | None:
    match one.why:
        case "not measured":
            return None
        case "cover still on":
            return cover_press(one.what)
        case _:
            return port_press(one.what, port)


def _component_line(seen: Seen, one: Open) -> OpenLine:
    part = find_by_key(seen.build.parts, one.part or "")
    needs, address = "", ""
    if part is not None:
        address = addresses.part(seen.slug, part.key)
        due = due_of(part, seen.today)
        when = "no day is known" if due is None else words.day(due.on, today=seen.today)
        needs = f"Waits for the part “{part.name}”: {when}."
    return OpenLine(
        mark="",
        place=seen.components[one.what].name,
        says=said.of_component(one.why),
        needs=needs,
        address=address,
        tasks=(),
    )


def _run_line(seen: Seen, one: Open) -> OpenLine:
    run = seen.runs[one.what]
    name = seen.run_name(one.what)
    place, says, needs = seen.place(seen.upstream(run)), said.of_run(one.why, name=name), ""
    press = next_press(run) if one.why in CAN_BE_DONE else None
    if one.why == "does not fit" and one.ends is not None:
        place = f"{name}, joint {one.joint}"
        joint = run.joints[(one.joint or 1) - 1]
        ends = words.listed([sizes.joined_end(side) for side in (joint.left, joint.right)])
        says = f"{ends} do not fit"
        if one.alike:
            says += f". {said.ALIKE_LEAD}: {one.alike}"
        elif why := said.why_no_fit(joint.left.end.kind, joint.right.end.kind):
            says += f": {why}"
        needs = "" if one.mend is None else said.mend_said(one.mend)
        press = None if one.mend is None else mend_press(one.mend)
    elif one.why not in ("against the flow", "goes nowhere"):
        needs = said.needs_said(run.from_shelf, run.needs)
    return OpenLine(
        mark=str(seen.numbers[one.what]),
        place=place,
        says=says,
        needs=needs,
        address=addresses.run(seen.slug, one.what),
        tasks=tuple(seen.tasks[key] for key in one.tasks),
        press=press,
        to_task="" if one.tasks else addresses.tasks_of_run(seen.slug, one.what),
    )

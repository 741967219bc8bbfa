"""What the report of a build says. Its days have their year: it is read years later."""

import datetime as dt
from collections.abc import Iterable

from webapp.build.build_input import Part, Photograph, Task
from webapp.build.first_start import EngineRun, Signature
from webapp.first_start.standing import CheckStanding
from webapp.pages.words import amounts
from webapp.pages.words.start_page import reading_words, state_words
from webapp.pages.words.the_end import capital_end
from webapp.plumbing.plumbed import PlumbedCircuit

BEGUN = "Begun"
WORK = "Work"
HOURS = "Hours"
NO_SUBSYSTEM = "Other work"
EVERY_YEAR = dt.date.min
"""Held against this day, every date tells its year."""


def day(on: dt.date) -> str:
    """A day with its year: "Thu 3 June 2027"."""
    return amounts.day(on, today=EVERY_YEAR)


def moment(at: dt.datetime) -> str:
    """A day with its year and its time."""
    return f"{day(at)} {at:%H:%M}"


def the_end_is(task: Task | None) -> tuple[str, str]:
    """When first start was, or that it is still to come."""
    if task is None or task.finished_on is None:
        return capital_end(), "not yet"
    return capital_end(), day(task.finished_on)


def finished(done: int, still: int) -> str:
    """How many tasks are finished, and how many are still to do."""
    said = f"{amounts.count(done, 'task')} finished"
    return f"{said}, {still} still to do" if still else f"{said}, none still to do"


def worked(hours: float, days: int) -> str:
    """The hours that were written down."""
    return f"{amounts.worked(hours)} in the shop, written down on {amounts.count(days, 'day')}"


def task_state(task: Task) -> str:
    """Whether a task is finished, and since when."""
    if task.finished_on is not None:
        return f"finished {day(task.finished_on)}"
    return "begun, not finished" if task.begun_on is not None else "still to do"


def part_state(part: Part) -> str:
    """Whether a part is here."""
    if part.arrived:
        return f"here since {day(part.arrives_on)}" if part.arrives_on is not None else "here"
    return "ordered, not here" if part.ordered_on is not None else "not here"


def cost(parts: Iterable[Part]) -> str:
    """What all parts cost that say it."""
    listed = list(parts)
    known = [part.cost for part in listed if part.cost is not None]
    without = len(listed) - len(known)
    said = f"{amounts.number(sum(known))} for {amounts.count(len(known), 'part')}"
    if without:
        said += f"; of {amounts.count(without, 'part')} no cost was written down"
    return f"{said}."


def circuit_state(one: PlumbedCircuit) -> str:
    """Whether a circuit is closed and tested, as it was written down."""
    if not one.is_closed:
        return f"{amounts.count(len(one.open), 'thing is', 'things are')} open."
    if one.is_tested and one.circuit.tested_on is not None:
        return f"Closed, tested {day(one.circuit.tested_on)}."
    return "Closed: nothing is known to be open."


def check_state(one: CheckStanding, *, names: bool) -> str:
    """What became of a check, with its readings; with the names of people only where asked."""
    if one.set_aside is not None and one.state == "set aside":
        by = f" by {one.set_aside.name}" if names else ""
        return f"set aside{by}, {moment(one.set_aside.at)}: {one.set_aside.reason}"
    if one.signature is not None and one.state in ("stands", "figures missing", "spent"):
        return _signed(one.signature, names=names)
    return state_words(one, today=EVERY_YEAR)


def _signed(signature: Signature, *, names: bool) -> str:
    said = f"signed by {signature.signer}" if names else "signed"
    said = f"{said}, {moment(signature.at)}"
    if names and signature.helper:
        said += f", with {signature.helper}"
    paper = signature.paper
    if paper is not None:
        who = f"{paper.name}, {paper.firm}" if names else paper.firm
        said += f"; paper seen: {who}, no. {paper.number}, {day(paper.on)}"
    if signature.readings:
        said += f"; {', '.join(map(reading_words, signature.readings))}"
    if names and signature.seen:
        said += f"; seen: {signature.seen}"
    return said


def engine_run(run: EngineRun) -> str:
    """A run of the engine that fired."""
    if run.fired_at is None:
        return ""
    said = moment(run.fired_at)
    if run.ended_at is not None:
        minutes = (run.ended_at - run.fired_at).total_seconds() / 60
        said += f", {amounts.number(minutes, 1)} min"
    return f"{said}, stopped by an abort" if run.ending == "aborted" else said


def caption(one: Photograph) -> str:
    """What stands below a photograph."""
    return f"{one.caption}, {day(one.added_on)}" if one.caption else day(one.added_on)

"""What a change of a build opens: work begun, logged or gone, pipes and parts changed.

Worked out from the build before and after, whatever made the change: a form, a wish decided,
taking a change back. So nothing that opens a circuit can be forgotten by whoever adds a verb.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.first_start import EngineRun, FirstStart, OpenedHow, Opening, Signature
from webapp.build.folded_name import folded_name
from webapp.build.plumbing import Circuit, Component, Run, component_at
from webapp.build.start_answers import start_answers

NEW_FOR_SECONDS = 60.0
"""A signature that comes into a build is made in this moment; an older one is put back."""


def with_openings(before: BuildInput, after: BuildInput, *, at: dt.datetime) -> BuildInput:
    """The build after a change with what the change opened, at the moment `at`.

    What was opened, cranked, stopped or taken back before stays, and no signature comes back,
    even where the change takes another one back.
    """
    kept = _kept_facts(before.start, after.start, at)
    if before.start.signatures or before.start.set_asides:
        new = {one.what: one for one in _opened(before, after, at)}
        left = tuple(one for one in kept.openings if not _is_renewed(one, new))
        kept = replace(kept, openings=(*left, *new.values())) if new else kept
    return after if kept == after.start else replace(after, start=kept)


def as_copied(build: BuildInput, *, at: dt.datetime) -> BuildInput:
    """A build that was read from a document: nobody knows what was opened since it was written.

    What was signed for the day is asked anew, the question what was opened among it.
    """
    if not build.start.signatures:
        return build
    copied = Opening(what="build:copied", name=build.name, how="copied", at=at)
    kept = tuple(one for one in build.start.openings if one.what != copied.what)
    return replace(build, start=replace(build.start, openings=(*kept, copied)))


def _is_renewed(old: Opening, new: dict[str, Opening]) -> bool:
    """Whether the same thing was opened again, and no reach of the old opening is lost."""
    again = new.get(old.what)
    if again is None or again.at < old.at:
        return False
    return set(old.reaches) <= set(again.reaches)


def _kept_facts(before: FirstStart, after: FirstStart, at: dt.datetime) -> FirstStart:
    if before is after:
        return after
    there = set(after.openings)
    renewed = {one.what: one for one in sorted(after.openings, key=lambda one: one.at)}
    openings = tuple(
        one for one in before.openings if one not in there and not _is_renewed(one, renewed)
    )
    runs = {run.key: run for run in after.runs}
    return replace(
        after,
        openings=(*openings, *after.openings),
        runs=(
            *(_kept_run(run, runs.get(run.key)) for run in before.runs),
            *(run for run in after.runs if all(run.key != one.key for one in before.runs)),
        ),
        signatures=tuple(_kept_signatures(before, after, at)),
    )


def _kept_run(was: EngineRun, now: EngineRun | None) -> EngineRun:
    """A run as it is now; when it was cranked and stopped, and why, is not unsaid.

    That it ran is: first start is then open again.
    """
    if now is None:
        return was
    return replace(
        now,
        begun_at=was.begun_at,
        fired_at=was.fired_at or now.fired_at,
        ended_at=was.ended_at or now.ended_at,
        ending=was.ending or now.ending,
        abort=was.abort or now.abort,
        cause=was.cause or now.cause,
        cause_at=was.cause_at or now.cause_at,
    )


def _kept_signatures(before: FirstStart, after: FirstStart, at: dt.datetime) -> Iterator[Signature]:
    known = {one.key: one for one in before.signatures}
    for one in after.signatures:
        was = known.get(one.key)
        if was is not None:
            yield replace(one, taken_back_at=was.taken_back_at or one.taken_back_at)
        elif (at - one.at).total_seconds() <= NEW_FOR_SECONDS:
            yield one


def _opened(before: BuildInput, after: BuildInput, at: dt.datetime) -> Iterator[Opening]:
    if before.tasks != after.tasks or before.log != after.log or _clock(before) != _clock(after):
        yield from _tasks_opened(before, after, at)
    if before.parts != after.parts:
        yield from _parts_opened(before, after, at)
    if before.plumbing != after.plumbing:
        yield from _plumbing_opened(before, after, at)
    was, now = start_answers(before), start_answers(after)
    for question in sorted(was.keys() | now.keys()):
        if was.get(question) != now.get(question):
            what = f"answer:{question}"
            yield Opening(what=what, name=question, how="answered", at=at, reaches=(what,))


def _clock(build: BuildInput) -> str | None:
    return build.on_bench.task if build.on_bench else None


def _tasks_opened(before: BuildInput, after: BuildInput, at: dt.datetime) -> Iterator[Opening]:
    here = {task.key: task for task in after.tasks}
    logged = {entry.task for entry in set(before.log) ^ set(after.log)}
    was_there = {task.key for task in before.tasks}
    for task in before.tasks:
        if task.key == before.first_start:
            continue  # to start is what the signatures are for
        how = _opened_how(task, here.get(task.key), logged)
        if how is None and _clock(after) == task.key != _clock(before):
            how = "begun"
        if how is not None:
            yield _of_task(before, task, how, at)
    for task in after.tasks:
        if task.key not in was_there and task.begun_on is not None:
            yield _of_task(after, task, "begun", at)


def _opened_how(was: Task, now: Task | None, logged: set[str]) -> OpenedHow | None:
    if now is None:
        return "deleted"
    if was.finished_on is not None and now.finished_on is None:
        return "reopened"
    if not _was_at_it(was) and _was_at_it(now):
        return "begun"
    if was.key in logged:
        return "logged"
    if was.begun_on != now.begun_on and _was_at_it(now):
        return "begun"
    return "edited" if was.subsystem != now.subsystem else None


def _was_at_it(task: Task) -> bool:
    """Whether somebody was at it: what is finished was, even where nobody typed when it began."""
    return task.begun_on is not None or task.finished_on is not None


def _of_task(build: BuildInput, task: Task, how: OpenedHow, at: dt.datetime) -> Opening:
    drawn = sorted(
        {
            circuit
            for run in build.plumbing.runs
            if task.key in run.tasks
            for circuit in _circuits_of_run(build, run)
        }
    )
    return Opening(
        what=f"task:{task.key}",
        name=task.name,
        how=how,
        at=at,
        reaches=(
            f"task:{task.key}",
            *(f"drawn:{key}" for key in drawn),
            *_subsystem_reach(build, task.subsystem),
        ),
    )


def _subsystem_reach(build: BuildInput, key: str | None) -> Iterator[str]:
    for subsystem in build.subsystems:
        if subsystem.key == key:
            yield f"subsystem:{subsystem.key}"
            yield f"subsystem:{folded_name(subsystem.name)}"


def _parts_opened(before: BuildInput, after: BuildInput, at: dt.datetime) -> Iterator[Opening]:
    here = {part.key: part for part in after.parts}
    for part in before.parts:
        now = here.get(part.key)
        if now is None:
            if part.arrived:
                yield _of_part(part, "deleted", at)
        elif part.arrived and not now.arrived:
            yield _of_part(part, "not here", at)
        elif part.arrived and (part.ordered_on, part.name) != (now.ordered_on, now.name):
            yield _of_part(part, "edited", at)


def _of_part(part: Part, how: OpenedHow, at: dt.datetime) -> Opening:
    return Opening(
        what=f"part:{part.key}",
        name=part.name,
        how=how,
        at=at,
        reaches=(f"part:{folded_name(part.name)}", *(f"task:{key}" for key in part.serves)),
    )


def _plumbing_opened(before: BuildInput, after: BuildInput, at: dt.datetime) -> Iterator[Opening]:
    was, now = before.plumbing, after.plumbing
    for kind, old, new in (
        ("run", was.runs, now.runs),
        ("component", was.components, now.components),
        ("circuit", was.circuits, now.circuits),
    ):
        first = {one.key: one for one in old}
        then = {one.key: one for one in new}
        for key in (*first, *(key for key in then if key not in first)):
            one, other = first.get(key), then.get(key)
            if _as_made(one) == _as_made(other):
                continue
            how: OpenedHow = "added" if one is None else "deleted" if other is None else "edited"
            drawn = sorted({*_circuits_of(before, one), *_circuits_of(after, other)})
            thing = one or other
            assert thing is not None
            yield Opening(
                what=f"{kind}:{key}",
                name=thing.name or key,
                how=how,
                at=at,
                reaches=tuple(_drawn_reach((before, after), drawn)),
            )


def _drawn_reach(builds: tuple[BuildInput, ...], keys: list[str]) -> Iterator[str]:
    said: list[str] = []
    for key in keys:
        said.append(f"drawn:{key}")
        for build in builds:
            for circuit in build.plumbing.circuits:
                if circuit.key == key:
                    said.append(f"drawn:{folded_name(circuit.name)}")
                    said += [
                        f"in {key}:{one}" for one in _subsystem_reach(build, circuit.subsystem)
                    ]
    yield from dict.fromkeys(said)


def _as_made(thing: Run | Component | Circuit | None) -> object:
    """What of a thing is of the hand: not its name, its tasks, or when it was tested."""
    match thing:
        case Run():
            return replace(thing, name="", tasks=(), licensed=None)
        case Component():
            return replace(thing, name="", volumes=())
        case Circuit():
            return (thing.key, thing.from_port, thing.to_port, thing.medium, thing.subsystem)
        case _:
            return None


def _circuits_of(build: BuildInput, thing: Run | Component | Circuit | None) -> set[str]:
    match thing:
        case Run():
            return _circuits_of_run(build, thing)
        case Component():
            own = {thing.circuit, *(port.circuit for port in thing.ports)}
            return {key for key in own if key}
        case Circuit():
            return {thing.key}
        case _:
            return set()


def _circuits_of_run(build: BuildInput, run: Run) -> set[str]:
    """The circuits of the two ports that a run joins."""
    found = set[str]()
    for address in run.ports:
        key = component_at(address)
        for component in build.plumbing.components:
            if component.key != key:
                continue
            name = address.partition(".")[2]
            ports = [port for port in component.ports if port.name == name]
            found |= {circuit for port in ports if (circuit := port.circuit or component.circuit)}
    return found

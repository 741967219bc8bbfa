"""A build as its report shows it, in strings: facts as they were written down, and no others."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Photograph, Task
from webapp.build.by_key import find_by_key
from webapp.first_start.check_list import CheckList
from webapp.first_start.evaluation import start_standing
from webapp.first_start.standing import StartStanding
from webapp.pages.plumbing.circuit_view import RunLine, run_line
from webapp.pages.plumbing.picture_model import circuit_model
from webapp.pages.plumbing.seen import Seen
from webapp.pages.report.choice import ReportChoice
from webapp.pages.report.pictures import Pictures, Reader
from webapp.pages.words import amounts
from webapp.pages.words import report as words
from webapp.pages.words.first_start import open_words
from webapp.pages.words.sizes import write_in
from webapp.pages.words.the_end import call_the_end
from webapp.pictures.circuit import circuit_pictures
from webapp.pictures.circuit_model import CircuitPicture
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import plumbed


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportTask:
    """One task that is finished, or still to do (`state`); `figures` are torques and sizes."""

    name: str
    state: str
    hours: str
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportSubsystem:
    name: str
    hours: str
    tasks: tuple[ReportTask, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportPart:
    name: str
    supplier: str
    when: str
    cost: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportCircuit:
    name: str
    lede: str
    pictures: tuple[CircuitPicture, ...]
    """For a broad page and for a phone."""
    runs: tuple[RunLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportCheck:
    text: str
    said: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportStage:
    title: str
    checks: tuple[ReportCheck, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportAlbum:
    """The photographs of one task."""

    task: str
    photographs: tuple[tuple[Photograph, str], ...]
    """Each with its caption and day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportView:
    """All of it. `open` says what is known to be open before the key."""

    name: str
    vehicle: str
    made: str
    facts: tuple[tuple[str, str], ...]
    subsystems: tuple[ReportSubsystem, ...]
    parts: tuple[ReportPart, ...]
    parts_cost: str
    circuits: tuple[ReportCircuit, ...]
    open: str
    stages: tuple[ReportStage, ...]
    runs: tuple[str, ...]
    albums: tuple[ReportAlbum, ...]
    pictures: Pictures


def report_view(
    build: BuildInput,
    checks: CheckList,
    choice: ReportChoice,
    *,
    at: dt.datetime,
    read: Reader,
) -> ReportView:
    """The report of a build without faults, as of a moment; `read` gives its photographs."""
    call_the_end(build)
    write_in(build.units)
    found = plumbed(build)
    standing = start_standing(build, checks, at=at, plumbed=found)
    seen = Seen(slug="", today=dt.date.min, build=build, plumbed=found, drawing=Drawing(build))
    worked = _at_the_bench(build)
    shown = build.photographs if choice.photographs else ()
    return ReportView(
        name=build.name,
        vehicle=build.vehicle,
        made=words.day(at),
        facts=tuple(_facts(build, worked, choice)),
        subsystems=tuple(_subsystems(build, worked, choice)),
        parts=tuple(_part(build, place, choice) for place in range(len(build.parts))),
        parts_cost=words.cost(build.parts) if choice.costs else "",
        circuits=tuple(_circuit(seen, key) for key in seen.circuits),
        open=open_words(standing) if build.start.signatures else "",
        stages=tuple(_stages(standing, choice)),
        runs=tuple(words.engine_run(one) for one in build.start.runs if one.fired_at is not None),
        albums=tuple(_albums(build, shown)),
        pictures=Pictures(read=read, count=len(shown)),
    )


def _at_the_bench(build: BuildInput) -> dict[str, float]:
    """The hours of each task: its work, and getting its setup out."""
    hours: defaultdict[str, float] = defaultdict(float)
    for entry in build.log:
        hours[entry.task] += entry.bench_hours
    return hours


def _facts(
    build: BuildInput, worked: dict[str, float], choice: ReportChoice
) -> Iterator[tuple[str, str]]:
    done = [task for task in build.tasks if task.finished_on is not None]
    days = [entry.on for entry in build.log]
    begun = min([*days, *([build.starts_on] if build.starts_on else [])], default=None)
    if begun is not None:
        yield words.BEGUN, words.day(begun)
    yield words.the_end_is(find_by_key(build.tasks, build.first_start))
    still = sum(task.is_open for task in build.tasks)
    yield words.WORK, words.finished(len(done), still)
    if choice.hours and days:
        yield words.HOURS, words.worked(sum(worked.values()), len(set(days)))


def _subsystems(
    build: BuildInput, worked: dict[str, float], choice: ReportChoice
) -> Iterator[ReportSubsystem]:
    """The subsystems in working order, those tasks last that are in none."""
    ranked = sorted(build.subsystems, key=lambda one: one.order)
    named = [*((one.key, one.name) for one in ranked), (None, words.NO_SUBSYSTEM)]
    for key, name in named:
        tasks = [task for task in build.tasks if task.subsystem == key]
        tasks = [task for task in tasks if task.finished_on is not None or task.is_open]
        if tasks:
            hours = sum(worked.get(task.key, 0.0) for task in tasks)
            yield ReportSubsystem(
                name=name,
                hours=amounts.worked(hours) if choice.hours and hours else "",
                tasks=tuple(_task(task, worked.get(task.key, 0.0), choice) for task in tasks),
            )


def _task(task: Task, hours: float, choice: ReportChoice) -> ReportTask:
    return ReportTask(
        name=task.name,
        state=words.task_state(task),
        hours=amounts.worked(hours) if choice.hours and hours else "",
        figures=tuple(f"{one.name}: {one.value}" for one in task.measures),
    )


def _part(build: BuildInput, place: int, choice: ReportChoice) -> ReportPart:
    part = build.parts[place]
    has_cost = choice.costs and part.cost is not None
    return ReportPart(
        name=part.name,
        supplier=part.supplier,
        when=words.part_state(part),
        cost=amounts.number(part.cost or 0.0) if has_cost else "",
    )


def _circuit(seen: Seen, key: str) -> ReportCircuit:
    one = seen.circuits[key]
    return ReportCircuit(
        name=one.circuit.name,
        lede=words.circuit_state(one),
        pictures=circuit_pictures(circuit_model(seen, key)),
        runs=tuple(run_line(seen, run) for run in seen.runs_of[key]),
    )


def _stages(standing: StartStanding, choice: ReportChoice) -> Iterator[ReportStage]:
    """The checks of which anything was said, and beside them those that are to be signed."""
    if not any(one.signature or one.set_aside for one in standing.all):
        return
    for number, stage in enumerate(standing.stages, 1):
        kept = tuple(
            ReportCheck(
                text=one.check.text,
                said=words.check_state(one, names=choice.names),
                is_open=not one.is_met,
            )
            for one in stage.checks
            if one.is_kept
        )
        if kept:
            yield ReportStage(title=f"{number}. {stage.stage.title}", checks=kept)


def _albums(build: BuildInput, shown: tuple[Photograph, ...]) -> Iterator[ReportAlbum]:
    for task in build.tasks:
        own = [one for one in shown if one.task == task.key]
        if own:
            yield ReportAlbum(
                task=task.name,
                photographs=tuple((one, words.caption(one)) for one in own),
            )

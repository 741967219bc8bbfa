"""What of a build can be found: each thing as a passage, with the page that it leads to."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.wish import Wish
from webapp.pages import addresses
from webapp.pages.log.forms import digest_of
from webapp.pages.words import amounts as words
from webapp.pages.words.sizes import called
from webapp.plumbing.names import piece_name
from webapp.storage.full_text import Passage


@dataclass(frozen=True, slots=True, kw_only=True)
class Findable:
    """A thing of a build under its kind, and where it stands."""

    kind: str
    address: str
    passage: Passage


KINDS = ("Tasks", "Parts", "Plumbing", "Wishes", "Time log", "Shop")
"""In the order they are shown."""


def findable(build: BuildInput, slug: str, *, today: dt.date) -> tuple[Findable, ...]:
    """Everything in a build that has a name or a text of its own."""
    return (
        *_tasks(build, slug),
        *(_part(part, slug) for part in build.parts),
        *_plumbing(build, slug),
        *(_wish(wish, slug) for wish in build.wishes),
        *_log(build, slug, today),
        *_shop(build, slug),
    )


def _tasks(build: BuildInput, slug: str) -> Iterator[Findable]:
    subsystems = {one.key: one.name for one in build.subsystems}
    setups = {one.key: one.name for one in build.shop.setups}
    whys: dict[str, list[str]] = {}
    for link in build.dependencies:
        whys.setdefault(link.after, []).append(link.why)
    captions: dict[str, list[str]] = {}
    for photograph in build.photographs:
        captions.setdefault(photograph.task, []).append(photograph.caption)
    for task in build.tasks:
        texts = [
            subsystems.get(task.subsystem or "", ""),
            setups.get(task.setup or "", ""),
            *_of_task(task),
            *whys.get(task.key, ()),
            *captions.get(task.key, ()),
        ]
        yield _found("Tasks", addresses.task(slug, task.key), task.name, *texts)


def _of_task(task: Task) -> tuple[str, ...]:
    return (
        task.caution,
        task.notes,
        *(step.text for step in task.steps),
        *(f"{one.name} {one.value}" for one in task.measures),
    )


def _part(part: Part, slug: str) -> Findable:
    return _found("Parts", addresses.part(slug, part.key), part.name, part.supplier)


def _plumbing(build: BuildInput, slug: str) -> Iterator[Findable]:
    """Circuits with what stands in them, and runs with their pieces."""
    inside: dict[str, list[str]] = {}
    for component in build.plumbing.components:
        for key in sorted({port.circuit or component.circuit or "" for port in component.ports}):
            inside.setdefault(key, []).append(component.name)
    for circuit in build.plumbing.circuits:
        texts = (circuit.test or "", *inside.get(circuit.key, ()))
        yield _found("Plumbing", addresses.circuit(slug, circuit.key), circuit.name, *texts)
    for run in build.plumbing.runs:
        pieces = (called(piece_name(piece)) for piece in run.pieces)
        name = run.name or f"{run.from_port} to {run.to_port}"
        yield _found("Plumbing", addresses.run(slug, run.key), name, run.licensed or "", *pieces)


def _wish(wish: Wish, slug: str) -> Findable:
    why = wish.decision.why if wish.decision is not None else ""
    parts = (part.name for part in wish.parts)
    return _found("Wishes", addresses.wish(slug, wish.key), wish.text, why, *parts)


def _log(build: BuildInput, slug: str, today: dt.date) -> Iterator[Findable]:
    """Entries by the name of their task and their day; the latest first."""
    names = {task.key: task.name for task in build.tasks}
    entries = sorted(enumerate(build.log), key=lambda one: (one[1].on, one[0]), reverse=True)
    for place, entry in entries:
        address = addresses.log_entry(slug, place, digest_of(entry))
        name = names.get(entry.task, entry.task)
        when = words.day(entry.on, today=today)
        yield _found("Time log", address, name, f"{when}, {words.worked(entry.bench_hours)}")


def _shop(build: BuildInput, slug: str) -> Iterator[Findable]:
    for name in (
        *(one.name for one in build.subsystems),
        *(one.name for one in build.shop.setups),
        *(one.name for one in build.shop.stations),
    ):
        yield _found("Shop", addresses.shop(slug), name)


def _found(kind: str, address: str, title: str, *texts: str) -> Findable:
    text = " · ".join(text for text in texts if text)
    return Findable(kind=kind, address=address, passage=Passage(title=title, text=text))

"""Answering the questions of a starter list again, without losing work.

What the new answers keep and the old ones did not is added; what they drop is taken out. Not taken
out are tasks that were worked on and parts that are here or ordered, nor, unless asked, what the
person edited or tied something to. What the person took out does not come back unless asked.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.build.by_key import find_by_key
from webapp.build.precedence import reached
from webapp.build.starter.bridging import bridged, pair_of
from webapp.build.starter.fitting import (
    kept,
    listed_dependencies,
    listed_parts,
    listed_tasks,
)
from webapp.build.starter.starter_list import Said, StarterList
from webapp.build.starter.touched import Why, touched, why_part_stays, why_task_stays

ASKED: frozenset[Why] = frozenset({"edited", "tied"})
"""What is taken out where the person says so; what stays for another reason stays."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Staying:
    """A task or part that stays although the answers drop it, and why."""

    key: str
    name: str
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """What other answers change, of tasks or of parts.

    `added` and `dropped` as they are after and before; `staying` what is not taken out;
    `left_out` what the answers keep and the person took out, put back now or not.
    """

    added: tuple[Task | Part, ...]
    dropped: tuple[Task | Part, ...]
    staying: tuple[Staying, ...]
    left_out: tuple[Task | Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """The build with other answers, and what they change in it.

    `against_order` are dependencies of the list that are left out, because the person's own order
    has it the other way round.
    """

    build: BuildInput
    tasks: Changed
    parts: Changed
    against_order: tuple[Dependency, ...]

    @property
    def changes_work(self) -> bool:
        """Whether any task or part comes or goes."""
        return any((self.tasks.added, self.tasks.dropped, self.parts.added, self.parts.dropped))


def answered(
    build: BuildInput,
    starter: StarterList,
    said: Said,
    *,
    take_out: Collection[str] = (),
    put_back: Collection[str] = (),
) -> Answered:
    """The build as it is with these answers.

    Parameters
    ----------
    build
        Begun from `starter`.
    take_out
        Keys of edited or tied tasks and parts that go as well where the answers drop them.
    put_back
        Keys of what the person took out and wants again.
    """
    before, now = starter.said(build.starter_answers), kept(starter, said)
    were = kept(starter, before)
    there = {task.key for task in build.tasks} | {part.key for part in build.parts}
    taken_out = set(build.starter_left_out) | ((were.tasks | were.parts) - there)
    ticked = _Ticked(
        left_out=frozenset(taken_out - set(put_back)),
        taken_out=frozenset(taken_out),
        take_out=frozenset(take_out),
    )
    tasks = _tasks_changed(build, starter, now.tasks, ticked)
    gone = frozenset(task.key for task in tasks.dropped)
    come = frozenset(task.key for task in tasks.added)
    parts = _parts_changed(build, starter, now.parts, ticked, tasks)
    edited = _with_tasks(build, starter, tasks)
    edited = replace(edited, parts=_parts_after(edited, starter, parts, gone, come))
    links, against = _links_after(build, starter, before, said, gone, come)
    done = Answered(
        build=replace(edited, dependencies=links),
        tasks=tasks,
        parts=parts,
        against_order=against,
    )
    if said == before and not done.changes_work:
        return replace(done, build=build)
    return replace(done, build=_with_answers(done.build, starter, said, ticked.left_out))


def _with_answers(
    build: BuildInput, starter: StarterList, said: Said, left_out: frozenset[str]
) -> BuildInput:
    """The answers kept with the build; what this list does not know stays behind them."""
    asked, listed = set(said), [each.key for each in starter.entries]
    return replace(
        build,
        starter_answers=(
            *starter.answers(said),
            *(each for each in build.starter_answers if each.question not in asked),
        ),
        starter_left_out=(
            *(key for key in listed if key in left_out),
            *(key for key in build.starter_left_out if key not in listed),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ticked:
    """What the person took out of the list, before and after what is put back now, and what goes
    as well."""

    left_out: frozenset[str]
    taken_out: frozenset[str]
    take_out: frozenset[str]


def _tasks_changed(
    build: BuildInput,
    starter: StarterList,
    now: frozenset[str],
    ticked: _Ticked,
) -> Changed:
    there = {task.key: task for task in build.tasks}
    found = touched(build, starter)
    leaving = [
        (task, why_task_stays(task, each.task, found))
        for each in starter.tasks
        if each.key not in now
        and each.key != build.first_start
        and (task := there.get(each.key)) is not None
    ]
    return _changed(leaving, listed_tasks(starter, now), there, ticked)


def _parts_changed(
    build: BuildInput,
    starter: StarterList,
    now: frozenset[str],
    ticked: _Ticked,
    tasks: Changed,
) -> Changed:
    there = {part.key: part for part in build.parts}
    gone = {task.key for task in tasks.dropped}
    staying_tasks = frozenset(each.key for each in tasks.staying if each.key not in gone)
    leaving = [
        (part, why_part_stays(part, each.part, staying_tasks))
        for each in starter.parts
        if each.key not in now and (part := there.get(each.key)) is not None
    ]
    present = ({task.key for task in build.tasks} - gone) | {task.key for task in tasks.added}
    brought = (part for part in listed_parts(starter, now, present) if part.serves)
    return _changed(leaving, brought, there, ticked)


def _changed(
    leaving: Sequence[tuple[Task | Part, Why | None]],
    brought: Iterable[Task | Part],
    there: Collection[str],
    ticked: _Ticked,
) -> Changed:
    """What comes of what the answers drop, each with why it stays, and of what they bring."""
    absent = [one for one in brought if one.key not in there]
    out = {one.key for one, why in leaving if why in ASKED} & ticked.take_out
    return Changed(
        added=tuple(one for one in absent if one.key not in ticked.left_out),
        dropped=tuple(one for one, why in leaving if why is None or one.key in out),
        staying=tuple(Staying(key=one.key, name=one.name, why=why) for one, why in leaving if why),
        left_out=tuple(one for one in absent if one.key in ticked.taken_out),
    )


def _with_tasks(build: BuildInput, starter: StarterList, changed: Changed) -> BuildInput:
    """The tasks after it, each new one behind the one before it in the list, and what they need."""
    gone = {task.key for task in changed.dropped}
    tasks = [task for task in build.tasks if task.key not in gone]
    come = {task.key: task for task in changed.added if isinstance(task, Task)}
    behind = -1
    for each in starter.tasks:
        if each.key in come:
            behind += 1
            tasks.insert(behind, come[each.key])
        else:
            place = next((i for i, task in enumerate(tasks) if task.key == each.key), None)
            behind = behind if place is None else place
    return replace(
        build,
        tasks=tuple(tasks),
        subsystems=(
            *build.subsystems,
            *(
                each
                for each in starter.subsystems
                if any(task.subsystem == each.key for task in come.values())
                and find_by_key(build.subsystems, each.key) is None
            ),
        ),
        shop=replace(
            build.shop,
            setups=(
                *build.shop.setups,
                *(
                    each
                    for each in starter.setups
                    if any(task.setup == each.key for task in come.values())
                    and find_by_key(build.shop.setups, each.key) is None
                ),
            ),
        ),
    )


def _parts_after(
    build: BuildInput,
    starter: StarterList,
    changed: Changed,
    gone: frozenset[str],
    come: frozenset[str],
) -> tuple[Part, ...]:
    """The parts after it: none serves a task that is gone, listed ones serve those that came."""
    listed = {each.key: each.part for each in starter.parts}
    out = {part.key for part in changed.dropped}
    parts = []
    for part in build.parts:
        if part.key in out:
            continue
        serves = [key for key in part.serves if key not in gone]
        if part.key in listed:
            serves += [key for key in listed[part.key].serves if key in come and key not in serves]
        parts.append(replace(part, serves=tuple(serves)))
    return (*parts, *(part for part in changed.added if isinstance(part, Part)))


def _links_after(
    build: BuildInput,
    starter: StarterList,
    before: Said,
    said: Said,
    gone: frozenset[str],
    come: frozenset[str],
) -> tuple[tuple[Dependency, ...], tuple[Dependency, ...]]:
    """What comes before what after it, and what is left out against the person's own order.

    The list's own dependencies follow the answers; one that the person took out or changed stays
    as the person has it.
    """
    listed = {each.key for each in starter.tasks}
    there = {task.key for task in build.tasks} & listed
    old = {
        pair_of(link): link for link in bridged(listed_dependencies(starter, before, there), gone)
    }
    new = {
        pair_of(link): link for link in listed_dependencies(starter, said, (there - gone) | come)
    }
    links: dict[tuple[str, str], Dependency] = {}
    for link in bridged(build.dependencies, gone):
        pair = pair_of(link)
        if link != old.get(pair):
            links[pair] = link
        elif pair in new:
            links[pair] = new[pair]
    against = []
    for pair, link in new.items():
        if pair in links or pair in old:
            continue
        if _is_before(links, link.after, link.before):
            against.append(link)
        else:
            links[pair] = link
    return tuple(links.values()), tuple(against)


def _is_before(links: Collection[tuple[str, str]], first: str, then: str) -> bool:
    """Whether one task comes before another, by any way."""
    after: dict[str, list[str]] = {}
    for before, follower in links:
        after.setdefault(before, []).append(follower)
    return then in reached(after.get(first, ()), lambda key: after.get(key, ()))

"""A starter list fitted to answers: the entries that are kept, and a build that is made of them."""

from collections.abc import Collection
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.build.starter.bridging import bridged
from webapp.build.starter.starter_list import Said, StarterList, holds


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """The keys of what a list keeps for some answers."""

    tasks: frozenset[str]
    parts: frozenset[str]


def kept(starter: StarterList, said: Said) -> Kept:
    """What these answers keep. A part that serves none of the kept tasks is not kept either."""
    tasks = frozenset(each.key for each in starter.tasks if holds(each.hangs_on, said))
    return Kept(
        tasks=tasks,
        parts=frozenset(
            each.key
            for each in starter.parts
            if holds(each.hangs_on, said) and tasks.intersection(each.part.serves)
        ),
    )


def listed_tasks(starter: StarterList, keys: Collection[str]) -> tuple[Task, ...]:
    """The tasks of these keys as the list has them."""
    return tuple(each.task for each in starter.tasks if each.key in keys)


def listed_parts(
    starter: StarterList, keys: Collection[str], tasks: Collection[str]
) -> tuple[Part, ...]:
    """The parts of these keys as the list has them, serving those of the tasks that are there."""
    return tuple(
        replace(each.part, serves=tuple(key for key in each.part.serves if key in tasks))
        for each in starter.parts
        if each.key in keys
    )


def listed_dependencies(
    starter: StarterList, said: Said, tasks: Collection[str]
) -> tuple[Dependency, ...]:
    """What comes before what among these tasks, order carried on through those not there."""
    links = [each.dependency for each in starter.dependencies if holds(each.hangs_on, said)]
    return bridged(links, {each.key for each in starter.tasks} - set(tasks))


def begun_with(build: BuildInput, starter: StarterList, said: Said) -> BuildInput:
    """The build with a whole list in it, fitted to the answers, and the answers kept with it.

    `build` brings its name and dates, and nothing to do yet.
    """
    keys = kept(starter, said)
    tasks = listed_tasks(starter, keys.tasks)
    setups, subsystems = {task.setup for task in tasks}, {task.subsystem for task in tasks}
    return replace(
        build,
        first_start=starter.first_start,
        end_name=starter.end_name,
        starter_list=starter.key,
        starter_answers=starter.answers(said),
        starter_left_out=(),
        shop=replace(
            build.shop,
            week=starter.week,
            setups=tuple(each for each in starter.setups if each.key in setups),
        ),
        subsystems=tuple(each for each in starter.subsystems if each.key in subsystems),
        tasks=tasks,
        dependencies=listed_dependencies(starter, said, keys.tasks),
        parts=listed_parts(starter, keys.parts, keys.tasks),
    )

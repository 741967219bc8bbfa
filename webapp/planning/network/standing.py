"""Which tasks can never be planned, and what stands in the way."""

from collections import deque
from dataclasses import replace

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.due_days import due_of
from webapp.build.precedence import followers_of, tasks_as_entered
from webapp.planning.network.obstacles import Obstacle, Standing


def standing_in_the_way(build: BuildInput) -> dict[str, Standing]:
    """Every open task that can never be planned, by key as entered, with what holds it.

    A task is held for ever by a set-aside task before it, by a part that has neither come nor
    a day to reckon with (unless the task is begun), or by a task before it that is held so itself.
    """
    task_of = {task.key: task for task in tasks_as_entered(build)}
    found: dict[str, dict[Obstacle, None]] = {}
    aside = {key for key, task in task_of.items() if _is_set_aside(task)}
    for dependency in build.dependencies if aside else ():
        after = task_of.get(dependency.after)
        if dependency.before in aside and after is not None and after.is_open:
            obstacle = Obstacle(kind="set_aside", what=dependency.before)
            found.setdefault(after.key, {})[obstacle] = None
    for part in build.parts:
        for key in part.serves:
            task = task_of.get(key)
            if task and task.is_open and task.begun_on is None and _never_comes(part, build):
                obstacle = Obstacle(kind="undated_part", what=part.key)
                found.setdefault(key, {})[obstacle] = None
    own = {key: Standing(obstacles=(*found[key],)) for key in task_of if key in found}
    return _passed_on(build, task_of, own)


def _passed_on(
    build: BuildInput, task_of: dict[str, Task], own: dict[str, Standing]
) -> dict[str, Standing]:
    """What holds tasks themselves, and the open tasks that come after them."""
    if not own:
        return own
    keys = list(task_of)
    after = followers_of(build)
    standing = dict(own)
    queue = deque(i for i, key in enumerate(keys) if key in own)
    while queue:
        i = queue.popleft()
        before = standing[keys[i]]
        for j in after[i]:
            key = keys[j]
            if task_of[key].is_open and key not in standing:
                first = before.first or keys[i]
                standing[key] = replace(before, after=keys[i], first=first)
                queue.append(j)
    return {key: standing[key] for key in keys if key in standing}


def _is_set_aside(task: Task) -> bool:
    return task.set_aside_on is not None and task.finished_on is None


def _never_comes(part: Part, build: BuildInput) -> bool:
    return not part.arrived and due_of(part, build.now.date()) is None

"""Hours that are a starter list's, guessed or taken, until somebody says what they are."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Task


def with_settled_guesses(before: BuildInput, after: BuildInput) -> BuildInput:
    """The build after a change: hours that were the list's and were changed are so no more.

    What was not the list's before stays as it is, so that taking a change back gives it back.
    """
    listed = {task.key: task for task in before.tasks if task.hours_guessed or task.hours_taken}

    def settled(task: Task) -> Task:
        was = listed.get(task.key)
        if was is None or not (task.hours_guessed or task.hours_taken):
            return task
        is_same = (task.hours, task.outside_days) == (was.hours, was.outside_days)
        return task if is_same else replace(task, hours_guessed=False, hours_taken=False)

    tasks = tuple(settled(task) for task in after.tasks)
    return after if tasks == after.tasks else replace(after, tasks=tasks)

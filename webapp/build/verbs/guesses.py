"""Hours that are a starter list's guess, until somebody says what they are."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Task


def with_settled_guesses(before: BuildInput, after: BuildInput) -> BuildInput:
    """The build after a change: hours that were a guess and were changed are one no more.

    What was no guess before stays as it is, so that taking a change back gives the guess back.
    """
    guessed = {task.key: task for task in before.tasks if task.hours_guessed}

    def settled(task: Task) -> Task:
        was = guessed.get(task.key)
        if was is None or not task.hours_guessed:
            return task
        is_same = (task.hours, task.outside_days) == (was.hours, was.outside_days)
        return task if is_same else replace(task, hours_guessed=False)

    tasks = tuple(settled(task) for task in after.tasks)
    return after if tasks == after.tasks else replace(after, tasks=tasks)

"""Removing a task: what goes with it, and the edit that takes it out."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.verbs.task_links import without_task
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words import amounts as words
from webapp.pages.words.plumbing_gone import that_name_task
from webapp.pages.words.the_end import the_end


def remove_task(key: str) -> FormEdit[None]:
    """The edit that takes a task out, unless it is first start, or not what was asked about."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        task = find_by_key(build.tasks, key)
        if task is None:
            return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
        if key == build.first_start:
            form.fault(
                "",
                f"“{task.name}” is {the_end()}: the plan ends there."
                f" Name another task as {the_end()} in the Shop, then remove this one.",
            )
        else:
            is_as_asked(form, goes_with_task(build, task))
        keep_order = form.ticked("keep_order")
        return Edited(build=without_task(build, key, keep_order=keep_order), made=None)

    return edit


def goes_with_task(build: BuildInput, task: Task) -> tuple[GoesWith, ...]:
    """What is lost with a task: its log, its clock, how far it is, what it says, what ties it."""
    log = tuple(entry for entry in build.log if entry.task == task.key)
    clock = build.on_bench if build.on_bench and build.on_bench.task == task.key else None
    links = tuple(link for link in build.dependencies if task.key in (link.before, link.after))
    photographs = tuple(each for each in build.photographs if each.task == task.key)
    parts = tuple(part.key for part in build.parts if task.key in part.serves)
    progress = task.begun_on, task.finished_on, task.set_aside_on, task.hours_left
    text = replace(task, begun_on=None, finished_on=None, set_aside_on=None, hours_left=None)
    on_bench = "it is on the bench now, its clock runs" if clock else "it is on the bench no more"
    return (
        GoesWith(name="log", state=log, now=_logged(build, task)),
        GoesWith(name="clock", state=clock and clock.since, now=on_bench),
        GoesWith(name="progress", state=progress, now=_how_far(build, task)),
        GoesWith(name="text", state=text, now="what its page says was changed"),
        GoesWith(name="links", state=links, now="what comes before or after it was changed"),
        GoesWith(name="photographs", state=photographs, now=_photographed(len(photographs))),
        GoesWith(name="parts", state=parts, now="the parts it needs were changed"),
        GoesWith(
            name="plumbing",
            state=that_name_task(build, task.key),
            now="the runs or circuits that name it were changed",
        ),
    )


def _logged(build: BuildInput, task: Task) -> str:
    log = [entry for entry in build.log if entry.task == task.key]
    if not log:
        return "nothing is logged on it any more"
    hours = words.hours(sum(entry.bench_hours for entry in log))
    return f"{hours} are logged on it now, in {words.count(len(log), 'entry', 'entries')}"


def _photographed(count: int) -> str:
    return f"it has {words.count(count, 'photograph')} now" if count else "it has no photograph now"


def _how_far(build: BuildInput, task: Task) -> str:
    today = build.now.date()
    for what, at in (
        ("finished", task.finished_on),
        ("set aside", task.set_aside_on),
        ("begun", task.begun_on),
    ):
        if at is not None:
            left = ""
            if task.hours_left is not None and what == "begun":
                left = f", with {words.hours(task.hours_left)} left"
            return f"it was {what} {words.moment(at, today=today)}{left}"
    return "it is not begun any more"

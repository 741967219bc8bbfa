"""The fields of a task's steps, torques and sizes, in its form."""

from webapp.build.build_input import Measure, MeasureKind, Step, Task
from webapp.build.limits import (
    MOST_MEASURES_OF_A_TASK,
    MOST_NAME_CHARACTERS,
    MOST_STEPS_OF_A_TASK,
)
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words.quoted import shown

STEP_ROWS = Rows(stems=("step", "ticked"), identity="step")
MEASURE_ROWS: dict[MeasureKind, Rows] = {
    "torque": Rows(stems=("torque", "torque_value"), identity="torque"),
    "size": Rows(stems=("size", "size_value"), identity="size"),
}
ROWS = (STEP_ROWS, *MEASURE_ROWS.values())


def show_steps(form: Shown, task: Task) -> Shown:
    """The steps of a task, its torques and its sizes, each list with room for more."""
    for row, step in enumerate(task.steps):
        form.text(f"step-{row}", step.text).tick(f"ticked-{row}", step.done)
    form.blank(f"step-{len(task.steps)}", "more_steps", "more_before")
    for kind in MEASURE_ROWS:
        there = [measure for measure in task.measures if measure.kind == kind]
        for row, measure in enumerate(there):
            form.text(f"{kind}-{row}", measure.name).text(f"{kind}_value-{row}", measure.value)
        form.blank(f"{kind}-{len(there)}")
    return form


def step_places(task: Task) -> tuple[tuple[str, str], ...]:
    """Where steps that are pasted may come, to pick from; () where there are none yet."""
    if not task.steps:
        return ()
    return (
        ("", "after all that are there"),
        *((step.text, f"before “{shown(step.text)}”") for step in task.steps),
    )


def read_steps(form: TypedForm, stored: Task, label: str) -> tuple[Step, ...]:
    """The steps as typed, with what was pasted among them; as stored where they are too many."""
    numbers, pasted = form.row_numbers("step"), _pasted(form)
    filled = sum(bool(form.typed(f"step-{row}").strip()) for row in numbers) + len(pasted)
    if filled > MOST_STEPS_OF_A_TASK:
        form.fault(
            "more_steps" if pasted else f"step-{numbers[0]}",
            f"{label} has {filled:,} steps as typed; {MOST_STEPS_OF_A_TASK} is the most. Leave some"
            " out, or make two tasks of it.",
        )
        return stored.steps
    steps: list[Step] = []
    for row in numbers:
        text = form.text(f"step-{row}", f"{label}, step {row + 1}")
        if text:
            _told_once(form, f"step-{row}", text, steps, label)
            steps.append(Step(text=text, done=form.ticked(f"ticked-{row}")))
    at = next((n for n, step in enumerate(steps) if step.text == _before(form)), len(steps))
    for text in pasted:
        if len(text) > MOST_NAME_CHARACTERS:
            form.fault(
                "more_steps",
                f"{label}: the step “{shown(text)}” has {len(text):,} characters;"
                f" {MOST_NAME_CHARACTERS} is the most. Shorten it.",
            )
        _told_once(form, "more_steps", text, steps, label)
        steps.insert(at, Step(text=text))
        at += 1
    return tuple(steps)


def _before(form: TypedForm) -> str:
    return " ".join(form.typed("more_before").split())


def _pasted(form: TypedForm) -> tuple[str, ...]:
    lines = form.typed("more_steps").replace("\r", "\n").split("\n")
    return tuple(text for line in lines if (text := " ".join(line.split())))


def _told_once(form: TypedForm, field: str, text: str, before: list[Step], label: str) -> None:
    if any(step.text == text for step in before):
        form.fault(
            field,
            f"{label}: the step “{shown(text)}” stands there twice. Word one of the two otherwise,"
            " or empty its row.",
        )


def read_measures(form: TypedForm, stored: Task, label: str) -> tuple[Measure, ...]:
    """Torques and sizes as typed, those of before in the order they had."""
    typed = [measure for kind in MEASURE_ROWS for measure in _read_kind(form, stored, kind, label)]
    place = {(one.kind, one.name): number for number, one in enumerate(stored.measures)}
    return tuple(sorted(typed, key=lambda one: place.get((one.kind, one.name), len(place))))


def _read_kind(form: TypedForm, stored: Task, kind: MeasureKind, label: str) -> tuple[Measure, ...]:
    there = tuple(measure for measure in stored.measures if measure.kind == kind)
    numbers = form.row_numbers(kind)
    filled = [row for row in numbers if _says_something(form, kind, row)]
    if len(filled) > MOST_MEASURES_OF_A_TASK:
        form.fault(
            f"{kind}-{numbers[0]}",
            f"{label} has {len(filled):,} rows of that kind as typed; {MOST_MEASURES_OF_A_TASK} is"
            " the most. Leave some out.",
        )
        return there
    found: dict[str, Measure] = {}
    for row in filled:
        field, value_field = f"{kind}-{row}", f"{kind}_value-{row}"
        name = form.text(field, f"{label}, {kind} of what")
        value = form.text(value_field, f"{label}, {kind}")
        was_there = row < len(there)
        if not name:
            if value and not was_there:  # an emptied row of before takes its line out
                form.fault(
                    field,
                    f"{label}: the {kind} “{shown(value)}” does not say what it is of. Type what,"
                    " or empty the row.",
                )
            continue
        if not value:
            form.fault(
                value_field,
                f"{label}: the {kind} of “{shown(name)}” is not typed. Type it with its unit, or"
                " empty the row.",
            )
        if name in found:
            form.fault(
                field,
                f"{label}: the {kind} of “{shown(name)}” stands there twice. Empty one of the two.",
            )
        found[name] = Measure(kind=kind, name=name, value=value)
    return tuple(found.values())


def _says_something(form: TypedForm, kind: MeasureKind, row: int) -> bool:
    return bool(form.typed(f"{kind}-{row}").strip() or form.typed(f"{kind}_value-{row}").strip())

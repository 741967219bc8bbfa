"""Steps, torques and sizes: every fault at once, each by the name of its task."""

from typing import Any, get_args

import pytest

from tests.build.builds import build_of, task
from webapp.build.build_input import MEASURE_KINDS, Measure, MeasureKind, Step
from webapp.build.checks.input_checks import faults_of
from webapp.build.limits import (
    MOST_MEASURES,
    MOST_MEASURES_OF_A_TASK,
    MOST_NAME_CHARACTERS,
    MOST_STEPS,
    MOST_STEPS_OF_A_TASK,
)


def texts(**facts: Any) -> list[str]:
    """The faults of a build with one task of these facts."""
    faults = faults_of(build_of([task("weld", 1, **facts)], first_start="weld"))
    assert {(fault.kind, fault.key) for fault in faults} <= {("task", "weld")}
    return [fault.text for fault in faults]


def steps(count: int) -> tuple[Step, ...]:
    return tuple(Step(text=f"Step {number}") for number in range(count))


def torque(name: str, value: str = "45 Nm") -> Measure:
    return Measure(kind="torque", name=name, value=value)


def test_the_kinds_of_a_measure_are_those_of_its_type() -> None:
    assert get_args(MeasureKind) == MEASURE_KINDS


def test_as_many_as_there_may_be_is_no_fault() -> None:
    measures = tuple(torque(f"Bolt {n}") for n in range(MOST_MEASURES_OF_A_TASK))
    assert texts(steps=steps(MOST_STEPS_OF_A_TASK), measures=measures) == []


def test_every_fault_of_the_steps_comes_at_once() -> None:
    said = texts(
        steps=(
            Step(text="  "),
            Step(text="Bolt"),
            Step(text="Bolt", done=True),
            Step(text="a\x07b"),
            Step(text="x" * (MOST_NAME_CHARACTERS + 1)),
        )
    )
    assert [part for part in ("step 1 says nothing", "step 4", "501 characters", "“Bolt” stands")
            if not any(part in text for text in said)] == []  # fmt: skip
    assert len(said) == 4


def test_every_fault_of_the_measures_comes_at_once() -> None:
    said = texts(
        measures=(
            torque("", "45 Nm"),
            torque("Bolt", " "),
            torque("Bolt"),
            Measure(kind="weight", name="Bolt", value="3 kg"),  # type: ignore[arg-type]
            Measure(kind="size", name="Bolt", value="M8\n"),
        )
    )
    wanted = ("what it is of", "no value", "torque of “Bolt” stands", "neither", "line break")
    assert [part for part in wanted if not any(part in text for text in said)] == []
    assert len(said) == 5


def test_the_same_name_may_have_a_torque_and_a_size() -> None:
    assert texts(measures=(torque("Bung"), Measure(kind="size", name="Bung", value="M18"))) == []


def test_one_more_than_a_task_may_have_is_told_with_both_numbers() -> None:
    (fault,) = texts(steps=steps(MOST_STEPS_OF_A_TASK + 1))
    assert "201 steps, and 200 is the most" in fault


@pytest.mark.parametrize("field", ["steps", "measures"])
def test_one_more_than_all_tasks_together_may_have_is_told(field: str) -> None:
    each = MOST_STEPS_OF_A_TASK if field == "steps" else MOST_MEASURES_OF_A_TASK
    most = MOST_STEPS if field == "steps" else MOST_MEASURES
    facts = {"steps": steps(each), "measures": tuple(torque(f"Bolt {n}") for n in range(each))}
    full = [task(f"t{n}", 1, **{field: facts[field]}) for n in range(most // each)]
    assert faults_of(build_of(full, first_start="t0")) == ()
    one_more = [*full, task("more", 1, **{field: facts[field][:1]})]
    (fault,) = faults_of(build_of(one_more, first_start="t0"))
    assert (fault.kind, fault.field) == ("build", field)
    assert f"{most + 1:,}" in fault.text

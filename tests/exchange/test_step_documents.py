"""Steps, torques and sizes in the build document: told by their task, and older documents read."""

import datetime as dt
import json

from tests.exchange.test_document_faults import faults_in, only_fault, with_task
from webapp.build.build_input import Measure, Step
from webapp.build.by_key import get_by_key
from webapp.exchange.build_document import read_document, write_document

NOW = dt.datetime(2026, 2, 2, 9)


def test_steps_and_measures_are_read_and_written_in_their_order() -> None:
    document = with_task(
        steps=[{"text": "Tack"}, {"text": "Weld", "done": True}],
        measures=[
            {"kind": "size", "name": "Rod", "value": "1.6 mm"},
            {"kind": "torque", "name": "Clamp", "value": "20 Nm"},
        ],
    )
    build, faults = read_document(json.dumps(document), now=NOW)
    assert (faults, build is None) == ((), False)
    assert build is not None
    task = get_by_key(build.tasks, "weld")
    assert task.steps == (Step(text="Tack"), Step(text="Weld", done=True))
    assert task.measures == (
        Measure(kind="size", name="Rod", value="1.6 mm"),
        Measure(kind="torque", name="Clamp", value="20 Nm"),
    )
    assert read_document(write_document(build), now=NOW) == (build, ())


def test_a_document_without_them_is_read_and_written_without_them() -> None:
    document = with_task()
    build, faults = read_document(json.dumps(document), now=NOW)
    assert faults == ()
    assert build is not None
    assert [(task.steps, task.measures) for task in build.tasks] == [((), ())] * 2
    assert '"steps"' not in write_document(build)


def test_a_fault_names_the_task_and_the_step() -> None:
    fault = only_fault(with_task(steps=[{"text": "Tack", "done": "yes"}]))
    assert (fault.kind, fault.key, fault.field) == ("task", "weld", "steps")
    assert "step Tack" in fault.text
    assert "true or false" in fault.text


def test_a_measure_of_another_kind_says_which_there_are() -> None:
    entry = {"kind": "weight", "name": "Rod", "value": "1 kg"}
    fault = only_fault(with_task(measures=[entry]))
    assert "torque, size" in fault.text
    assert "measure Rod" in fault.text


def test_every_fault_comes_at_once() -> None:
    faults = faults_in(
        with_task(steps=["Tack", {"done": True}, {"text": 3}], measures=[{"kind": "size"}])
    )
    assert {(fault.kind, fault.key) for fault in faults} == {("task", "weld")}
    assert len(faults) == 5, [fault.text for fault in faults]

"""The kept order in the build document and in the checks. Expected texts: the program's own."""

import datetime as dt
from dataclasses import replace

from tests.exchange.documents import small_document, small_task, text_of
from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.build.build_input import Fault
from webapp.build.checks.input_checks import faults_of
from webapp.build.verbs.wish_links import without_lost_links
from webapp.exchange.build_document import read_document, write_document


def faults_with(kept_order: object) -> tuple[Fault, ...]:
    document = small_document(tasks=[small_task("weld"), small_task("start")])
    document["build"] = {**document["build"], "kept_order": kept_order}
    return read_document(text_of(document), now=NOW)[1]


def test_a_kept_order_is_written_and_reads_the_same() -> None:
    again, _ = read_document(write_document(RICH_BUILD), now=NOW)
    assert again is not None
    assert again.kept_order == RICH_BUILD.kept_order == ("mount", "drain", "start")
    assert again.kept_on == dt.date(2026, 2, 8)
    assert again.kept_setup_first is True


def test_a_document_without_one_follows_the_house_rules_and_says_nothing_of_it() -> None:
    build, faults = read_document(text_of(small_document()), now=NOW)
    assert build is not None
    assert not faults
    assert build.kept_order == ()
    assert build.kept_on is None
    assert build.kept_setup_first is False
    assert "kept_" not in write_document(build)


def test_every_unknown_or_doubled_key_is_named_at_once() -> None:
    faults = faults_with(["start", "gone", "weld", "weld", "lost"])
    assert [(fault.kind, fault.field) for fault in faults] == [("build", "kept_order")] * 3
    texts = " ".join(fault.text for fault in faults)
    for name in ("names gone,", "names weld twice", "names lost,"):
        assert name in texts


def test_what_is_no_list_of_keys_is_refused_by_name() -> None:
    (fault,) = faults_with("weld, start")
    assert "kept_order" in fault.text


def test_finished_tasks_in_a_kept_order_are_no_fault() -> None:
    tasks = tuple(replace(task, finished_on=NOW.date()) for task in RICH_BUILD.tasks)
    build = replace(RICH_BUILD, tasks=tasks)
    assert not [fault for fault in faults_of(build) if fault.field == "kept_order"]


def test_a_task_that_is_taken_out_leaves_the_kept_order() -> None:
    tasks = tuple(task for task in RICH_BUILD.tasks if task.key != "drain")
    assert without_lost_links(replace(RICH_BUILD, tasks=tasks)).kept_order == ("mount", "start")

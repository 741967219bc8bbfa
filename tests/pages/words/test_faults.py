"""Faults on a page: by name, never by key."""

from webapp.build.build_input import Fault
from webapp.pages.words.faults import said


def fault(key: str, text: str) -> Fault:
    return Fault(kind="task", key=key, field="hours", text=text)


def test_a_page_names_a_thing_without_its_key() -> None:
    text = "Task Weld the bracket (weld): the hours are missing. Type them in."
    assert said(fault("weld", text)) == (
        "Task Weld the bracket: the hours are missing. Type them in."
    )


def test_brackets_of_a_name_and_of_a_sentence_stay() -> None:
    text = "Task Mounts (rear): it is too long (4,001 hours)."
    assert said(fault("rear_mounts", text)) == text
    assert said(fault("", text)) == text


def test_the_key_of_a_dependency_goes_too() -> None:
    text = "Dependency Weld -> Paint (weld -> paint): the wait is below 0."
    assert said(fault("weld -> paint", text)) == "Dependency Weld -> Paint: the wait is below 0."

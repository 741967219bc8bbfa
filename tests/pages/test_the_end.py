"""What the end is called: on every page of a build by the build's own name for it."""

import contextvars
import html
import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.starter.fitting import begun_with
from webapp.build.wish import Wish
from webapp.command.documents import print_plan
from webapp.exchange.build_document import read_document, write_document
from webapp.pages.words.the_end import call_the_end, capital_end, of_the_end, the_end
from webapp.services.seed_builds import starter_list
from webapp.storage.builds import create_build

PAGES = (
    *("bench", "order", "path", "wishes", "week", "parts", "shop", "tasks", "tasks/new"),
    *("tasks/first_drive", "tasks/motor_in", "parts/new", "starter", "scope", "record", "log"),
    *("shop/people", "shop/setups", "shop/subsystems", "shop/build", "shop/copies"),
    *(
        "drop-tasks?task=first_drive",
        "soundness",
        "remove-task?key=first_drive",
        "wishes/heat",
        "week/compare",
    ),
)


def conversion() -> BuildInput:
    electric = starter_list("electric")
    assert electric is not None
    build = begun_with(
        BuildInput(name="The Heron", now=NOW, first_start=None), electric, electric.usual
    )
    wish = Wish(key="heat", text="Seat heaters", logged_on=NOW.date())
    return replace(build, wishes=(wish,))


@pytest.fixture
def electric(bare: Shop) -> Shop:
    """An electric conversion, called The Heron."""
    bare.client.get("/")
    with bare.database.writing() as session:
        create_build(session, conversion())
    return bare


@pytest.mark.parametrize("name", PAGES)
def test_no_page_of_a_conversion_speaks_of_first_start(electric: Shop, name: str) -> None:
    text = electric.settled(name)
    assert re.findall(r".{0,60}[Ff]irst start.{0,60}", text) == []
    assert "irst drive" in text


def test_the_notice_after_a_change_names_the_end_too(electric: Shop) -> None:
    _, text = electric.post("shop/weekend")
    assert "Saved. First drive " in html.unescape(text)


def test_a_page_of_a_swap_after_that_of_a_conversion_speaks_of_first_start(electric: Shop) -> None:
    assert "First drive" in electric.page("bench")
    electric.client.post("/builds/demo")
    assert "First start, likely" in electric.client.get("/builds/the-heron-2/bench").text


def test_faults_name_the_end_as_the_build_does() -> None:
    texts = [fault.text for fault in faults_of(replace(conversion(), first_start=None))]
    assert any("it has no first drive." in text for text in texts)
    assert not any("first start" in text for text in texts)


def test_the_name_is_written_and_read() -> None:
    again, faults = read_document(write_document(conversion()), now=NOW)
    assert not faults
    assert again is not None
    assert again.end_name == "first drive"


def test_the_command_names_the_end_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "electric.json"
    file.write_text(write_document(conversion()), encoding="utf-8")
    contextvars.copy_context().run(print_plan, str(file), as_json=False)
    said = capsys.readouterr().out
    assert "First drive " in said
    assert "irst start" not in said


def test_what_the_end_is_called_is_first_start_until_a_build_says_otherwise() -> None:
    def called(build: BuildInput) -> tuple[str, str, str]:
        call_the_end(build)
        return the_end(), capital_end(), of_the_end("First start is after first start.")

    bare = BuildInput(name="", now=NOW, first_start=None)
    for build, wanted in (
        (bare, ("first start", "First start", "First start is after first start.")),
        (
            replace(bare, end_name="first run"),
            ("first run", "First run", "First run is after first run."),
        ),
    ):
        assert contextvars.copy_context().run(called, build) == wanted

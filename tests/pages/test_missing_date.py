"""The pages of a build that has nothing to tell a date from: they say what to enter."""

import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.build.builds import build_of, task
from tests.pages.conftest import NOW, Shop, client_of
from tests.stored_files import opened_new
from webapp.build.build_input import BuildInput
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish
from webapp.pages.words.missing import MISSING_WORDS, SHORT_WORDS
from webapp.planning.order.known_date import Missing
from webapp.storage.builds import create_build

LAMP = Wish(
    key="lamp",
    text="A lamp",
    logged_on=NOW.date(),
    hours=ThreePoint(optimistic=1, most_likely=2, pessimistic=3),
)
EMPTY = replace(build_of([task("z", 0)], first_start="z", now=NOW), wishes=(LAMP,))
NO_HOURS = replace(
    build_of([task("a", 0), task("z", 0)], [("a", "z")], first_start="z", now=NOW), wishes=(LAMP,)
)
BUILDS: dict[Missing, BuildInput] = {"tasks": EMPTY, "hours": NO_HOURS}


@pytest.fixture(params=list(BUILDS))
def missing(request: pytest.FixtureRequest) -> Missing:
    found: Missing = request.param
    return found


@pytest.fixture
def shop(missing: Missing, tmp_path: Path) -> Iterator[Shop]:
    """A build without work before first start, or without any hours."""
    data_file = tmp_path / "bare.sqlite3"
    database = opened_new(data_file)
    with database.writing() as session:
        create_build(session, replace(BUILDS[missing], name="The Heron"))
    database.close()
    with client_of(data_file) as client:
        yield Shop(client, data_file)


@pytest.mark.parametrize("name", ["path", "order", "wishes", "bench"])
def test_the_page_says_what_to_enter_and_gives_no_date(
    shop: Shop, missing: Missing, name: str
) -> None:
    text = shop.settled(name)
    assert SHORT_WORDS[missing] in text
    assert MISSING_WORDS[missing] in text
    assert 'id="first-start-firm"' not in text
    assert 'id="headroom"' not in text


def test_no_order_is_looked_for_and_no_move_is_told(shop: Shop) -> None:
    assert 'id="tighten"' not in shop.page("order")
    until = time.monotonic() + 60
    while "Working it out" in (text := shop.settled("wishes")) and time.monotonic() < until:
        time.sleep(0.05)
    assert "What it moves first start by is not known" in text
    assert "no change" not in text

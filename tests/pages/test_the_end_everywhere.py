"""What the end is called, wherever a person who lives with an electric or a boat build gets to."""

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.pages.conftest import NOW, Shop, client_of
from tests.pages.crawling import pages_of
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.starter.fitting import begun_with
from webapp.planning.order.job_order import make_plan
from webapp.services.seed_builds import starter_list
from webapp.storage.builds import create_build

NAMES = {"electric": "first drive", "boat": "first run"}
STEM = "/builds/the-heron"


def _text(answer: str) -> str:
    """What is told of a page, what stands in its attributes too; keys and ids are no words."""
    return html.unescape(answer)


@pytest.fixture(params=sorted(NAMES))
def lived(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Shop, list[str]]]:
    """A build from a list, a week into it, and every answer that its person got on the way."""
    listed = starter_list(request.param)
    assert listed is not None
    begun = begun_with(
        BuildInput(name="The Heron", now=NOW, first_start=None), listed, listed.usual
    )
    data_file = tmp_path / "lived.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, begun)))
    with client_of(data_file) as client:
        shop = Shop(client, data_file)
        yield shop, _first_week(shop, begun)


def _first_week(shop: Shop, build: BuildInput) -> list[str]:
    """A wish, an evening at the bench with its questions, the end moved, a week that is closed."""
    order = [one.key for one in make_plan(build).tasks]
    first, later = order[0], order[-3]
    return [
        shop.post("shop/weekend")[1],
        shop.post("bench/wish", wish="A light in the locker")[1],
        shop.post("bench/begin", task=later, sure="")[1],
        shop.post("bench/begin", task=first, sure="on")[1],
        shop.post("bench/stop", task=first, worked="1", left="2", outcome="set_aside")[1],
        shop.post("bench/stop", task=first, worked="99", left="2", outcome="stopped")[1],
        shop.post("bench/stop", task=first, worked="1", left="2", outcome="stopped")[1],
        shop.post("shop/build", name="", first_start="nothing of the kind")[1],
        shop.post("shop/build", name="The Heron", first_start=_name(build, order[-2]))[1],
        shop.post("drop-tasks", tasks=build.first_start or "")[1],
        shop.post("wishes/a-light-in-the-locker", likely="x")[1],
        shop.post(f"close-week?week={NOW:%G-W%V}")[1],
    ]


def _name(build: BuildInput, key: str) -> str:
    task = find_by_key(build.tasks, key)
    return task.name if task else ""


def test_every_page_and_answer_of_a_conversion_and_of_a_boat_names_its_own_end(
    lived: tuple[Shop, list[str]],
) -> None:
    shop, answers = lived
    end = shop.stored().end_name
    pages = {**pages_of(shop.client, STEM), **{f"answer {n}": a for n, a in enumerate(answers)}}
    told = {
        name: re.findall(r".{0,60}[Ff]irst start.{0,60}", _text(text))
        for name, text in pages.items()
    }
    assert {name: found for name, found in told.items() if found} == {}
    assert sum(end[1:] in text for text in pages.values()) > len(pages) // 2

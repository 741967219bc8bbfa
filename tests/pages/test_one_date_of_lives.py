"""One date of random builds that were lived for a while: every page and the command say the same.

With what such a life leaves behind: a log, finishes, parts here and parts to come. Of every second
one another order is kept than that of the house rules.
"""

import datetime as dt
import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.lives.life_builds import life_build
from tests.lives.living import lived
from tests.pages.conftest import shop_of
from tests.pages.test_one_date import PAGES, calendar_dates, frame, words
from webapp.__main__ import main
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import write_document
from webapp.pages.words.amounts import day
from webapp.planning.order.job_order import make_plan

SEEDS = (1, 2, 3, 4, 5, 6)
DAYS_LIVED = 5


def a_life(seed: int) -> BuildInput:
    """A build with a record of its own and a date that is wanted."""
    build = life_build(seed)
    build = lived(build, build.now + dt.timedelta(days=DAYS_LIVED, hours=seed))
    build = replace(build, name="The Heron", wanted_by=build.now.date() + dt.timedelta(days=40))
    if seed % 2:
        keys = tuple(task.key for task in reversed(make_plan(build).tasks))
        build = replace(build, kept_order=keys, kept_on=build.now.date())
    return build


@pytest.mark.parametrize("seed", SEEDS)
def test_pages_and_command_say_one_date(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    build = a_life(seed)
    today = build.now.date()
    with shop_of(build, tmp_path) as shop:
        shop.settled("bench")
        dates = {name: frame(shop.settled(name)) for name in PAGES}
        path = words(shop.settled("path"))
        calendar = calendar_dates(shop)
    assert len(set(dates.values())) == 1, dates
    likely, firm = dates["bench"]
    assert calendar == {"First start, likely": likely, "First start, firm": firm}
    assert f"now to {likely}" in path  # what the time is made of
    assert f"8 in 10, firm {firm}" in path
    document = tmp_path / "life.json"
    document.write_text(write_document(build), "utf-8")
    assert main(["plan", str(document), "--json", "--draws", "1000"]) == 0
    first_start = json.loads(capsys.readouterr().out)["first_start"]
    told = [dt.datetime.fromisoformat(first_start[name]) for name in ("at", "p80")]
    assert [day(at, today=today) for at in told] == [likely, firm]

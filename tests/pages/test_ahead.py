"""Why a task goes before one of an earlier subsystem: on Order, and on the page of the task."""

import html
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from tests.pages.conftest import Shop as Served
from tests.pages.conftest import client_of
from tests.planning.order.test_departures import WELDER, two
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.time_units import DAY
from webapp.pages.words.departures import ahead_at_length, ahead_in_short
from webapp.planning.order.departures import KEPT_ORDER
from webapp.planning.simulator.house_rules import deciding_columns
from webapp.planning.simulator.work_arrays import lay_out
from webapp.storage.builds import create_build

LONGEST = two(waits=48.0, house_rules=("longest_way", "working_order"))


def serve(tmp_path: Path, build: BuildInput) -> Iterator[Served]:
    data_file = tmp_path / "two.sqlite3"
    named = replace(build, name="The Heron")
    data_file.write_bytes(file_with(lambda session: create_build(session, named)))
    with client_of(data_file, now=build.now) as client:
        yield Served(client, data_file)


def words_of(served: Served, page: str) -> str:
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", served.settled(page))).split())


def test_the_rule_is_said_where_the_order_departs_and_with_what_it_does(tmp_path: Path) -> None:
    """The hose of the coolant goes before the core of the air: a cure of two days hangs on it.

    Without the rule the cure begins an hour later, and first start comes an hour later.
    """
    for served in serve(tmp_path, LONGEST):
        order = words_of(served, "order")
        said = "before CORE (Air): the longer way still to go"
        assert order.count(said) == 1
        assert re.search(rf"{re.escape(said)}, which (saves|makes) ", order)
        task = words_of(served, "tasks/hose")
        assert "Why first goes before CORE (Air), which could have begun then: from it" in task
        assert re.search(r"On this build that (saves|makes) ", task)
        assert "Why first" not in words_of(served, "tasks/core")


def test_the_kept_order_is_the_reason_where_one_is_kept(tmp_path: Path) -> None:
    kept = two(kept_order=("hose", "core", "z"), kept_on=LONGEST.now.date() - DAY)
    for served in serve(tmp_path, kept):
        assert "before CORE (Air): as the kept order has it" in words_of(served, "order")


def test_the_setup_that_is_out_has_no_price_of_a_rule_where_an_order_is_kept(
    tmp_path: Path,
) -> None:
    """What the rule does is asked of the house rules alone, which do not hold."""
    kept: dict[str, Any] = {
        "kept_order": ("core", "hose", "z"),
        "kept_on": LONGEST.now.date() - DAY,
    }
    welder: dict[str, Any] = {"hose": {"setup": "tig"}, "setups": (WELDER,), "setups_out": ("tig",)}
    for served in serve(tmp_path, two(**welder, **kept, kept_setup_first=True)):
        order = words_of(served, "order")
        assert "before CORE (Air): its setup is out" in order
        assert "its setup is out, which" not in order
        assert "In it, what needs the setup that is out goes before the rest." in order
        assert "On this build that" not in words_of(served, "tasks/hose")


def test_rules_that_are_tried_have_their_own_reasons_and_no_price(tmp_path: Path) -> None:
    for served in serve(tmp_path, two(waits=48.0)):
        assert "before CORE" not in words_of(served, "order")
        tried = words_of(served, "order?rule=longest_way&rule=working_order")
        assert "before CORE (Air): the longer way still to go" in tried
        assert "way still to go, which" not in tried


def test_every_reason_there_can_be_has_its_words() -> None:
    """All that decides between tasks, but working order: it never departs from itself."""
    work = lay_out(replace(LONGEST, house_rules=HOUSE_RULES))
    for why in (KEPT_ORDER, *(name for name, _ in deciding_columns(work, work.begun))):
        if why != "working_order":
            assert ahead_in_short(why, "the core", "").startswith("goes before the core: ")
            assert ahead_at_length(why, "the core", "Air").endswith(".")

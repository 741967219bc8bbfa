"""`keyturn plan --draws`: the chances of first start, field by field, and what is refused."""

import json
from typing import Any

import pytest

from tests.command.test_plan import MONDAY, document, planned
from tests.forked_command import keyturn

SIDE: list[dict[str, Any]] = [
    {"key": "a", "hours": [2, 4, 12]},
    {"key": "b", "hours": [1, 2, 3]},
    {"key": "z", "hours": 1},
    {"key": "later", "hours": 5},
]
CHAIN = [{"before": "a", "after": "z"}, {"before": "z", "after": "later"}]
RECORD = document(
    [{"key": "done", "hours": 2, "begun_on": "2026-01-05", "finished_on": "2026-01-05"}, *SIDE],
    CHAIN,
    now="2026-01-12T00:00",
    log=[{"task": "done", "on": "2026-01-05", "hours": 8, "left": 0}],
)


def test_draws_add_four_dates_and_the_criticality_and_nothing_else() -> None:
    plain, plan = planned(document(SIDE, CHAIN)), planned(document(SIDE, CHAIN), "--draws", "500")
    first_start = plan["first_start"]
    dates = [first_start.pop(name) for name in ("p10", "p50", "p80", "p90")]
    assert dates == sorted(dates)
    assert all(len(date) == len("2026-01-05T05:00") for date in dates)
    shares = {task["key"]: task.pop("criticality") for task in plan["tasks"]}
    assert plan == plain
    # a, then z: the only chain. b is no part of it, and later comes after first start.
    assert shares == {"a": 1.0, "b": 0.0, "z": 1.0, "later": 0.0}


def test_without_spread_every_date_is_that_of_the_plan() -> None:
    build = document([{"key": "z", "hours": 2}])
    assert planned(build, "--draws", "100", "--as-estimated")["first_start"] == {
        "at": "2026-01-05T02:00",
        "shop_hours": 2.0,
        "p10": "2026-01-05T02:00",
        "p50": "2026-01-05T02:00",
        "p80": "2026-01-05T02:00",
        "p90": "2026-01-05T02:00",
    }


def test_the_estimates_alone_give_the_quantiles_of_their_distribution() -> None:
    """(2, 4, 12): P10 2.899, P50 4.767, P80 6.503, P90 7.453 (scipy.stats.beta, recomputed).

    10,000 draws, one in each slice of [0, 1], are within a minute or two of them.
    """
    build = document([{"key": "z", "hours": [2, 4, 12]}])
    first_start = planned(build, "--draws", "10000", "--as-estimated")["first_start"]
    for name, hours in (("p10", 2.899), ("p50", 4.767), ("p80", 6.503), ("p90", 7.453)):
        day, clock = first_start[name].split("T")
        assert day == MONDAY[:10]
        hour, minute = map(int, clock.split(":"))
        assert abs(hour + minute / 60 - hours) <= 2 / 60


def test_the_same_seed_gives_the_same_dates_and_another_one_others() -> None:
    build = document(SIDE, CHAIN)
    usual = planned(build, "--draws", "50", "--as-estimated")
    assert planned(build, "--draws", "50", "--as-estimated") == usual
    assert planned(build, "--draws", "50", "--as-estimated", "--seed", "1") == usual
    assert planned(build, "--draws", "50", "--as-estimated", "--seed", "99") != usual


def test_the_record_counts_unless_it_is_switched_off() -> None:
    """The one finished task took four times its hours: the record makes the date later."""
    off = {**RECORD, "build": {**RECORD["build"], "calibrated": False, "attended": False}}
    counted, uncounted, alone = (
        planned(RECORD, "--draws", "400")["first_start"]["p50"],
        planned(off, "--draws", "400")["first_start"]["p50"],
        planned(RECORD, "--draws", "400", "--as-estimated")["first_start"]["p50"],
    )
    assert counted > max(uncounted, alone)


def test_first_start_without_a_date_has_no_chances() -> None:
    build = document(SIDE, CHAIN, parts=[{"key": "p", "name": "P", "for": ["z"], "arrived": False}])
    plan = planned(build, "--draws", "50")
    assert plan["first_start"] is None
    assert {task["criticality"] for task in plan["tasks"]} == {0.0}


def test_the_table_tells_the_dates_too() -> None:
    build = json.dumps(document([{"key": "z", "hours": 2}]))
    done = keyturn("plan", "-", "--draws", "1000", "--as-estimated", typed=build)
    at = "2026-01-05 02:00"
    assert (
        f"First start, of 1,000 draws: 10% by {at}, 50% by {at}, 80% by {at}, 90% by {at}."
        in done.stdout
    )


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--as-estimated"], "--as-estimated says how to draw, and nothing is drawn. Add --draws"),
        (["--seed", "3"], "--seed says how to draw, and nothing is drawn. Add --draws"),
        (["--draws", "0"], "give a whole number from 1 to 100,000"),
        (["--draws", "100001"], "give a whole number from 1 to 100,000"),
        (["--draws", "1e3"], "give a whole number from 1 to 100,000"),
        (["--draws", "9" * 5000], "give a whole number from 1 to 100,000"),
        (["--draws", "9", "--seed", "-1"], "give a whole number from 0"),
        (["--draws", "9", "--seed", "1.5"], "give a whole number from 0"),
    ],
)
def test_what_cannot_be_drawn_is_refused_with_a_sentence(options: list[str], words: str) -> None:
    done = keyturn("plan", "-", *options, typed=json.dumps(document(SIDE, CHAIN)))
    assert done.returncode == 2
    assert words in done.stderr
    assert done.stdout == ""


def test_both_idle_options_are_told_at_once() -> None:
    done = keyturn("plan", "-", "--seed", "3", "--as-estimated", typed="{}")
    assert len(done.stderr.splitlines()) == 2


HERON = {
    "key": "heron",
    "name": "The Heron",
    "taken_on": "2026-01-04",
    "kinds": [
        {"name": "", "tasks": 20, "actual_hours": 90, "expected_hours": 60, "worth": 15},
    ],
    "weeks": 10,
    "workable_hours": 100,
    "worked_hours": 80,
}


def test_an_earlier_builds_record_is_drawn_and_named_and_left_out_as_estimated() -> None:
    bare = document(SIDE, CHAIN)
    heard = bare | {"earlier_records": [HERON]}
    without, plan = planned(bare, "--draws", "500"), planned(heard, "--draws", "500")
    assert plan["first_start"]["p50"] > without["first_start"]["p50"]
    assert plan["first_start"]["at"] > without["first_start"]["at"]
    assert plan["earlier_records"] == [
        {"build": "The Heron", "taken_on": "2026-01-04", "tasks": 20, "weeks": 10}
    ]
    assert "earlier_records" not in without
    options = ("--draws", "500", "--as-estimated")
    assert planned(heard, *options) == planned(bare, *options)
    off = bare | {"earlier_records": [HERON | {"counts": False}]}
    assert planned(off, "--draws", "500") == without


def test_the_table_says_whose_record_it_is() -> None:
    heard = document(SIDE, CHAIN) | {"earlier_records": [HERON]}
    done = keyturn("plan", "-", "--draws", "100", typed=json.dumps(heard))
    assert done.returncode == 0, done.stderr
    assert "With the record of The Heron beside its own." in done.stdout
    assert "20 tasks took 1.50 times their hours, 10 weeks, 80 % of the" in done.stdout

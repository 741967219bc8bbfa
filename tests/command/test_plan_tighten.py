"""`keyturn plan --tighten`: the tightened plan with its bound, and what is refused."""

import json

import pytest

from tests.command.test_plan import document, planned
from tests.forked_command import keyturn

# By space claim the rack goes first: 4 + 1 + 24 + 1 = 30 h. The cure begun first: 1 + 24 + 1.
RACK = document(
    [
        {"key": "rack", "hours": 4, "space_litres": 50},
        {"key": "seal", "hours": 1},
        {"key": "z", "hours": 1},
    ],
    [{"before": "seal", "after": "z", "wait_hours": 24}, {"before": "rack", "after": "z"}],
)


def test_the_tightened_plan_tells_its_bound_and_that_it_was_proved() -> None:
    assert planned(RACK)["first_start"]["shop_hours"] == 30
    plan = planned(RACK, "--tighten", "5")
    first_start = plan["first_start"]
    assert first_start["shop_hours"] == 26
    assert (first_start["bound_shop_hours"], first_start["proved_best"]) == (26, True)
    assert [task["key"] for task in plan["tasks"]] == ["seal", "rack", "z"]


def test_without_it_the_bound_is_left_out() -> None:
    assert "bound_shop_hours" not in planned(RACK)["first_start"]


def test_the_table_says_what_was_proved() -> None:
    done = keyturn("plan", "-", "--tighten", "5", typed=json.dumps(RACK))
    assert "This is the best possible order." in done.stdout


@pytest.mark.parametrize("limit", ["0", "-1", "soon", "nan", "inf"])
def test_a_limit_that_is_none_is_refused(limit: str) -> None:
    done = keyturn("plan", "-", "--tighten", limit, typed=json.dumps(RACK))
    assert done.returncode == 2
    assert "time limit" in done.stderr


def test_a_build_without_hours_has_no_date_tightened_either() -> None:
    bare = document([{"key": "a", "hours": 0}, {"key": "z", "hours": 0}], [])
    bare["dependencies"] = [{"before": "a", "after": "z"}]
    assert planned(bare, "--tighten", "1")["first_start"] is None
    done = keyturn("plan", "-", "--tighten", "1", "--draws", "50", typed=json.dumps(bare))
    assert "No task before first start has hours yet" in done.stdout
    assert "best possible" not in done.stdout

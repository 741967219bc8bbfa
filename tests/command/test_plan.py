"""The command, run as a person runs it: `keyturn plan` field by field, faults, import, export."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.forked_command import keyturn

SEEDS = Path(__file__).parents[2] / "seed_data"
ALWAYS = [
    {"day": day, "opens": "00:00", "closes": "24:00"}
    for day in ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
]
EVENINGS = [
    {"day": day, "opens": "18:00", "closes": "21:00"} for day in ["mon", "tue", "wed", "thu", "fri"]
]
MONDAY = "2026-01-05T00:00"


def document(
    tasks: list[dict[str, Any]],
    dependencies: list[dict[str, Any]] | None = None,
    *,
    week: list[dict[str, Any]] = ALWAYS,
    first_start: str | None = "z",
    now: str = MONDAY,
    shop: dict[str, Any] | None = None,
    **rest: Any,
) -> dict[str, Any]:
    return {
        "format": "keyturn-build",
        "version": 1,
        "build": {"name": "Bench", "now": now, "first_start": first_start},
        "shop": {"people": 1, "week": week, **(shop or {})},
        "subsystems": [{"key": "air", "name": "Air", "medium": "air", "order": 1}],
        "tasks": [{"name": task["key"].upper(), "subsystem": "air", **task} for task in tasks],
        "dependencies": dependencies or [],
        **rest,
    }


def planned(build: dict[str, Any], *options: str) -> dict[str, Any]:
    done = keyturn("plan", "-", "--json", *options, typed=json.dumps(build))
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def by_key(plan: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {task["key"]: task for task in plan["tasks"]}


def test_the_plan_has_exactly_the_fields_of_the_format() -> None:
    plan = planned(document([{"key": "z", "hours": [1, 2, 3]}]))
    assert set(plan) == {"first_start", "tasks", "unplanned"}
    assert plan["first_start"] == {"at": "2026-01-05T02:00", "shop_hours": 2.0}
    assert plan["tasks"] == [
        {
            "key": "z",
            "begins": "2026-01-05T00:00",
            "ends": "2026-01-05T02:00",
            "begin_shop_hours": 0.0,
            "end_shop_hours": 2.0,
            "setup_hours": 0.0,
            "held_by": [],
            "total_float_hours": 0.0,
            "free_float_hours": 0.0,
            "on_path": True,
            "days_cost": pytest.approx(2 / 24),
        }
    ]
    assert plan["unplanned"] == []


def test_setups_waits_and_evenings_come_out_as_worked_by_hand() -> None:
    # Weld: 0.75 h of getting out and 2 h, Monday 18:00 to 20:45. It cools 24 h, to Tuesday 20:45.
    # Grind needs no setup and fills Monday 20:45 to Tuesday 18:45 (1 h). Then paint, 20:45.
    build = document(
        [
            {"key": "weld", "hours": 2, "setup": "tig"},
            {"key": "grind", "hours": 1},
            {"key": "z", "hours": 0.25},
        ],
        [
            {"before": "weld", "after": "z", "wait_hours": 24, "why": "cools"},
            {"before": "weld", "after": "grind"},
            {"before": "grind", "after": "z"},
        ],
        week=EVENINGS,
        shop={"setups": [{"key": "tig", "name": "TIG welder out", "hours": 0.75}]},
    )
    tasks = by_key(planned(build))
    assert tasks["weld"]["setup_hours"] == 0.75
    assert (tasks["weld"]["begins"], tasks["weld"]["ends"]) == (
        "2026-01-05T18:00",
        "2026-01-05T20:45",
    )
    assert tasks["grind"]["ends"] == "2026-01-06T18:45"
    assert tasks["z"]["begins"] == "2026-01-06T20:45"
    assert tasks["z"]["held_by"] == [{"kind": "wait", "what": "weld"}]
    assert {"kind": "session", "what": "2026-01-05T18:00"} in tasks["weld"]["held_by"]


def test_the_setup_that_is_out_at_now_needs_no_getting_out() -> None:
    shop = {"setups": [{"key": "tig", "name": "TIG", "hours": 0.75}], "setup_out": "tig"}
    plan = planned(document([{"key": "z", "hours": 1, "setup": "tig"}], shop=shop))
    assert by_key(plan)["z"]["setup_hours"] == 0


def test_two_people_find_out_both_setups_that_are_out_at_now() -> None:
    setups = [{"key": key, "name": key, "hours": 0.75} for key in ("tig", "saw")]
    shop = {"people": 2, "setups": setups, "setup_out": ["saw", "tig"]}
    tasks = [{"key": key, "hours": 1, "setup": key} for key in ("tig", "saw")]
    plan = planned(document([*tasks, {"key": "z", "hours": 1}], shop=shop))
    assert [by_key(plan)[key]["setup_hours"] for key in ("tig", "saw")] == [0, 0]


def test_a_finish_given_as_a_date_counts_from_that_days_last_closing() -> None:
    # Finished on Monday, closed at 21:00; 24 h later is Tuesday 21:00, so Wednesday 18:00.
    build = document(
        [{"key": "a", "hours": 1, "finished_on": "2026-01-05"}, {"key": "z", "hours": 1}],
        [{"before": "a", "after": "z", "wait_hours": 24}],
        week=EVENINGS,
        now="2026-01-06T09:00",
    )
    plan = planned(build)
    assert [task["key"] for task in plan["tasks"]] == ["z"]
    assert by_key(plan)["z"]["begins"] == "2026-01-07T18:00"


def test_begun_work_has_its_hours_left_or_the_expected_less_the_logged() -> None:
    tasks = [
        {"key": "a", "hours": 5, "begun_on": "2026-01-04", "hours_left": 1.5},
        {"key": "b", "hours": 5, "begun_on": "2026-01-04"},
        {"key": "c", "hours": 5, "begun_on": "2026-01-04"},
        {"key": "z", "hours": 0},
    ]
    log = [
        {"task": "b", "on": "2026-01-04", "hours": 3},
        {"task": "c", "on": "2026-01-04", "hours": 9},
    ]
    links = [{"before": key, "after": "z"} for key in "abc"]
    found = by_key(planned(document(tasks, links, log=log)))
    hours = {key: found[key]["end_shop_hours"] - found[key]["begin_shop_hours"] for key in "abc"}
    assert hours == {"a": 1.5, "b": 2, "c": 0.25}


def test_outside_work_runs_on_the_wall_clock_and_begun_ends_after_its_days() -> None:
    tasks = [
        {"key": "out", "outside_days": 2},
        {"key": "away", "hours": 1, "outside_days": 3, "begun_on": "2026-01-04T12:00"},
        {"key": "z", "hours": 1},
    ]
    links = [{"before": "out", "after": "z"}, {"before": "away", "after": "z"}]
    found = by_key(planned(document(tasks, links, week=EVENINGS)))
    assert (found["out"]["begins"], found["out"]["ends"]) == (MONDAY, "2026-01-07T00:00")
    assert found["away"]["ends"] == "2026-01-07T12:00"
    assert found["z"]["begins"] == "2026-01-07T18:00"


def test_a_bake_takes_its_oven_and_no_hands() -> None:
    tasks = [
        {"key": "bake", "hours": 3, "people": 0, "stations": {"oven": 1}},
        {"key": "trim", "hours": 3},
        {"key": "z", "hours": 0},
    ]
    links = [{"before": "bake", "after": "z"}, {"before": "trim", "after": "z"}]
    shop = {"stations": [{"key": "oven", "name": "Oven", "count": 1}]}
    found = by_key(planned(document(tasks, links, shop=shop)))
    assert found["bake"]["begin_shop_hours"] == found["trim"]["begin_shop_hours"] == 0


def test_what_can_never_start_is_a_gap_and_no_fault() -> None:
    parts = [{"key": "hose", "name": "Hose", "for": ["a"], "arrived": False}]
    build = document(
        [{"key": "a", "hours": 1}, {"key": "z", "hours": 1}, {"key": "b", "hours": 1}],
        [{"before": "a", "after": "z"}],
        parts=parts,
    )
    plan = planned(build)
    assert plan["first_start"] is None
    assert [task["key"] for task in plan["tasks"]] == ["b"]
    assert [gap["key"] for gap in plan["unplanned"]] == ["a", "z"]
    assert "Hose" in plan["unplanned"][0]["why"]


def test_the_cost_in_days_is_wall_clock_hours_over_24() -> None:
    tasks = [{"key": "a", "hours": 3}, {"key": "b", "hours": 1}, {"key": "z", "hours": 1}]
    links = [{"before": "a", "after": "z"}, {"before": "b", "after": "z"}]
    # 5 h over two evenings end on Tuesday 20:00; without a on Monday 20:00.
    found = by_key(planned(document(tasks, links, week=EVENINGS)))
    assert found["a"]["days_cost"] == 1.0


def test_every_fault_comes_on_its_own_line_and_nothing_is_planned() -> None:
    build = document(
        [{"key": "a", "hours": [3, 2, 1]}, {"key": "b", "hours": -1}, {"key": "z", "hours": 1}],
        [
            {"before": "a", "after": "b"},
            {"before": "b", "after": "a"},
            {"before": "a", "after": "q"},
        ],
    )
    done = keyturn("plan", "-", "--json", typed=json.dumps(build))
    assert done.returncode == 2
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    for words in ("out of order", "-1", "A -> B -> A", "q"):
        assert any(words in line for line in lines), words
    assert all(line.strip() for line in lines)


@pytest.mark.parametrize(
    "typed", ["", "{", "[]", "null", '{"format": "keyturn-build"}', "\x00", "[" * 100_000]
)
def test_what_is_no_build_document_is_refused_with_a_sentence(typed: str) -> None:
    done = keyturn("plan", "-", "--json", typed=typed)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.strip()
    assert "Traceback" not in done.stderr


def test_a_file_that_is_not_there_and_a_folder_are_named(tmp_path: Path) -> None:
    for name in (str(tmp_path / "no.json"), str(tmp_path)):
        done = keyturn("plan", name)
        assert done.returncode == 2
        assert name in done.stderr
        assert "Traceback" not in done.stderr


def test_the_table_for_people_names_every_task() -> None:
    done = keyturn("plan", str(SEEDS / "heron.json"))
    assert done.returncode == 0
    assert "First start" in done.stdout
    assert "Radiator lower bracket" in done.stdout


def test_export_after_import_gives_the_same_plan(tmp_path: Path) -> None:
    data = {"KEYTURN_DATA": str(tmp_path / "builds.sqlite3"), "KEYTURN_NOW": "2026-02-09T18:00"}
    heron = SEEDS / "heron.json"
    brought = keyturn("import", str(heron), **data)
    assert brought.returncode == 0, brought.stderr
    out = tmp_path / "out.json"
    taken = keyturn("export", "the-heron", "-o", str(out), **data)
    assert taken.returncode == 0, taken.stderr
    before = keyturn("plan", str(heron), "--json")
    after = keyturn("plan", str(out), "--json")
    assert json.loads(before.stdout) == json.loads(after.stdout)


def test_a_faulty_document_is_not_imported(tmp_path: Path) -> None:
    data = {"KEYTURN_DATA": str(tmp_path / "builds.sqlite3")}
    bad = tmp_path / "bad.json"
    bad.write_text(json.dumps(document([{"key": "z", "hours": -1}])))
    assert keyturn("import", str(bad), **data).returncode == 2
    assert keyturn("export", "bench", **data).returncode == 2

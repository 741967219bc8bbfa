"""The scope ledger: frozen by hand or by the first begun task, and what came after it."""

import datetime as dt
from dataclasses import replace

from tests.pages.conftest import Shop
from tests.pages.form_build import small_build
from webapp.build.build_input import BuildInput, Task
from webapp.build.three_point import ThreePoint
from webapp.pages.scope.views import ledger_points, scope_account
from webapp.storage.scope_history import ScopeChange

BUILD = small_build()  # 3 h, 2 h and 0 h expected


def changed(build: BuildInput) -> BuildInput:
    """The weld set aside, the bracket estimated at 5 h, a lamp of 2 h added."""
    bracket, weld, start = build.tasks
    return replace(
        build,
        tasks=(
            replace(bracket, hours=ThreePoint.certain(5)),
            replace(weld, set_aside_on=build.now.date()),
            start,
            Task(key="lamp", name="Lamp", hours=ThreePoint.certain(2), wish="lamp"),
        ),
    )


def test_the_account_tells_added_dropped_and_estimated_anew_apart() -> None:
    account = scope_account(BUILD, changed(BUILD))
    assert account.baseline_hours == 3 + 2 + 0
    assert [task.key for task in account.added] == ["lamp"]
    assert [task.key for task in account.dropped] == ["weld"]
    assert [task.key for task in account.re_estimated] == ["bracket"]
    assert account.re_estimated_hours == 5 - 3
    assert account.growth == 2 / 5  # added over baseline hours


def test_a_build_like_its_baseline_has_not_grown() -> None:
    assert scope_account(BUILD, BUILD).growth == 0


def test_the_points_follow_the_changes_one_by_one() -> None:
    at = [BUILD.now + dt.timedelta(days=n) for n in range(4)]

    def change(day: int, task: str, kind: str, before: float, after: float) -> ScopeChange:
        return ScopeChange(
            at=at[day], task=task, name=task, kind=kind,  # type: ignore[arg-type]
            hours_before=before, hours_after=after, wish=None,
        )  # fmt: skip

    points = ledger_points(
        BUILD,
        at[0],
        (
            change(1, "lamp", "added", 0, 2),
            change(2, "bracket", "re-estimated", 3, 5),
            change(3, "weld", "dropped", 2, 0),
        ),
    )
    assert [(p.plan_hours, p.added_hours) for p in points] == [(5, 0), (5, 2), (7, 2), (5, 2)]


def test_freezing_by_hand_and_adding_a_task_shows_the_growth(shop: Shop) -> None:
    assert "No baseline is frozen yet." in shop.page("scope")
    status, text = shop.post("scope")
    assert status == 200
    assert "Scope has grown by 0 %" in text
    row = {"name-0": "Shim the mounts", "likely-0": "25", "certain-0": "on"}
    shop.post("tasks/new", **row)
    text = shop.page("scope")
    hours = sum(t.hours.expected for t in shop.stored().tasks if t.set_aside_on is None) - 25
    assert f"Scope has grown by {25 / hours * 100:.1f} %" in text
    assert "Shim the mounts" in text
    assert "+25 h" in text


def test_the_first_begun_task_freezes_the_baseline(bare: Shop) -> None:
    bare.client.post("/builds/new", data={"name": "The Wren"})
    create = "/builds/the-wren"
    bare.client.post(
        f"{create}/tasks/new",
        data={"name-0": "Cut the plate", "likely-0": "4", "needed-0": "on"},
    )
    assert "No baseline is frozen yet." in bare.client.get(f"{create}/scope").text
    bare.client.post(f"{create}/bench/begin", data={"task": "cut-the-plate"})
    assert bare.stored("the-wren").tasks[-1].begun_on or bare.stored("the-wren").tasks[0].begun_on
    assert "Measured against baseline 1" in bare.client.get(f"{create}/scope").text
    bare.client.post(f"{create}/bench/stop", data={
        "task": "cut-the-plate", "worked": "1", "left": "2", "outcome": "stopped"
    })  # fmt: skip
    bare.client.post(f"{create}/bench/begin", data={"task": "cut-the-plate"})
    assert "baseline 2" not in bare.client.get(f"{create}/scope").text

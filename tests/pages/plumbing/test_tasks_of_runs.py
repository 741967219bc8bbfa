"""The tasks of a run, and of a circuit, in one press: told before, made once, taken back."""

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_work import undo
from tests.pages.test_how import Figures
from webapp.build.by_key import get_by_key


def without_its_tasks(shop: Shop, *tasks: str) -> None:
    for task in tasks:
        assert shop.removed(f"remove-task?key={task}")[0] == 200


def test_the_tasks_of_a_run_are_told_made_once_and_taken_back(shop: Shop) -> None:
    assert "Work that is not planned yet" not in shop.page("runs/act")
    without_its_tasks(shop, "pressure_hose", "steering_fit")
    before = shop.stored()
    assert get_by_key(before.plumbing.runs, "s3").tasks == ()
    page = shop.page("runs/s3")
    assert "task-hours" in Figures(page).explained
    for name in ("Cut: ", "Fit: ", "Clamp: "):
        assert f"<b>{name}" in page
    press = {"about": "s3", "does": "run-tasks", "run": "s3"}
    status, page = shop.post("run-tasks", **press)
    assert status == 200
    made = shop.stored()
    assert get_by_key(made.plumbing.runs, "s3").tasks[0] == "s3-cut"
    assert "Work that is not planned yet" not in page
    assert "Saved. First start" in page  # and what it does to its date
    assert shop.post("run-tasks", **press)[0] == 200  # the other window
    assert shop.stored() == made
    assert undo(shop, page)[0] == 200
    assert shop.stored() == before


def test_the_tasks_of_every_run_of_a_circuit_that_has_none(shop: Shop) -> None:
    without_its_tasks(shop, "pressure_hose", "steering_fit")
    assert "4 runs have no task yet." in shop.page("plumbing/steering")
    press = {"about": "steering", "does": "circuit-tasks", "circuit": "steering"}
    assert shop.post("run-tasks", **press)[0] == 200
    runs = shop.stored().plumbing.runs
    assert all(get_by_key(runs, key).tasks for key in ("s1", "s2", "s3", "s4"))
    assert "have no task yet" not in shop.page("plumbing/steering")
    assert shop.post("run-tasks", about="nowhere", does="run-tasks")[0] == 404

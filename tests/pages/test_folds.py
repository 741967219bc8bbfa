"""A task's form by kind: folded fields are sent, and none that is to be mended stays folded."""

import re

from tests.pages.conftest import Shop
from webapp.build.precedence import needed_for
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks.folds import FOLDS, ROW_FOLDS, open_folds
from webapp.pages.tasks.task_form import shown_of

TASK = "tasks/rad_bracket"


def folds_in(page: str) -> dict[str, bool]:
    """Which folds a page has, and whether each is open."""
    found = re.findall(r'<details class="more kind" id="fold-(\w+)"( open)?>', page)
    return {name: bool(is_open) for name, is_open in found}


def test_every_field_of_a_kind_is_one_of_the_form_and_folded_when_it_is_opened(shop: Shop) -> None:
    assert folds_in(shop.page(TASK)) == dict.fromkeys(FOLDS, False)
    build = shop.stored()
    task = next(each for each in build.tasks if each.key == "rad_bracket")
    fields = {re.sub(r"-[0-9]+$", "", name) for name in shown_of(build, task).texts}
    folded = {stem for stems in FOLDS.values() for stem in stems}
    always = {"hours_left", "finished_on", "begun_on", "set_aside_on"}
    always |= {"likely", "well", "fights", "certain", "outside_days"}
    assert fields - folded == always & fields


def test_a_fault_in_a_folded_field_opens_its_fold_alone(shop: Shop) -> None:
    status, page = shop.post(TASK, people="some", likely="6")
    assert status == 422
    assert [name for name, is_open in folds_in(page).items() if is_open] == ["takes"]
    status, page = shop.post(TASK, **{"before-7": "no such task"})
    assert status == 422
    assert [name for name, is_open in folds_in(page).items() if is_open] == ["before"]


def test_more_rows_are_shown_where_they_are() -> None:
    assert open_folds(TypedForm(), ROW_FOLDS) == {
        *("before", "after", "parts"),
        *("steps", "torque", "size"),
    }
    assert not open_folds(TypedForm())


def test_a_post_without_the_folded_fields_changes_nothing_else(shop: Shop) -> None:
    before = shop.stored()
    status, _ = shop.post(TASK, hours_left="2")
    assert status == 200
    after = shop.stored()
    changed = [(b, a) for b, a in zip(before.tasks, after.tasks, strict=True) if a != b]
    assert [(a.key, a.hours_left) for _, a in changed] == [("rad_bracket", 2.0)]
    (was, now), *_ = changed
    assert was.people == now.people
    assert (was.helper, was.in_one_go, was.caution) == (now.helper, now.in_one_go, now.caution)
    assert (before.dependencies, before.parts) == (after.dependencies, after.parts)


def test_lists_of_a_job_card_say_how_many_there_are_before_they_are_opened(shop: Shop) -> None:
    page = shop.page(TASK)  # two come before it, both finished in the demo; three after it
    assert re.search(r"Comes before it <span class=\"aside\">2, all finished", page)
    assert re.search(r"Comes after it <span class=\"aside\">3<", page)


def test_setting_a_task_aside_in_its_form_says_what_it_does_to_the_date_first(shop: Shop) -> None:
    """The same words as on the Bench; the bracket is on the path: without it there is no date."""
    before = shop.stored()
    status, text = shop.post(TASK, set_aside_on="2026-02-10")
    assert status == 422
    said = re.findall(r'id="sure-wrong">([^<]*)<', text)
    assert len(said) == 1
    assert "Set aside it is not done until it is begun again." in said[0]
    assert "with this set aside it has no date until the task is begun again" in said[0]
    assert shop.stored() == before
    assert shop.post(TASK, set_aside_on="2026-02-10", sure="on")[0] == 200


def test_a_task_that_first_start_does_not_need_moves_nothing_when_it_is_set_aside(
    shop: Shop,
) -> None:
    build = shop.stored()
    needed = needed_for(build, build.first_start or "")
    later = next(task for task in build.tasks if task.is_open and task.key not in needed)
    status, text = shop.post(f"tasks/{later.key}", set_aside_on="2026-02-10")
    assert status == 422
    (said,) = re.findall(r'id="sure-wrong">([^<]*)<', text)
    assert said.startswith("First start does not move"), said

"""Steps, torques and sizes on the pages: ticked by one tap, typed in the form of their task."""

import html
import re

import pytest

from tests.benchmarks.forms_found import Form, forms_in, forms_of
from tests.pages.conftest import Shop
from tests.pages.test_two_windows import opened, saved, saving
from webapp.build.build_input import Measure, Step, Task
from webapp.build.by_key import get_by_key
from webapp.build.limits import MOST_STEPS_OF_A_TASK

KEY = "rad_bracket"
CUT, TACK, WELD, DEBURR = (
    "Cut the flat to the card pattern",
    "Tack it, hang the radiator, measure the gap to the fan",
    "Weld out, captive nuts in",
    "Deburr it, bag it with the brackets for the coater",
)
"""The steps of the bracket in the demo build: the first two are ticked."""


def task_of(shop: Shop, key: str = KEY) -> Task:
    return get_by_key(shop.stored().tasks, key)


def ticked(shop: Shop) -> list[str]:
    return [step.text for step in task_of(shop).steps if step.done]


def ticks(shop: Shop, page: str = "bench") -> dict[str, Form]:
    """The forms on a page that tick a step, by the step."""
    forms = forms_of(shop.client, f"/builds/the-heron/{page}")
    return {form.sent["step"][0]: form for form in forms if form.action.endswith("/tick-step")}


def text_of(page: str) -> str:
    return html.unescape(page)


# ticking ------------------------------------------------------------------------------------
@pytest.mark.parametrize("page", ["bench", f"tasks/{KEY}"])
def test_a_step_is_ticked_from_the_bench_and_from_its_page(shop: Shop, page: str) -> None:
    status, text = saved(shop, ticks(shop, page)[WELD])
    assert status == 200
    assert ticked(shop) == [CUT, TACK, WELD]
    assert "3 of 4 done" in text
    assert ("Do this now" if page == "bench" else "Change this task") in text
    assert "Saved. No date hangs on it." in text


def test_a_ticked_step_is_unticked_by_the_same_tap(shop: Shop) -> None:
    saved(shop, ticks(shop)[CUT])
    assert ticked(shop) == [TACK]
    assert "1 of 4 done" in shop.page("bench")


def test_two_windows_that_tick_different_steps_both_succeed(shop: Shop) -> None:
    here, there = ticks(shop), ticks(shop)
    assert saved(shop, here[WELD])[0] == saved(shop, there[DEBURR])[0] == 200
    assert ticked(shop) == [CUT, TACK, WELD, DEBURR]
    assert "all 4 done" in shop.page("bench")


def test_a_step_that_another_window_ticked_already_is_ticked(shop: Shop) -> None:
    here, there = ticks(shop), ticks(shop)
    assert saved(shop, here[WELD])[0] == saved(shop, there[WELD])[0] == 200
    assert ticked(shop) == [CUT, TACK, WELD]


def test_a_tick_of_a_step_that_was_worded_otherwise_says_so_and_stores_nothing(shop: Shop) -> None:
    old = ticks(shop)[WELD]
    assert saved(shop, opened(shop, f"tasks/{KEY}"), step__2="Weld out, nuts in")[0] == 200
    status, text = saved(shop, old)
    assert status == 404
    assert f"The step “{WELD}” is not there any more" in text_of(text)
    assert ticked(shop) == [CUT, TACK]


def test_a_tick_of_a_task_that_is_gone_says_so(shop: Shop) -> None:
    assert shop.post("tick-step", task="none", step="x", done="on")[0] == 404


def test_a_tick_leaves_an_old_page_of_the_task_alone(shop: Shop) -> None:
    """Both are kept: the tick made meanwhile, and the words typed into the older page."""
    old_page = opened(shop, f"tasks/{KEY}")
    saved(shop, ticks(shop)[WELD])
    assert saved(shop, old_page, step__2="Weld out, nuts in")[0] == 200
    assert task_of(shop).steps[2] == Step(text="Weld out, nuts in", done=True)


def test_a_tick_needs_no_new_plan(shop: Shop) -> None:
    """The figures at hand are those of before: nothing is worked out anew."""
    before = shop.settled("bench")
    saved(shop, ticks(shop)[WELD])
    after = shop.page("bench")  # not settled: what is being worked out would say so
    assert "being worked out" not in after
    date = r"First start, likely</dt>\s*<dd[^>]*>([^<]+)<"
    assert re.findall(date, before) == re.findall(date, after) != []


def test_a_tick_stands_in_the_journal_and_is_taken_back(shop: Shop) -> None:
    text = saved(shop, ticks(shop)[WELD])[1]
    undo = next(form for form in forms_in(text) if "take-back" in form.action)
    assert f"Changed the task “Radiator lower bracket”: “{WELD}” ticked." in shop.page("journal")
    assert saved(shop, undo)[0] == 200
    assert ticked(shop) == [CUT, TACK]


def test_an_earlier_tick_is_taken_back_and_a_later_one_stays(shop: Shop) -> None:
    text = saved(shop, ticks(shop)[WELD])[1]
    undo = next(form for form in forms_in(text) if "take-back" in form.action)
    saved(shop, ticks(shop)[DEBURR])
    assert saved(shop, undo)[0] == 200
    assert ticked(shop) == [CUT, TACK, DEBURR]


# finishing ----------------------------------------------------------------------------------
def test_finishing_with_steps_not_ticked_is_asked_about_and_taken_when_meant(shop: Shop) -> None:
    shop.post("bench/begin", task=KEY)
    stop = {"task": KEY, "worked": "2", "outcome": "finished", "sure": "on"}
    status, text = shop.post("bench/stop", **stop)
    assert status == 422
    asked = f"2 of its 4 steps are not ticked: “{WELD}” and “{DEBURR}”. Is it finished all the same"
    assert asked in text_of(text)
    assert task_of(shop).finished_on is None
    assert shop.post("bench/stop", **stop, confirmed="finished")[0] == 200
    assert task_of(shop).finished_on is not None


def test_finishing_with_every_step_ticked_is_not_asked_about(shop: Shop) -> None:
    for step in (WELD, DEBURR):
        saved(shop, ticks(shop)[step])
    shop.post("bench/begin", task=KEY)
    stop = {"task": KEY, "worked": "2", "outcome": "finished", "sure": "on"}
    assert shop.post("bench/stop", **stop)[0] == 200
    assert task_of(shop).finished_on is not None


def test_the_form_of_the_task_asks_the_same_and_counts_what_it_ticks_itself(shop: Shop) -> None:
    form = opened(shop, f"tasks/{KEY}")
    status, text = saved(shop, form, finished_on="2026-02-10", hours_left="", ticked__2="on")
    assert status == 422
    assert f"1 of its 4 steps is not ticked: “{DEBURR}”." in text_of(text)
    again = saving(forms_in(text), form.action)
    assert saved(shop, again, ticked__3="on")[0] == 200


# the form -----------------------------------------------------------------------------------
def test_steps_are_pasted_one_on_each_line_before_the_step_that_is_picked(shop: Shop) -> None:
    form = opened(shop, f"tasks/{KEY}")
    pasted = "Mark the holes\r\n\r\n  Drill   them \r\n"
    assert saved(shop, form, more_steps=pasted, more_before=WELD)[0] == 200
    assert [step.text for step in task_of(shop).steps] == [
        *(CUT, TACK, "Mark the holes", "Drill them", WELD, DEBURR)
    ]


def test_an_emptied_step_goes_and_torque_and_size_are_typed_as_text(shop: Shop) -> None:
    form = opened(shop, f"tasks/{KEY}")
    typed = {
        "step__0": "",
        "torque__0": "Feet",
        "torque_value__0": "to the maker's figure",
        "size_value__1": "M10",
        "size__2": "",
    }
    assert saved(shop, form, **typed)[0] == 200
    task = task_of(shop)
    assert [step.text for step in task.steps] == [TACK, WELD, DEBURR]
    assert task.measures == (
        Measure(kind="size", name="Flat", value="40 x 4 mm"),
        Measure(kind="size", name="Captive nuts", value="M10"),
        Measure(kind="torque", name="Feet", value="to the maker's figure"),
    )
    assert "to the maker's figure" in shop.page("bench")


def test_two_windows_that_add_steps_and_sizes_both_succeed(shop: Shop) -> None:
    here, there = (opened(shop, f"tasks/{KEY}") for _ in range(2))
    assert saved(shop, here, step__4="Prime it", size__3="Bolt", size_value__3="M8")[0] == 200
    assert saved(shop, there, step__4="Weigh it", size__3="Nut", size_value__3="M8")[0] == 200
    task = task_of(shop)
    assert [step.text for step in task.steps[4:]] == ["Prime it", "Weigh it"]
    assert [one.name for one in task.measures[3:]] == ["Bolt", "Nut"]


def test_a_size_changed_in_both_windows_is_asked_about(shop: Shop) -> None:
    here, there = (opened(shop, f"tasks/{KEY}") for _ in range(2))
    assert saved(shop, here, size_value__0="50 x 5 mm")[0] == 200
    status, text = saved(shop, there, size_value__0="40 x 5 mm")
    assert status == 422
    assert "it says “50 x 5 mm” now, and you typed “40 x 5 mm”" in text_of(text)


def test_every_fault_stands_beside_its_field_and_what_was_typed_is_kept(shop: Shop) -> None:
    form = opened(shop, f"tasks/{KEY}")
    status, text = saved(
        shop,
        form,
        step__4=CUT,
        more_steps=f"{WELD}\n{'x' * 501}",
        torque__0="Feet",
        size_value__3="M8",
    )
    text = text_of(text)
    assert status == 422
    for said in (
        f"the step “{CUT}” stands there twice",
        "has 501 characters",
        "the torque of “Feet” is not typed",
        "the size “M8” does not say what it is of",
    ):
        assert said in text
    assert f"{WELD}\n{'x' * 501}</textarea>" in text
    assert ticked(shop) == [CUT, TACK]


def test_ten_thousand_steps_are_refused_with_their_number_and_kept(shop: Shop) -> None:
    form = opened(shop, f"tasks/{KEY}")
    rows = {f"step__{row}": f"Step {row}" for row in range(4, 10_000)}
    status, text = saved(shop, form, **rows)  # row by row it would take minutes
    assert status == 422
    assert f"10,000 steps as typed; {MOST_STEPS_OF_A_TASK} is the most" in text
    assert "Step 9999" in text
    assert len(task_of(shop).steps) == 4


def test_empty_rows_and_control_characters_say_nothing(shop: Shop) -> None:
    form = opened(shop, f"tasks/{KEY}")
    rows = {f"step__{row}": " \x00\x1b " for row in range(4, 400)}
    assert saved(shop, form, **rows, step__400="Prime\x07 it")[0] == 200
    assert [step.text for step in task_of(shop).steps[4:]] == ["Prime it"]


# their order --------------------------------------------------------------------------------
def moves(shop: Shop) -> list[str]:
    """The buttons on the page of the task that move a step."""
    page = shop.page(f"tasks/{KEY}")
    return re.findall(r'form="move-step" name="move" value="([^"]*)"', text_of(page))


def test_a_step_changes_places_with_the_one_above_or_below_and_the_steps_stay_open(
    shop: Shop,
) -> None:
    down = [f"down {text}" for text in (CUT, TACK, WELD)]
    up = [f"up {text}" for text in (TACK, WELD, DEBURR)]
    assert sorted(moves(shop)) == sorted(down + up)  # the first goes not up, the last not down
    status, page = shop.post("move-step", task=KEY, move=f"up {WELD}")
    assert status == 200
    assert [step.text for step in task_of(shop).steps] == [CUT, WELD, TACK, DEBURR]
    assert ticked(shop) == [CUT, TACK]  # a tick goes with its step
    assert re.search(r'<details[^>]*id="fold-steps" open', page)
    assert "No date hangs on it." in page
    shop.post("move-step", task=KEY, move=f"down {CUT}")
    assert [step.text for step in task_of(shop).steps] == [WELD, CUT, TACK, DEBURR]
    assert "Changed the task “Radiator lower bracket”" in shop.page("journal")


@pytest.mark.parametrize(
    "move", [f"up {CUT}", f"down {DEBURR}", "up gone", "over it", "", f"up  {WELD}"]
)
def test_a_move_that_can_not_be_changes_nothing(shop: Shop, move: str) -> None:
    before = shop.stored()
    assert shop.post("move-step", task=KEY, move=move)[0] == 200
    assert shop.stored() == before
    assert shop.post("move-step", task="none", move=move)[0] == 404


def test_every_button_in_the_form_of_the_task_saves_it_or_asks_for_rows(shop: Shop) -> None:
    """Enter in a field presses the first of them."""
    page = shop.page(f"tasks/{KEY}")
    form = page[page.index('class="edit"') :]
    own = [each for each in re.findall(r"<button[^>]*>", form) if "form=" not in each]
    assert "name=" not in own[0]

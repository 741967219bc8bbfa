"""Undecided wishes whose task is finished or set aside: asked about, and kept from nothing."""

from collections.abc import Mapping

import pytest

from tests.benchmarks.forms_found import forms_in, forms_of
from tests.pages.conftest import NOW, Shop

TODAY = f"{NOW:%Y-%m-%d}"
# In the demo the gauge is to come before the exhaust is fitted and after the downpipe is tacked.
GAUGE = "A gauge for the heat of the exhaust"


def ended(shop: Shop, key: str, typed: Mapping[str, str]) -> tuple[int, str]:
    """The form of a task's page, sent as it stands with what is typed into it."""
    address = f"/builds/the-heron/tasks/{key}"
    form = next(one for one in forms_of(shop.client, address) if one.action == address)
    answer = shop.client.post(address, data={**form.sent, **typed})
    return answer.status_code, answer.text


@pytest.mark.parametrize("field", ["finished_on", "set_aside_on"])
def test_a_task_is_ended_though_an_undecided_wish_was_to_come_before_it(
    shop: Shop, field: str
) -> None:
    typed = {field: TODAY, "hours_left": ""}
    status, page = ended(shop, "exhaust_fit", typed)
    assert status == 422
    assert f"“{GAUGE}, boss welded into the downpipe”" in page
    assert "is a wish to come before it, not decided yet: it will not any more." in page
    status, page = ended(shop, "exhaust_fit", {**typed, "sure": "on"})
    assert status == 200, page
    build = shop.stored()
    assert not next(one for one in build.tasks if one.key == "exhaust_fit").is_open
    wish = next(one for one in build.wishes if one.key == "exhaust_gauge")
    assert (wish.after, wish.before) == ("downpipe_tack", None)


def test_a_task_is_set_aside_though_an_undecided_wish_was_to_come_after_it(shop: Shop) -> None:
    typed = {"set_aside_on": TODAY, "hours_left": "", "sure": "on"}
    status, page = ended(shop, "downpipe_tack", typed)
    assert status == 200, page
    wish = next(one for one in shop.stored().wishes if one.key == "exhaust_gauge")
    assert (wish.after, wish.before) == (None, "exhaust_fit")


def test_what_a_wish_stands_after_stays_once_it_is_finished(shop: Shop) -> None:
    typed = {"finished_on": TODAY, "hours_left": "", "sure": "on"}
    assert ended(shop, "downpipe_tack", typed)[0] == 200
    wish = next(one for one in shop.stored().wishes if one.key == "exhaust_gauge")
    assert (wish.after, wish.before) == ("downpipe_tack", "exhaust_fit")


def test_finishing_taken_back_gives_the_wish_its_place_again(shop: Shop) -> None:
    typed = {"finished_on": TODAY, "hours_left": "", "sure": "on"}
    _, page = ended(shop, "exhaust_fit", typed)
    undo = next(one for one in forms_in(page) if one.action.endswith("/take-back"))
    assert shop.client.post(undo.action, data=undo.sent).status_code == 200
    wish = next(one for one in shop.stored().wishes if one.key == "exhaust_gauge")
    assert (wish.after, wish.before) == ("downpipe_tack", "exhaust_fit")

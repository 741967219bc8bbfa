"""The form of the tasks of a run: made with hours of one's own, or picked among those there are."""

import html
import re

import pytest

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_tasks_of_runs import without_its_tasks
from tests.pages.plumbing.test_work import run_of
from tests.pages.test_two_windows import opened, saved
from webapp.build.by_key import get_by_key

FORM = "tasks-of-run?key=s3"


def minutes(page: str, name: str) -> int:
    """The minutes that a field of hours shows."""
    found = re.search(rf'name="{name}" value="(\d+):(\d\d)"', page)
    assert found is not None
    return int(found[1]) * 60 + int(found[2])


def freed(shop: Shop) -> None:
    without_its_tasks(shop, "pressure_hose", "steering_fit")


def test_the_tasks_it_can_make_are_shown_with_what_their_hours_are_made_of(shop: Shop) -> None:
    freed(shop)
    page = shop.page(FORM)
    assert "Fit: " in page
    run = run_of(shop, "s3")  # a hose: it meets the port at either end, and has no bend
    assert [piece.piece for piece in run.pieces] == ["hose"]
    assert "2 joints" in page
    joint, fit = (minutes(page, name) for name in ("each-joint", "amount-fit"))
    assert fit == pytest.approx(2 * joint, abs=1.5)  # both are shown to the minute


def test_hours_are_reckoned_anew_from_the_hours_of_a_joint(shop: Shop) -> None:
    freed(shop)
    joints = len(run_of(shop, "s3").pieces) + 1
    fields = {"does": "make", "make-fit": "on", "amount-fit": "0:36", "each-joint": "0:30"}
    status, page = shop.post(FORM, **fields, reckon="1")
    assert status == 200
    hours = joints * 0.5
    assert f'name="amount-fit" value="{int(hours)}:{round(hours % 1 * 60):02d}"' in page
    assert run_of(shop, "s3").tasks == ()  # nothing is made by that
    status, page = shop.post(FORM, **{**fields, "each-joint": "soon"}, reckon="1")
    assert status == 422
    assert "“soon” can not be read" in html.unescape(page)


def test_only_what_is_ticked_is_made_with_the_hours_that_are_typed(shop: Shop) -> None:
    freed(shop)
    fields = {"does": "make", "make-fit": "on", "amount-fit": "1:30", "amount-cut": "0:15"}
    status, _ = shop.post(FORM, **fields)
    assert status == 200
    assert run_of(shop, "s3").tasks == ("s3-fit",)
    fit = get_by_key(shop.stored().tasks, "s3-fit")
    assert fit.hours.most_likely == 1.5
    assert fit.spread_assumed
    again = shop.stored()
    assert shop.post(FORM, **fields)[0] == 200  # from the other window: made once
    assert shop.stored() == again


def test_nothing_ticked_or_no_hours_are_said(shop: Shop) -> None:
    freed(shop)
    status, page = shop.post(FORM, does="make")
    assert (status, "Nothing is ticked" in page) == (422, True)
    status, page = shop.post(FORM, **{"does": "make", "make-fit": "on", "amount-fit": ""})
    assert status == 422
    assert "Fitting, hours: nothing is typed" in page
    assert run_of(shop, "s3").tasks == ()


def test_tasks_that_are_there_are_said_to_make_a_run(shop: Shop) -> None:
    before = run_of(shop, "s3").tasks
    form = opened(shop, FORM)
    page = shop.page(FORM)
    for key in before:
        assert get_by_key(shop.stored().tasks, key).name in page
    named = get_by_key(shop.stored().tasks, before[0]).name
    assert saved(shop, form, task__0=named, task__1="")[0] == 200
    assert run_of(shop, "s3").tasks == before[:1]
    status, page = saved(shop, opened(shop, FORM), task__1="No such task at all")
    assert status == 422
    assert "No such task at all" in page


def test_an_open_run_without_a_task_offers_to_make_one(shop: Shop) -> None:
    freed(shop)
    assert f'href="/builds/the-heron/{FORM}">make one of it' in shop.page("plumbing/steering")

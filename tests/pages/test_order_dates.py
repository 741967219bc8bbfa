"""Order-by dates: those of the date that is shown; of a large build worked out beside the page."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from tests.pages.conftest import NOW, Shop, without_tokens
from webapp.build.build_input import BuildInput
from webapp.pages.frame import context
from webapp.pages.parts import order_dates
from webapp.pages.words import amounts as words
from webapp.planning.chances.pace import paced_seconds
from webapp.planning.order.latest_arrivals import latest_arrivals
from webapp.services.forecast_figures import pace_shown
from webapp.storage.builds import create_build


def test_the_dates_belong_to_the_date_that_is_shown(shop: Shop) -> None:
    build = shop.stored()
    pace = pace_shown(build)
    at_the_pace = latest_arrivals(build, paced_seconds(build, pace.factors, pace.factor))
    assert at_the_pace != latest_arrivals(build)  # else nothing is told apart here
    text = shop.settled("parts")
    to_order = [part for part in build.parts if not part.arrived and part.ordered_on is None]
    held = [part for part in to_order if part.key in at_the_pace]
    assert held
    for part in held:
        latest = words.day(at_the_pace[part.key], today=NOW.date())
        assert f"must be here by {latest}, takes {words.days(part.lead_days or 0)}" in text


def test_a_page_of_a_large_build_does_not_wait_for_its_dates(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_once = shop.settled("parts")
    assert "Order by" in at_once
    monkeypatch.setattr(order_dates, "MOST_AT_ONCE", 0)
    meanwhile = shop.page("parts")
    assert "are being worked out" in meanwhile
    assert "Order by" not in meanwhile.split('id="parts-list"')[1]
    deadline = time.monotonic() + 60
    while "are being worked out" in (later := shop.page("parts")):
        assert time.monotonic() < deadline
        time.sleep(0.2)
    assert without_tokens(later.split("<main")[1]) == without_tokens(at_once.split("<main")[1])


def test_the_dates_are_asked_for_again_while_first_start_is_worked_out(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(context, "FORECAST_SECONDS", 0.0)
    listed = shop.page("parts").split('id="parts-list"')[1]
    assert "the dates may move with it" in listed
    assert 'hx-target="#parts-list"' in listed
    assert "may move with it" not in shop.settled("parts")


def test_the_dates_of_one_build_do_not_wait_for_those_of_another(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    with shop.database.writing() as session:
        other = create_build(session, replace(shop.stored(), name="The other"))
    begun, may_end = threading.Event(), threading.Event()

    def held_up(build: BuildInput, *given: object) -> object:
        if build.name != "The other":
            begun.set()
            assert may_end.wait(timeout=30)
        return latest_arrivals(build, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(order_dates, "latest_arrivals", held_up)
    with ThreadPoolExecutor(1) as beside:
        waiting = beside.submit(shop.page, "parts")
        try:
            assert begun.wait(timeout=30)
            assert shop.client.get(f"/builds/{other}/parts").status_code == 200
            assert not waiting.done()
        finally:
            may_end.set()
        assert "Order by" in waiting.result()

"""The times of the plan, asked in one moment, are the same on every page that tells them.

They are laid out at the pace of the forecast. While that is being worked out they are those of the
pace before; what shows them asks again until they are those of the forecast.
"""

import re
import threading
from typing import Any

import pytest

from tests.pages.conftest import Shop
from webapp.pages.frame import context
from webapp.services import planned_build
from webapp.services.forecast_figures import ForecastFigures, forecast_figures

TELL_TIMES = {
    "bench": ("now", "next-tasks", "tonight", "waiting-for"),
    "bench/cards": ("job-sheets",),
    "order": ("job-order",),
    "tasks/rad_bracket": ("card-facts", "paper-card"),
    "week": ("upcoming",),
    "parts": ("parts-list",),
}
"""The parts of pages that tell times of the plan, by their ids."""


def test_every_part_of_a_page_that_tells_times_asks_again_until_they_are_the_forecasts(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(context, "FORECAST_SECONDS", 0.0)
    go_on, figures = threading.Event(), forecast_figures

    def in_its_time(*given: Any, **named: Any) -> ForecastFigures | None:
        go_on.wait(60)
        return figures(*given, **named)

    monkeypatch.setattr(planned_build, "forecast_figures", in_its_time)
    for page, parts in TELL_TIMES.items():
        text = shop.page(page)
        for part in parts:
            again = re.search(rf'id="{part}" hx-get="([^"]*)" hx-trigger="load delay', text)
            assert again is not None, (page, part)
            assert f'id="{part}"' in shop.client.get(again[1]).text
    go_on.set()
    shop.settled("bench")
    for page, parts in TELL_TIMES.items():
        text = shop.settled(page)
        assert [part for part in parts if f'id="{part}" hx-get' in text] == [], page


def test_tonight_says_the_same_on_the_bench_and_on_the_cards_and_in_the_order(shop: Shop) -> None:
    shop.settled("bench")
    tonight = re.search(r'id="tonight".*?</section>', shop.page("bench"), re.DOTALL)
    assert tonight is not None
    said = re.findall(r'<b><a href="[^"]*">([^<]*)</a></b><span class="why">([^<]*)', tonight[0])
    assert said
    cards = shop.page("bench/cards")
    printed = dict(re.findall(r"<h2>([^<]*)</h2>\s*<p class=\"card-facts\">(.*?)</p>", cards, re.S))
    for name, times in said:
        begins, ends = re.findall(r"\d+:\d\d", times)[0], re.findall(r"\d+:\d\d", times)[-1]
        planned = re.search(r"<b>Planned</b> ([^<]*)\.", printed[name])
        assert planned is not None, name
        assert re.findall(r"\d+:\d\d", planned[1]) == [begins, ends], name


def test_what_is_passed_over_for_tonight_is_not_told_as_of_tonight(shop: Shop) -> None:
    shop.settled("bench")
    shop.post("bench/not-tonight", task="rad_bracket")
    text = shop.page("bench")
    tonight = re.search(r'id="tonight".*?</section>', text, re.DOTALL)
    assert tonight is not None
    assert "Not tonight:</b> “Radiator lower bracket”" in text
    assert "Radiator lower bracket" not in tonight[0]

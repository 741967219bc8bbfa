"""Cut lists over HTTP: what is to be cut, the best way of it, and the pieces on the shelf."""

import html
import json
import re
import time
from dataclasses import replace
from pathlib import Path
from threading import Event
from typing import Any

from tests.pages.conftest import Shop, client_of
from tests.pages.plumbing.test_work import undo
from tests.pages.test_how import Figures
from tests.pages.test_two_windows import opened, saved
from tests.plumbing.heron import heron
from tests.stored_files import file_with
from webapp.plumbing.cutting.best_cut import cut_at_once
from webapp.plumbing.cutting.cut_list import CutJob, CutList
from webapp.plumbing.names import piece_name
from webapp.services.cuttings import Cuttings
from webapp.storage.builds import create_build

TUBE = "tube 19 steel"
ADDRESS = f"cut-list?what={TUBE.replace(' ', '+')}"
SOLD = {"length-0": "2 m", "price-0": "30", "length-1": "3000", "price-1": "50", "kerf": "3"}


def worked_out(shop: Shop) -> str:
    until = time.monotonic() + 20
    while "being looked for" in (text := shop.page(ADDRESS)) and time.monotonic() < until:
        time.sleep(0.05)
    return text


def lengths(shop: Shop, what: str) -> list[tuple[float | None, int]]:
    shelf = shop.stored().plumbing.shelf
    found = [(one.length_mm, one.count) for one in shelf if piece_name(one) == what]
    return sorted(found, key=lambda one: -(one[0] or 0))


def test_every_kind_is_listed_and_cut_from_what_lies_there_where_that_is_enough(shop: Shop) -> None:
    text = shop.page("cut-list")
    for what in ("hose 19 coolant", "tube 60 aluminium", TUBE):
        assert f">{what}</a>" in text
    for page in (text, shop.page("cut-list?what=hose+38+coolant")):
        figures = Figures(page)
        assert figures.shown <= figures.explained
        assert not figures.unmarked
    assert "What lies on the shelf is enough" in shop.page("cut-list?what=hose+38+coolant")
    assert shop.client.get("/builds/the-heron/cut-list?what=hose+99").status_code == 404


def test_a_list_is_worked_out_laid_on_the_shelf_once_and_taken_back(shop: Shop) -> None:
    assert lengths(shop, TUBE) == []
    assert shop.post(ADDRESS, **SOLD)[0] == 200
    before = shop.stored()
    text = worked_out(shop)
    assert "The cheapest possible, and none as cheap takes fewer bars." in text
    assert "1 bar, price 30.00." in text
    assert text.count('class="pic cut-bars') == 2  # broad, and for a phone
    assert 'value="2000"' in text  # what was typed is in the form again
    # how it comes about speaks of this list: 850 + 820 = 1,670 mm, one bar of 2 m at 30
    assert "This list: 2 pieces of tube 19 steel, 1.67 m together, from no length" in text
    assert "from what is sold: 2 m at 30.00 and 3 m at 50.00." in text
    assert "Its price: 1 \N{MULTIPLICATION SIGN} 30.00 = 30.00." in text
    run = text.split('name="run" value="')[1].split('"')[0]
    cut = "cut-to-shelf" + ADDRESS.removeprefix("cut-list")
    status, page = shop.post(cut, run=run)
    assert status == 200
    laid = shop.stored()
    # one bar of 2 m: 850 and 820 mm, a cut of 3 mm behind each, 324 mm left
    assert lengths(shop, TUBE) == [(850, 1), (820, 1), (324, 1)]
    assert shop.post(cut, run=run)[0] == 422  # the other window
    assert shop.stored() == laid
    assert undo(shop, page)[0] == 200
    assert shop.stored() == before
    assert shop.post(cut, run="0")[0] == 409


def test_what_can_not_be_cut_is_told_and_what_was_typed_is_kept(shop: Shop) -> None:
    status, text = shop.post(ADDRESS, **{"length-0": "0.8 m", "price-0": "20"})
    assert status == 422
    assert "820 mm is longer than every stock: the longest is 800 mm. Make it in two" in text
    assert "Make it in two with a coupler, or add a longer stock." in text
    assert 'value="0.8 m"' in text
    status, text = shop.post(ADDRESS, **{"length-0": "long", "price-0": "x"})
    assert status == 422
    assert "is no number" in text


def test_a_search_is_told_while_it_goes_on_and_stopped_with_what_it_has(tmp_path: Path) -> None:
    data_file = tmp_path / "heron.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, heron())))

    def forever(job: CutJob, *, stop: Event, **_asked: Any) -> CutList | None:
        stop.wait(20)
        return cut_at_once(job)

    with client_of(data_file) as client:
        app: Any = client.app
        app.state.services = replace(app.state.services, cuttings=Cuttings(forever))
        shop = Shop(client, data_file)
        shop.post(ADDRESS, **SOLD)
        text = shop.page(ADDRESS)
        assert "This is the first answer; a better one is being looked for." in text
        assert 'hx-trigger="every 1s"' in text
        assert "It is cut" not in text  # not before it is the last word
        status, text = shop.post("stop-cutting" + ADDRESS.removeprefix("cut-list"))
        assert status == 200
        assert "being looked for" not in text
        assert "It is cut" in text


def test_what_is_sold_stays_as_long_as_it_was_in_inches(shop: Shop) -> None:
    shop.post("shop/units", units="us")
    assert shop.post(ADDRESS, **SOLD | {"length-1": "118 in", "kerf": "1/8"})[0] == 200
    text = worked_out(shop)
    # 2 m and 118 x 25.4 mm: sent again as they are shown, they are the same lengths
    shown = [
        f'name="length-{row}" value="{length} mm"' for row, length in enumerate((2000, 2997.2))
    ]
    assert all(re.search(each.replace('" ', '"[^>]* '), text) for each in shown), text


def test_what_is_sold_is_kept_with_the_build_told_in_the_journal_and_taken_back(
    shop: Shop,
) -> None:
    before = shop.stored()
    status, page = shop.post(ADDRESS, **SOLD)
    assert status == 200
    sold = shop.stored().plumbing.sold
    assert [(one.what, one.length_mm, one.price) for one in sold] == [
        (TUBE, 2000, 30),
        (TUBE, 3000, 50),
    ]
    assert "2 lengths that are sold" in shop.page("journal")
    with client_of(shop.data_file) as client:  # the program was started anew
        again = Shop(client, shop.data_file)
        assert 'value="2000"' in again.page(ADDRESS)
        assert 'value="50"' in again.page(ADDRESS)
    # pressed once more as it stands: nothing is stored, and no notice says so
    form = opened(shop, ADDRESS)
    status, once_more = saved(shop, form)
    assert status == 200
    assert 'id="notice"' not in once_more
    # another price, and one of two rows emptied
    status, page = saved(shop, opened(shop, ADDRESS), price__0="32", length__1="", price__1="")
    assert status == 200
    assert [(one.length_mm, one.price) for one in shop.stored().plumbing.sold] == [(2000, 32)]
    assert "price from 30 to 32" in shop.page("journal")
    document = json.loads(shop.client.get("/builds/the-heron/document").text)
    assert document["plumbing"]["sold"] == [{"what": TUBE, "length_mm": 2000, "price": 32}]
    assert undo(shop, page)[0] == 200
    assert [one.price for one in shop.stored().plumbing.sold] == [30, 50]
    assert replace(shop.stored().plumbing, sold=()) == before.plumbing


def test_the_same_length_twice_and_a_saw_of_a_metre_are_refused_with_what_was_typed(
    shop: Shop,
) -> None:
    twice = SOLD | {"length-1": "2000"}
    status, text = shop.post(ADDRESS, **twice)
    assert status == 422
    assert "stands there twice" in text
    assert 'value="50"' in text
    status, text = shop.post(ADDRESS, **SOLD | {"kerf": "1000"})
    assert status == 422
    assert "What the saw takes: it has to be from 0 to" in text
    assert shop.stored().plumbing.sold == ()


def test_two_windows_that_price_one_length_are_asked(shop: Shop) -> None:
    assert shop.post(ADDRESS, **SOLD)[0] == 200
    one, other = opened(shop, ADDRESS), opened(shop, ADDRESS)
    assert saved(shop, one, price__0="31")[0] == 200
    status, page = saved(shop, other, price__0="33")
    assert status == 422
    assert "it says “31” now, and you typed “33”" in html.unescape(page)
    assert [one.price for one in shop.stored().plumbing.sold] == [31, 50]

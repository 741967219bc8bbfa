"""A form whose thing is gone or called otherwise by now: nothing that was typed is lost."""

import html
import re
from urllib.parse import quote_plus

from tests.pages.conftest import Shop
from tests.pages.plumbing.test_drawing_runs import next_form
from tests.pages.plumbing.test_work import run_of
from tests.pages.test_two_windows import opened, saved
from webapp.pages.plumbing.piece_forms import digest_of


def typed_part(page: str) -> str:
    """What the page says was typed."""
    return html.unescape(page.partition('class="typed')[2].partition("</dl>")[0])


def test_a_piece_typed_for_a_removed_run_is_shown_with_what_became_of_the_run(shop: Shop) -> None:
    form = next_form(shop, "w_top")
    assert shop.removed("remove-run?key=w_top")[0] == 200
    status, page = shop.post("next-piece", **{**form, "piece": "tube", "number": "317"})
    assert status == 422
    said = html.unescape(page)
    assert "“Upper hose”" in said
    assert "was removed" in said
    typed = typed_part(page)
    assert "tube" in typed
    assert "317" in typed
    assert 'href="/builds/the-heron/plumbing/coolant"' in page  # the circuit it was drawn in


def test_a_removed_run_is_brought_back_from_the_page_that_misses_it(shop: Shop) -> None:
    before = run_of(shop, "w_top")
    form = next_form(shop, "w_top")
    assert shop.removed("remove-run?key=w_top")[0] == 200
    _, page = shop.post("next-piece", **{**form, "number": "317"})
    back = page.partition('action="/builds/the-heron/journal/take-back"')[2].partition("</form>")[0]
    fields = dict(re.findall(r'name="(first|last|back)" value="([^"]*)"', back))
    assert shop.post("journal/take-back", **fields)[0] == 200
    assert run_of(shop, "w_top") == before


def test_a_port_that_was_renamed_elsewhere_is_told_by_its_new_name(shop: Shop) -> None:
    one, other = (opened(shop, "port?key=rad.top") for _ in range(2))
    assert saved(shop, one, name="upper")[0] == 200
    status, page = saved(shop, other, port_size="41")
    assert status == 422
    said = html.unescape(page)
    assert "“top” of “Radiator, re-cored” is called “upper” now" in said
    assert "41" in typed_part(page)
    assert 'href="/builds/the-heron/port?key=rad.upper"' in page


def test_a_port_whose_component_was_removed_is_told_by_both_names(shop: Shop) -> None:
    one = opened(shop, "new-component?circuit=coolant&kind=tee")
    assert saved(shop, one, name="Loose T")[0] == 200
    tee = shop.stored().plumbing.components[-1]
    key = quote_plus(tee.key)
    port = opened(shop, f"port?key={key}.{tee.ports[0].name}")
    more = opened(shop, f"new-port?component={key}")
    itself = opened(shop, f"component?key={key}")
    assert shop.removed(f"remove-component?key={tee.key}")[0] == 200
    for form, typed in (
        (port, {"port_size": "41"}),
        (more, {"name": "third", "port_size": "41"}),
        (itself, {"name": "Lost T"}),
    ):
        status, page = saved(shop, form, **typed)
        assert status == 422
        said = html.unescape(page)
        assert "“Loose T”" in said
        assert "was removed" in said
        assert all(text in typed_part(page) for text in typed.values())


def test_a_piece_that_is_gone_keeps_what_was_typed_for_it(shop: Shop) -> None:
    form = opened(shop, "piece?run=w_top&at=1")
    about = {"run": "w_top", "at": "1", "piece_seen": digest_of(run_of(shop, "w_top").pieces[0])}
    assert shop.post("piece-work", **about, does="out")[0] == 200
    status, page = saved(shop, form, length_mm="612")
    assert status == 422
    said = html.unescape(page)
    assert "Upper hose" in said
    assert "612" in typed_part(page)
    assert 'href="/builds/the-heron/runs/w_top"' in page


def test_a_circuit_or_room_or_run_form_of_a_thing_that_is_gone_is_kept(shop: Shop) -> None:
    room = opened(shop, "room")
    assert saved(shop, room, name="Behind the grille", measured="200")[0] == 200
    key = shop.stored().rooms[-1].key
    room = opened(shop, f"room?key={key}")
    assert saved(shop, room, remove="on")[0] == 200
    status, page = saved(shop, room, measured="210")
    assert status == 422
    assert "“Behind the grille”" in html.unescape(page)
    assert "210" in typed_part(page)
    run = opened(shop, "run-form?key=w_top")
    assert shop.removed("remove-run?key=w_top")[0] == 200
    status, page = saved(shop, run, name="Top hose")
    assert status == 422
    assert "Top hose" in typed_part(page)


def test_a_new_run_in_a_circuit_that_is_gone_keeps_what_was_typed(shop: Shop) -> None:
    status, page = shop.post("new-run?circuit=gone", from_port="a.b", to_port="", name="My hose")
    assert status == 422
    assert "My hose" in typed_part(page)
    assert "There is no circuit “gone”" in html.unescape(page)


def test_a_press_about_a_removed_run_names_it(shop: Shop) -> None:
    assert shop.removed("remove-run?key=w_top")[0] == 200
    status, page = shop.post("run-work", about="w_top", does="cut", run="w_top")
    assert status == 404
    said = html.unescape(page)
    assert "“Upper hose”" in said
    assert "was removed" in said
    said = html.unescape(shop.client.get("/builds/the-heron/runs/w_top").text)
    assert "“Upper hose”" in said


def test_a_line_of_the_shelf_that_is_gone_is_named(shop: Shop) -> None:
    page = shop.page("shelf")
    address = html.unescape(re.findall(r'href="/builds/the-heron/(shelf-thing\?[^"]+)"', page)[0])
    form = opened(shop, address)
    name = re.search(r"<h1>([^<]+)</h1>", shop.page(address))
    assert name is not None
    fields = dict(re.findall(r"(at|key)=([^&]+)", address))
    assert shop.post("take-from-shelf", **fields)[0] == 200
    answer = shop.client.get(f"/builds/the-heron/{address}")
    assert answer.status_code == 404
    assert name[1] in html.unescape(answer.text)
    status, page = saved(shop, form, count="17")
    assert status == 422
    assert "17" in typed_part(page)

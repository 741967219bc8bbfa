"""Where the data file can not be used: a sentence, and everything that was typed."""

import html
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import Any

import pytest
from sqlalchemy import event

from tests.pages.conftest import HERON, Shop
from tests.pages.test_bad_requests import routes
from webapp.services.program import Services
from webapp.storage.database import Database

WISH = "A second horn,\r\nwith <brackets> & „quotes“"
LINE = 300
"""Characters more, so that a line does not fit into what room a page of the file has left."""


def database_of(shop: Shop) -> Database:
    services: Services = shop.client.app.state.services
    return services.database


@contextmanager
def a_full_disk(shop: Shop) -> Iterator[None]:
    """No page can be added to the file: https://www.sqlite.org/pragma.html#pragma_max_page_count"""
    engine = database_of(shop)._writing

    def no_more_room(connection: Any) -> None:
        connection.exec_driver_sql("PRAGMA max_page_count=1")

    event.listen(engine, "begin", no_more_room)
    for number in range(300):  # what is left of the last pages
        line = {"wish": f"{number}" + "x" * LINE}
        if shop.client.post("/builds/the-heron/bench/wish", data=line).status_code == 507:
            break
    yield
    event.remove(engine, "begin", no_more_room)
    engine.dispose()


@contextmanager
def held_by_another_program(shop: Shop) -> Iterator[None]:
    with closing(sqlite3.connect(shop.data_file, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        yield


@contextmanager
def moved_away(shop: Shop) -> Iterator[None]:
    aside = shop.data_file.with_name("aside.sqlite3")
    shop.data_file.rename(aside)
    yield
    aside.rename(shop.data_file)


TROUBLES = {
    "full": (a_full_disk, 507, "is full"),
    "held": (held_by_another_program, 503, "Another program has held"),
    "gone": (moved_away, 503, "is gone: it was moved"),
}


@pytest.fixture(autouse=True)
def _impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("webapp.storage.database.BUSY_SECONDS", 0.1)


def fields_of(page: str) -> dict[str, str]:
    """What the form of the page would send."""
    found = re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)">', page)
    return {html.unescape(name): html.unescape(value) for name, value in found}


@pytest.mark.parametrize("name", TROUBLES)
def test_what_was_typed_is_kept_and_sent_again_when_the_trouble_is_over(
    shop: Shop, name: str
) -> None:
    trouble, status, sentence = TROUBLES[name]
    typed = {"wish": WISH + "x" * LINE, "another-0": "3,5"}
    with trouble(shop):
        answer = shop.client.post("/builds/the-heron/bench/wish?row=1", data=typed)
        assert answer.status_code == status
        assert sentence in html.unescape(answer.text)
        assert str(shop.data_file) in html.unescape(answer.text)
        for value in typed.values():
            assert f'<dd class="lines">{html.escape(value, quote=False)}</dd>' in answer.text
    assert 'action="/builds/the-heron/bench/wish?row=1"' in answer.text
    again = fields_of(answer.text)
    assert {field: again[field] for field in typed} == typed
    address = "/builds/the-heron/bench/wish?row=1"
    assert shop.client.post(address, data=again, follow_redirects=False).status_code == 303
    texts = [wish.text for wish in shop.stored().wishes]
    assert texts.count(WISH.replace("\r\n", " ") + "x" * LINE) == 1


def test_what_a_form_was_shown_with_is_sent_again_and_not_told_as_typed(shop: Shop) -> None:
    typed = {"notes": "6 mm plate", "shown": '{"notes": "8 mm plate"}'}
    with moved_away(shop):
        answer = shop.client.post("/builds/the-heron/tasks/rad_bracket", data=typed)
    assert "<dt>Notes</dt>" in answer.text
    assert "<dt>Shown</dt>" not in answer.text
    assert fields_of(answer.text)["shown"] == typed["shown"]


def test_every_form_that_meets_the_data_file_keeps_what_was_typed(shop: Shop) -> None:
    """Addresses whose answer needs nothing of the data file answer as ever."""
    met = []
    with moved_away(shop):
        for method, path in routes():
            if method == "POST":
                typed = {"reason": "The evenings are short"}
                answer = shop.client.post(path, data=typed, follow_redirects=False)
                if answer.status_code < 500:
                    continue
                assert answer.status_code == 503, path
                assert f'action="{path}"' in answer.text
                assert fields_of(answer.text).items() >= typed.items(), path
                met.append(path)
    assert len(met) > 25


def test_a_file_that_was_chosen_is_asked_for_once_more(shop: Shop) -> None:
    with held_by_another_program(shop):
        answer = shop.client.post(
            "/builds/import", files={"file": ("heron.json", HERON.read_bytes())}
        )
    assert answer.status_code == 503
    assert "Choose heron.json once more" in answer.text
    assert re.search(r'<input id="file-1" type="file" name="file">', answer.text)
    assert 'enctype="multipart/form-data"' in answer.text


def test_a_page_that_can_not_be_read_is_asked_for_again(shop: Shop) -> None:
    with moved_away(shop):
        answer = shop.client.get("/builds/the-heron/log?from=2026-01-05")
    assert answer.status_code == 503
    assert '<a class="button" href="/builds/the-heron/log?from=2026-01-05">' in answer.text
    assert shop.client.get("/builds/the-heron/log?from=2026-01-05").status_code == 200


def test_a_part_that_asks_anew_by_itself_keeps_what_it_shows(shop: Shop) -> None:
    with moved_away(shop):
        asks = {"HX-Request": "true", "HX-Target": "dl#gauges"}
        part = shop.client.get("/builds/the-heron/gauges", headers=asks)
        link = shop.client.get("/builds/the-heron/bench", headers=asks | {"HX-Boosted": "true"})
    assert part.headers["HX-Reswap"] == "none"
    assert "HX-Reswap" not in link.headers


def test_who_is_held_up_by_another_program_is_told_when_to_come_again(shop: Shop) -> None:
    with held_by_another_program(shop):
        answer = shop.client.post("/builds/the-heron/bench/wish", data={"wish": "A horn"})
    assert answer.headers["Retry-After"] == "10"
    assert answer.headers["Content-Security-Policy"]


def test_a_mistake_of_the_program_is_no_trouble_with_the_file(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_args: object, **_more: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("webapp.services.changes.store_changes", fail)
    answer = shop.client.post("/builds/the-heron/bench/wish", data={"wish": "A horn"})
    assert answer.status_code == 500

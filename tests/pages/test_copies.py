"""The copies over HTTP: made, put back, carried elsewhere; what goes wrong is told."""

import html
import re
from pathlib import Path

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_one_date import frame


def copies(shop: Shop) -> str:
    answer = shop.client.get("/copies")
    assert answer.status_code == 200
    return html.unescape(answer.text)


def made(shop: Shop) -> str:
    """Make a copy and return its name."""
    answer = shop.client.post("/copies/new")
    assert answer.status_code == 200
    assert "A copy was made and looked over" in answer.text
    names = re.findall(r'href="/put-back\?key=([^"/]+)"', answer.text)
    return str(names[0])


def test_a_copy_is_made_shown_and_put_back_and_that_is_taken_back(shop: Shop) -> None:
    assert "There is none yet" in copies(shop)
    name = made(shop)
    before = shop.stored()
    shop.post("wishes", wish="A lamp below the dash")
    changed = shop.stored()
    assert changed != before
    question = html.unescape(shop.client.get(f"/put-back?key={name}").text)
    assert "The Heron" in question
    assert "A copy of what is there now is made first" in question
    answer = shop.client.post(f"/put-back?key={name}")
    assert answer.status_code == 200
    assert "was put back. What was there before is kept as the copy of" in answer.text
    assert "A lamp below the dash" not in str(shop.stored().wishes)
    kept, undo = re.findall(r'href="/put-back\?key=([^"/]+)"', answer.text)[1::-1]
    assert kept == undo  # the newest of the list is what the notice leads to
    assert "Take this back" in answer.text
    assert shop.client.post(f"/put-back?key={kept}").status_code == 200
    assert shop.stored().wishes == changed.wishes


def test_copies_of_one_minute_are_told_apart(shop: Shop) -> None:
    name = made(shop)
    answer = shop.client.post(f"/put-back?key={name}")
    page = html.unescape(answer.text)
    moments = re.findall(r'<li class="act"><div><b>([^<]+)</b>', page)
    assert len(moments) == len(set(moments)) == 2
    for said in moments:
        assert f"copy of {said}" in page.split("<h1>")[0]


def test_pages_show_what_was_put_back_at_once(shop: Shop) -> None:
    name = made(shop)
    first = shop.settled("order")
    shop.post("wishes", wish="A lamp below the dash")
    assert "A lamp below the dash" in shop.page("wishes")
    shop.client.post(f"/put-back?key={name}")
    assert "A lamp below the dash" not in shop.page("wishes")
    assert frame(shop.settled("order")) == frame(first)


def test_the_room_of_the_shop_says_when_the_last_was_made_and_where(shop: Shop) -> None:
    assert "There is no copy of your builds yet." in shop.page("shop/copies")
    made(shop)
    page = shop.page("shop/copies")
    assert "The last one was made" in page
    assert str(shop.data_file) in page


def test_a_copy_that_is_not_there_is_told_by_name_or_not_at_all(shop: Shop) -> None:
    for name in ("keyturn.20260210T183000000000Z.sqlite3", "..", "%2e%2e%2fheron.sqlite3", ""):
        for press in (shop.client.get, shop.client.post):
            answer = press(f"/put-back?key={name}")
            assert answer.status_code in (303, 404, 405), name
    assert "There is no such copy any more" in shop.client.post("/put-back?key=a").text


def test_a_damaged_copy_is_refused_in_words(shop: Shop) -> None:
    name = made(shop)
    path = next(shop.data_file.parent.glob(f"*.copies/{name}"))
    path.write_bytes(b"\x00" * 4096)
    for press in (shop.client.get, shop.client.post):
        answer = press(f"/put-back?key={name}")
        assert answer.status_code == 422
        assert str(path) in html.unescape(answer.text)
    assert shop.stored().name == "The Heron"


def test_another_folder_has_to_be_there_and_what_was_typed_stays(
    shop: Shop, tmp_path: Path
) -> None:
    for typed in ("stick", str(tmp_path / "nowhere"), "/" + "x" * 5000):
        answer = shop.client.post("/copies/elsewhere", data={"folder": typed})
        assert answer.status_code == 422, typed
        assert "Give the whole path of a folder" in answer.text
    assert (
        "nowhere"
        in shop.client.post("/copies/elsewhere", data={"folder": str(tmp_path / "nowhere")}).text
    )
    stick = tmp_path / "stick"
    stick.mkdir()
    made(shop)
    own = shop.client.post("/copies/elsewhere", data={"folder": f"{shop.data_file}.copies"})
    assert own.status_code == 422
    assert "The copies lie in that folder already" in own.text
    answer = shop.client.post("/copies/elsewhere", data={"folder": str(stick)})
    assert answer.status_code == 200
    assert f"Each copy from now on is carried to {stick} as well." in html.unescape(answer.text)
    name = made(shop)
    assert (stick / name).exists()
    assert str(stick) in copies(shop)
    none = shop.client.post("/copies/elsewhere", data={"folder": ""})
    assert "The copies are carried to no other folder." in none.text


def test_an_old_copy_that_can_not_be_removed_is_a_sentence(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_given: object, **_named: object) -> None:
        raise PermissionError(13, "Permission denied", "/stick/old.sqlite3")

    monkeypatch.setattr("webapp.services.copies.rotate", refuse)
    name = made(shop)
    assert "/stick/old.sqlite3: Permission denied" in copies(shop)
    assert shop.client.post(f"/put-back?key={name}").status_code == 200


@pytest.mark.parametrize("failing", ["copy_photographs", "TemporaryDirectory"])
def test_a_disk_that_fails_while_a_copy_is_put_back_is_a_sentence(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    def refuse(*_given: object, **_named: object) -> None:
        raise OSError(5, "Input/output error")

    name = made(shop)
    monkeypatch.setattr(f"webapp.storage.putting_back.{failing}", refuse)
    answer = shop.client.post(f"/put-back?key={name}")
    assert answer.status_code == 422
    assert "Input/output error" in answer.text

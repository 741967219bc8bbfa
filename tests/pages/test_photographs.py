"""Photographs of a task: added, shown, captioned, removed, brought back, and what is refused."""

import base64
import html
import json
import re
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from tests.benchmarks.forms_found import Form, forms_of
from tests.pages.conftest import NOW, Shop
from tests.photographs import camera_notes, file_of, opened, photograph, two_halves
from webapp.build.build_input import BuildInput, Photograph
from webapp.build.limits import MOST_PHOTOGRAPH_BYTES
from webapp.pages import addresses
from webapp.pages.frame.answer_headers import ANSWER_HEADERS
from webapp.pages.photographs import forms as photograph_forms
from webapp.storage.photograph_files import folder_of

TASK = "rad_bracket"
ALL = addresses.photographs("the-heron", TASK)


def sent(shop: Shop, *files: tuple[str, bytes], **fields: str) -> Any:
    """Send photographs as the form of a task does; the answer, without going on from it."""
    parts = [("picture", (name, data, "image/jpeg")) for name, data in files]
    return shop.client.post(ALL, files=parts, data=fields, follow_redirects=False)


def added(shop: Shop, *shades: int, **fields: str) -> tuple[Photograph, ...]:
    """Add one photograph a shade; the photographs of the build then."""
    for shade in shades:
        assert sent(shop, ("a.jpg", photograph(shade)), **fields).status_code == 303
    return shop.stored().photographs


def text_of(answer: Any) -> str:
    return html.unescape(answer.text)


def get(shop: Shop, address: str) -> Any:
    return shop.client.get(address, follow_redirects=False)


def form_at(shop: Shop, address: str) -> Form:
    return next(form for form in forms_of(shop.client, address) if form.action == address)


# added and shown ----------------------------------------------------------------------------
def test_a_photograph_stands_on_the_task_its_own_page_and_the_bench(shop: Shop) -> None:
    (one,) = added(shop, 120, caption="Hose labels")
    assert (one.task, one.caption, one.added_on) == (TASK, "Hose labels", NOW.date())
    assert (one.width_px, one.height_px) == (64, 48)
    small = addresses.small_picture("the-heron", one.digest)
    own_page = addresses.photograph("the-heron", TASK, one.digest)
    shop.post("bench/begin", task=TASK)
    for name in (f"tasks/{TASK}", "bench"):
        page = shop.page(name)
        assert f'<img src="{small}" alt="Hose labels"' in page
        assert f'href="{own_page}"' in page
    page = get(shop, own_page).text
    assert f'<img src="{addresses.picture("the-heron", one.digest)}" alt="Hose labels"' in page


def test_a_card_of_the_bench_shows_the_last_six_and_says_how_many_more(shop: Shop) -> None:
    photographs = added(shop, *range(10, 90, 10))
    shop.post("bench/begin", task=TASK)
    page = shop.page("bench")
    shown = re.findall(r'<img src="[^"]*/pictures/([0-9a-f]{64})', page)
    assert shown == [each.digest for each in photographs[:1:-1]]
    assert re.search(r">2 more<", page)


def test_several_are_added_with_one_press_and_told_with_undo(shop: Shop) -> None:
    answer = sent(shop, ("a.jpg", photograph(10)), ("b.png", file_of(two_halves(), "PNG")))
    assert answer.status_code == 303
    assert len(shop.stored().photographs) == 2
    page = text_of(shop.client.get(answer.headers["location"]))
    assert "<button>Undo</button>" in page


def test_from_the_page_of_a_task_one_comes_back_to_it(shop: Shop) -> None:
    answer = sent(shop, ("a.jpg", photograph()), back="task")
    assert answer.headers["location"].startswith(addresses.task("the-heron", TASK))


def test_the_file_is_sent_as_what_it_is_and_kept_by_its_digest(shop: Shop) -> None:
    (one,) = added(shop, 120)
    for address in (
        addresses.picture("the-heron", one.digest),
        addresses.small_picture("the-heron", one.digest),
    ):
        answer = get(shop, address)
        assert answer.status_code == 200
        assert opened(answer.content).size == (64, 48)
        assert answer.headers["content-type"] == "image/jpeg"
        assert answer.headers["x-content-type-options"] == "nosniff"
        policy = ANSWER_HEADERS["Content-Security-Policy"]
        assert answer.headers["content-security-policy"] == policy
        assert "immutable" in answer.headers["cache-control"]
        assert "private" in answer.headers["cache-control"]


def test_place_and_camera_are_not_kept_and_it_stands_upright(shop: Shop) -> None:
    data = file_of(two_halves(), exif=camera_notes(6))
    assert sent(shop, ("a.jpg", data)).status_code == 303
    (one,) = shop.stored().photographs
    assert (one.width_px, one.height_px) == (20, 40)
    for path in folder_of(shop.data_file).iterdir():
        assert b"Maker" not in path.read_bytes()
        assert b"Exif" not in path.read_bytes()


# only those of the build --------------------------------------------------------------------
def test_a_picture_is_had_through_its_own_build_only(shop: Shop) -> None:
    (one,) = added(shop, 120)
    shop.client.post("/builds/demo")
    assert get(shop, addresses.picture("the-heron-2", one.digest)).status_code == 404
    assert get(shop, addresses.picture("none", one.digest)).status_code == 404


@pytest.mark.parametrize(
    "name",
    [
        *("..%2f..%2fheron.sqlite3", "%2e%2e/heron.sqlite3", "heron.sqlite3", "a.jpg"),
        *("0" * 64 + ".jpg", "0" * 64, "0" * 64 + ".jpg%00", "A" * 64 + ".jpg", "x" * 5000),
    ],
)
def test_no_other_file_is_had_by_a_picture_s_address(shop: Shop, name: str) -> None:
    added(shop, 120)
    assert get(shop, f"/builds/the-heron/pictures/{name}").status_code == 404


def test_what_is_not_there_is_named(shop: Shop) -> None:
    for address in (
        addresses.photographs("the-heron", "none"),
        addresses.photographs("none", TASK),
        addresses.photograph("the-heron", TASK, "0" * 64),
        addresses.remove_photograph("the-heron", TASK, "0" * 64),
    ):
        assert get(shop, address).status_code == 404
        assert shop.client.post(address, data={"caption": "x"}).status_code == 404


# a file that is not there -------------------------------------------------------------------
def test_a_picture_whose_file_is_gone_is_said_to_be(shop: Shop) -> None:
    (one,) = added(shop, 120)
    for path in folder_of(shop.data_file).iterdir():
        path.unlink()
    answer = get(shop, addresses.small_picture("the-heron", one.digest))
    assert answer.status_code == 404
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert "file</text>" in answer.text
    assert "is not there" in answer.text
    assert "immutable" not in answer.headers["cache-control"]
    page = text_of(get(shop, addresses.photograph("the-heron", TASK, one.digest)))
    assert "The picture's file is not there." in page
    assert "<img" not in page
    assert shop.page(f"tasks/{TASK}")
    assert get(shop, addresses.document("the-heron", photographs=True)).status_code == 200


# what is refused ----------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "the file is empty"),
        (b"no picture", "it is no picture that can be read"),
        (b"<svg><script>alert(1)</script></svg>", "it is an SVG drawing"),
        (photograph()[:-100], "it is no picture that can be read, or it is damaged"),
        (file_of(two_halves(), "GIF"), "it is a GIF"),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "it is a HEIC picture"),
    ],
)
def test_a_file_that_is_none_is_refused_by_its_name_and_the_rest_is_kept(
    shop: Shop, data: bytes, said: str
) -> None:
    answer = sent(shop, ("fan <b>.jpg", data), ("good.jpg", photograph()), caption="Wire colours")
    assert answer.status_code == 422
    assert f"fan <b>.jpg: {said}" in text_of(answer)
    assert 'value="Wire colours"' in answer.text
    assert "<b>.jpg" not in answer.text
    assert shop.stored().photographs == ()


@pytest.mark.parametrize(
    "fields",
    [{}, {"picture": "text"}, {"caption": "Dry fit"}, {"picture": "", "caption": "Dry fit"}],
)
def test_a_press_without_a_file_is_told(shop: Shop, fields: dict[str, str]) -> None:
    for sends in ({"data": fields}, {"data": fields, "files": {"other": ("a", b"b")}}):
        answer = shop.client.post(ALL, **sends)
        assert answer.status_code == 422
        assert "No photograph was chosen" in text_of(answer)
        assert f'value="{fields.get("caption", "")}"' in answer.text
    assert shop.client.post(ALL, content=b"{}").status_code == 422
    empty = shop.client.post(ALL, files={"picture": ("", b"", "application/octet-stream")})
    assert empty.status_code == 422


def test_a_caption_that_is_too_long_is_told_beside_its_field(shop: Shop) -> None:
    answer = sent(shop, ("a.jpg", photograph()), caption="x" * 600)
    assert answer.status_code == 422
    assert "Choose the photographs once more" in text_of(answer)
    assert "x" * 600 in answer.text
    assert shop.stored().photographs == ()


def test_files_above_the_limit_are_let_go_and_what_was_typed_is_kept(shop: Shop) -> None:
    large = b"\xff\xd8" + bytes(MOST_PHOTOGRAPH_BYTES + 1_000_000)
    answer = sent(shop, ("a.jpg", large), caption="Hose labels, left", back="task")
    assert answer.status_code == 413
    assert "larger than 30 MB together" in answer.text
    assert 'value="Hose labels, left"' in answer.text
    assert shop.stored().photographs == ()
    # The form that comes again can be sent at once, with a smaller file.
    assert sent(shop, ("a.jpg", photograph(120)), caption="Hose labels, left").status_code == 303


def test_the_fields_stand_before_the_files(shop: Shop) -> None:
    """So that they are here where the files are too large."""
    for page in (shop.client.get(ALL).text, shop.page(f"tasks/{TASK}")):
        form = page[page.index('class="add-photographs"') :]
        assert form.index('name="caption"') < form.index('name="picture"')


@pytest.mark.parametrize("kind", ["", "text/plain", "multipart/form-data; boundary=x"])
def test_a_body_above_the_limit_that_is_no_form_is_refused(shop: Shop, kind: str) -> None:
    said = {"content-length": str(MOST_PHOTOGRAPH_BYTES + 1_000_000), "content-type": kind}
    answer = shop.client.post(ALL, content=b"x", headers=said)
    assert answer.status_code == 413
    assert "larger than 30 MB together" in answer.text


def test_what_is_beyond_all_measure_is_refused_unheard(shop: Shop) -> None:
    answer = shop.client.post(ALL, content=b"x", headers={"content-length": "400000001"})
    assert answer.status_code == 413
    assert "nothing was changed" in answer.text


def test_other_addresses_keep_their_limit(shop: Shop) -> None:
    for path in ("bench/wish", "photographs/x", "tasks/photographs", "list"):
        headers = {"content-length": "6000000"}
        answer = shop.client.post(f"/builds/the-heron/{path}", content=b"x", headers=headers)
        assert answer.status_code == 413
        assert "larger than 5 MB" in answer.text


def test_no_more_are_added_than_a_build_may_have(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    (one,) = added(shop, 10)
    monkeypatch.setattr(photograph_forms, "MOST_PHOTOGRAPHS_BYTES", one.size_bytes + 100)
    answer = sent(shop, ("a.jpg", photograph(20)))
    assert answer.status_code == 422
    assert "these are too many" in text_of(answer)
    assert shop.stored().photographs == (one,)
    # The same picture again takes no room.
    assert sent(shop, ("a.jpg", photograph(10))).status_code == 303


def test_a_folder_that_can_not_be_written_is_told_and_the_caption_kept(shop: Shop) -> None:
    folder_of(shop.data_file).write_bytes(b"")  # a file stands in its place
    answer = sent(shop, ("a.jpg", photograph()), caption="Dry fit")
    assert answer.status_code == 503
    assert "nothing else stands in its place" in text_of(answer)
    assert 'name="caption" value="Dry fit"' in answer.text
    assert "Choose a.jpg once more" in answer.text
    assert shop.stored().photographs == ()


# two windows --------------------------------------------------------------------------------
def test_photographs_added_in_two_windows_at_once_are_both_there(shop: Shop) -> None:
    with ThreadPoolExecutor(2) as both:
        list(both.map(lambda shade: added(shop, shade), (10, 20)))
    assert len(shop.stored().photographs) == 2


def test_one_that_is_sent_twice_is_there_once(shop: Shop) -> None:
    page = get(shop, ALL).text
    token = re.search(r'name="once" value="([\w-]{16})"', page)
    assert token is not None
    for fields in ({"once": token[1]}, {}):
        with ThreadPoolExecutor(2) as both:
            answers = list(
                both.map(lambda _, f=fields: sent(shop, ("a.jpg", photograph()), **f), (1, 2))
            )
        assert [answer.status_code for answer in answers] == [303, 303]
        assert len(shop.stored().photographs) == 1
    assert len(list(folder_of(shop.data_file).iterdir())) == 2  # the whole one and the small one


def test_a_caption_changed_in_two_windows_is_asked_about(shop: Shop) -> None:
    (one,) = added(shop, 120, caption="Dry fit")
    address = addresses.photograph("the-heron", TASK, one.digest)
    here, there = form_at(shop, address), form_at(shop, address)
    first = shop.client.post(address, data={**here.sent, "caption": ["Hose labels"]})
    assert first.status_code == 200
    second = shop.client.post(address, data={**there.sent, "caption": ["Wire colours"]})
    assert second.status_code == 422
    assert "it says “Hose labels” now, and you typed “Wire colours”" in text_of(second)
    assert shop.stored().photographs[0].caption == "Hose labels"


def test_a_caption_that_was_changed_since_the_question_is_asked_about_again(shop: Shop) -> None:
    (one,) = added(shop, 120, caption="Dry fit")
    remove = addresses.remove_photograph("the-heron", TASK, one.digest)
    question = form_at(shop, remove)
    shop.client.post(
        addresses.photograph("the-heron", TASK, one.digest), data={"caption": "Hose labels"}
    )
    answer = shop.client.post(remove, data=question.sent)
    assert answer.status_code == 422
    assert "It says “Hose labels” now" in text_of(answer)
    assert len(shop.stored().photographs) == 1
    assert shop.client.post(remove, data={}).status_code == 422


# taken back ---------------------------------------------------------------------------------
def undone(shop: Shop, page: str) -> BuildInput:
    """Press the Undo that a page tells of its change with."""
    fields = dict(re.findall(r'name="(first|last|back)" value="([^"]*)"', page))
    answer = shop.client.post(addresses.take_back("the-heron"), data=fields)
    assert answer.status_code == 200
    return shop.stored()


def test_adding_and_removing_are_taken_back_with_the_file_there(shop: Shop) -> None:
    before = shop.stored()
    page = shop.client.post(ALL, files={"picture": ("a.jpg", photograph(), "image/jpeg")}).text
    (one,) = shop.stored().photographs
    assert undone(shop, page) == before
    assert get(shop, addresses.picture("the-heron", one.digest)).status_code == 404

    added(shop, 120, caption="Dry fit")
    with_it = shop.stored()
    remove = addresses.remove_photograph("the-heron", TASK, one.digest)
    page = shop.client.post(remove, data=form_at(shop, remove).sent).text
    assert shop.stored() == before
    assert undone(shop, page) == with_it
    assert get(shop, addresses.picture("the-heron", one.digest)).status_code == 200


def test_the_journal_tells_of_them_in_words(shop: Shop) -> None:
    (one,) = added(shop, 120, caption="Dry fit")
    shop.client.post(
        addresses.photograph("the-heron", TASK, one.digest), data={"caption": "Hose labels"}
    )
    remove = addresses.remove_photograph("the-heron", TASK, one.digest)
    shop.client.post(remove, data=form_at(shop, remove).sent)
    page = shop.page("journal")
    name = next(task.name for task in shop.stored().tasks if task.key == TASK)
    assert f"Entered the photograph “Dry fit” of “{name}”." in page
    assert f"Changed the photograph “Hose labels” of “{name}”: caption from" in page
    assert f"Took out the photograph “Hose labels” of “{name}”." in page


def test_a_task_that_is_removed_takes_its_photographs_and_brings_them_back(shop: Shop) -> None:
    added(shop, 120)
    with_it = shop.stored()
    address = addresses.remove_task("the-heron", TASK)
    question = form_at(shop, address)
    added(shop, 130)
    answer = shop.client.post(address, data=question.sent)
    assert answer.status_code == 422
    assert "It has 2 photographs now" in text_of(answer)
    page = shop.client.post(address, data=form_at(shop, address).sent).text
    assert shop.stored().photographs == ()
    assert len(undone(shop, page).photographs) == 2
    assert with_it.photographs[0] in shop.stored().photographs


# documents ----------------------------------------------------------------------------------
def imported(shop: Shop, document: bytes) -> Any:
    return shop.client.post(
        addresses.import_build(),
        files={"file": ("build.json", document, "application/json")},
        data={"document": ""},
        follow_redirects=False,
    )


def test_an_export_without_photographs_is_as_ever(shop: Shop) -> None:
    before = get(shop, addresses.document("the-heron")).content
    added(shop, 120)
    assert get(shop, addresses.document("the-heron")).content == before


def test_an_export_with_photographs_is_imported_with_them(shop: Shop) -> None:
    added(shop, 120, caption="Dry fit")
    added(shop, 130)
    document = get(shop, addresses.document("the-heron", photographs=True)).content
    answer = imported(shop, document)
    assert answer.headers["location"].startswith(addresses.order("the-heron-2"))
    # Where the files are there already they are what they were, to the byte.
    assert shop.stored("the-heron-2").photographs == shop.stored().photographs
    again = get(shop, addresses.document("the-heron-2", photographs=True)).content
    assert again == document
    # Elsewhere they are made anew, as whatever comes from outside is.
    for path in folder_of(shop.data_file).iterdir():
        path.unlink()
    assert imported(shop, document).status_code == 303
    found = shop.stored("the-heron-3").photographs
    assert [(each.caption, each.width_px) for each in found] == [("Dry fit", 64), ("", 64)]
    for each in found:
        assert get(shop, addresses.picture("the-heron-3", each.digest)).status_code == 200


def test_shop_and_deleting_offer_the_export_with_photographs(shop: Shop) -> None:
    tick = 'name="photographs" value="on"'
    assert tick not in shop.page("shop/copies")
    added(shop, 120)
    assert tick in shop.page("shop/copies")
    assert f'href="{addresses.document("the-heron", photographs=True)}"' in shop.page("delete")


def test_an_export_that_has_to_leave_one_out_says_so_before(shop: Shop) -> None:
    lost, _ = added(shop, 120, 130)
    said = "Left out of it is 1 photograph: its file is not there."
    for name in ("shop/copies", "delete"):
        assert said not in shop.page(name)
    (folder_of(shop.data_file) / f"{lost.digest}.jpg").unlink()
    for name in ("shop/copies", "delete"):
        assert said in shop.page(name)


def test_what_a_document_calls_a_photograph_is_looked_at(shop: Shop) -> None:
    added(shop, 120, caption="Dry fit")
    document = json.loads(get(shop, addresses.document("the-heron", photographs=True)).content)
    task = next(each for each in document["tasks"] if each["key"] == TASK)
    for jpeg, said in (
        (base64.b64encode(b"<script>alert(1)</script>").decode(), "photograph 1 ("),
        (base64.b64encode(file_of(two_halves(), "GIF")).decode(), "it is a GIF"),
        ("no base64!", "is no base64"),
        ("", "must hold a file"),
        (7, "must be the file in base64"),
        (None, "must be the file in base64"),
    ):
        task["photographs"][0]["jpeg"] = jpeg
        answer = imported(shop, json.dumps(document).encode())
        assert answer.status_code == 422
        assert said in text_of(answer)
    task["photographs"] = [{"jpeg": base64.b64encode(photograph()).decode()}]
    assert "added_on" in text_of(imported(shop, json.dumps(document).encode()))
    assert get(shop, "/builds/the-heron-2/bench").status_code == 404

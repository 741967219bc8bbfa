"""Find: tasks, parts, wishes, notes and the log of a build, by their words."""

import html
import re

from tests.pages.conftest import Shop
from webapp.pages.find.marks import Piece, excerpt, marked


def found(shop: Shop, words: str, **more: str) -> str:
    answer = shop.client.get("/builds/the-heron/find", params={"words": words, **more})
    assert answer.status_code == 200
    return html.unescape(re.sub(r"</?mark>", "", answer.text))


def test_the_frame_of_every_page_leads_to_it(shop: Shop) -> None:
    for name in ("bench", "week", "shop", "find"):
        assert 'href="/builds/the-heron/find"' in shop.page(name)


def test_each_kind_is_found_with_its_own_page(shop: Shop) -> None:
    build = shop.stored()
    task = next(one for one in build.tasks if one.caution)
    part = next(one for one in build.parts if one.supplier)
    wish = build.wishes[0]
    assert f"/tasks/{task.key}" in found(shop, task.caution[:60])
    assert f"/parts/{part.key}" in found(shop, f"{part.supplier} {part.name}")
    assert f"/wishes/{wish.key}" in found(shop, wish.text)
    circuit, run = build.plumbing.circuits[0], build.plumbing.runs[0]
    assert f"/plumbing/{circuit.key}" in found(shop, circuit.name)
    assert f"/runs/{run.key}" in found(shop, run.name)
    entry = build.log[-1]
    name = next(one.name for one in build.tasks if one.key == entry.task)
    assert "/log-entry?" in found(shop, f"{name} {entry.on.day} {entry.on:%B}")


def test_a_note_is_found_as_soon_as_it_is_stored(shop: Shop) -> None:
    assert "Nothing holds" in found(shop, "moonlight")
    assert shop.post("tasks/rad_bracket", notes="weld by Moonlight")[0] == 200
    assert "/tasks/rad_bracket" in found(shop, "moonlight")


def test_many_of_one_kind_are_told_by_their_number_and_all_stand_one_step_on(shop: Shop) -> None:
    text = found(shop, "the")
    more = re.search(r'<a class="button" href="([^"]*kind=Tasks[^"]*)">(\d+) more', text)
    assert more is not None
    count = sum("the" in one.name.lower() for one in shop.stored().tasks)
    assert int(more[2]) >= count - 8
    alone = found(shop, "the", kind="Tasks")
    assert alone.count('<li><a href="/builds/the-heron/tasks/') == int(more[2]) + 8
    assert "<h2" not in alone.split('id="found-1"')[1].split("</h2>", 1)[1]


def test_what_can_not_be_found_is_said_with_what_to_do(shop: Shop) -> None:
    for typed in ("xyzzy", "hose xyzzy", "%", "\x00hose \x07xyzzy", "x" * 5000):
        text = found(shop, typed)
        assert "Nothing holds" in text
        assert "try fewer words" in text
    assert "Nothing holds" not in found(shop, " \t ")
    assert shop.client.get("/builds/none/find").status_code == 404
    assert "Nothing holds" in found(shop, "hose xyzzy", kind="Tasks")
    assert found(shop, "hose", kind="nonsense") == found(shop, "hose")


def test_markup_in_what_is_typed_is_text(shop: Shop) -> None:
    answer = shop.client.get("/builds/the-heron/find", params={"words": "<script>x</script>"})
    assert "<script>x" not in answer.text


def test_the_words_are_marked_whatever_their_case_and_accents() -> None:
    assert marked("Öl in the sump", ("ol", "sum")) == (
        Piece(text="Öl", marked=True),
        Piece(text=" in the "),
        Piece(text="sum", marked=True),
        Piece(text="p"),
    )
    assert marked("Straße", ("ass",)) == (
        Piece(text="Str"),
        Piece(text="aß", marked=True),
        Piece(text="e"),
    )
    assert marked("", ("a",)) == ()


def test_of_a_long_text_the_place_with_the_word_is_shown() -> None:
    text = "word " * 100 + "needle " + "word " * 100
    shown = excerpt(text, ("needle",))
    assert "needle" in shown
    assert shown.startswith("… ")
    assert shown.endswith(" …")
    assert len(shown) <= 164
    assert excerpt(text, ("thread",)) == ""

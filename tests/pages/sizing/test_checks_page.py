"""The Sizing page: each check with its number, its limit and where that comes from."""

import re
from dataclasses import replace

from tests.pages.conftest import Shop
from webapp.build.data_sheet import DataSheet
from webapp.pages.words.sizing import with_unit
from webapp.plumbing.plumbed import plumbed
from webapp.sizing.checks import checks_of
from webapp.sizing.left_to_others import NOT_SIZED
from webapp.storage.changes import store_changes


def plain(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def test_every_check_stands_there_with_its_word_and_its_number(shop: Shop) -> None:
    text, build = plain(shop.page("sizing")), shop.stored()
    answers = [a for a in checks_of(build, plumbed(build)) if a.check != "left_to_others"]
    assert len(answers) > 20
    for answer in answers:
        assert answer.words in text
        if answer.value is not None:
            assert with_unit(answer.value, answer.unit) in text
        if answer.limit is not None:
            assert answer.limit.words in text
    counted = sum(answer.word == "not checked" for answer in answers)
    assert f"and {counted} not checked." in text
    assert not re.search(r"\bsafe\b", text)


def test_what_is_left_to_others_is_not_sized_and_its_caution_is_never_folded(shop: Shop) -> None:
    page = shop.page("sizing")
    folded = "".join(re.findall(r"<details.*?</details>", page, re.DOTALL))
    for matter in ("brakes", "refrigerant", "steering_pressure", "turbo_oil"):
        one = NOT_SIZED[matter]
        assert one.caution in plain(page)
        assert one.caution not in folded
    assert "Local codes and licensed practice come first" in page


def test_without_a_data_sheet_it_says_what_is_missing(shop: Shop) -> None:
    build = shop.stored()
    with shop.database.writing() as session:
        store_changes(session, "the-heron", build, replace(build, data_sheet=DataSheet()))
    text = plain(shop.page("sizing"))
    assert "is missing" in text

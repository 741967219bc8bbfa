"""The Sizing page: each check with its number, its limit and where that comes from."""

import re
from dataclasses import replace

from tests.pages.conftest import Shop
from webapp.build.data_sheet import DataSheet
from webapp.pages.words.sizing import amount, answer_number
from webapp.plumbing.plumbed import plumbed
from webapp.sizing.checks import checks_of
from webapp.sizing.left_to_others import NOT_SIZED


def plain(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def test_every_check_stands_there_with_its_word_and_its_number(shop: Shop) -> None:
    text, build = plain(shop.page("sizing")), shop.stored()
    answers = [a for a in checks_of(build, plumbed(build)) if a.check != "left_to_others"]
    assert len(answers) > 20
    for answer in answers:
        assert answer.words in text
        if answer.value is not None:
            assert answer_number(answer) in text
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
    shop.become(replace(shop.stored(), data_sheet=DataSheet()))
    text = plain(shop.page("sizing"))
    assert "is missing" in text


def test_every_number_opens_to_its_formula_its_own_numbers_and_their_sources(shop: Shop) -> None:
    page, build = shop.page("sizing"), shop.stored()
    found = {}
    for line in page.split("<li>"):
        shown = re.search(r'data-figure="(check-\d+)">([^<]*)', line)
        if shown is not None:
            found[shown[1]] = shown[2], plain(line[line.index("<details") :])
            assert f'data-how="{shown[1]}"' in line
    sized = [a for a in checks_of(build, plumbed(build)) if a.check != "left_to_others"]
    numbered = [(f"check-{at}", a) for at, a in enumerate(sized, start=1) if a.value is not None]
    assert [kind for kind, _ in numbered] == [*found]
    for kind, answer in numbered:
        number, how = found[kind]
        assert number == answer_number(answer)
        assert "Source: " in how
        assert "the {" not in how
        if answer.check not in ("belt_length", "fuse", "fuel_return", "cap"):
            assert f"That is {number}." in how
        for figure in answer.used:
            assert amount(figure) in how, (answer.check, figure.name)
            if figure.came == "typed" and figure.source:
                assert f"({figure.source})" in how


def test_what_came_from_where_is_told_apart(shop: Shop) -> None:
    page = shop.page("sizing")
    line = plain(next(one for one in page.split("<li>") if "Charge pipe, speed" in one))
    assert "From the drawing: narrowest bore 51 mm." in line
    assert "boost (gauge) 1.2 bar (engine maker's sheet)" in line
    assert "Assumed, for nobody typed it: number of strokes 4" in line
    assert "Worked out on the way: air 0.14 kg/s" in line


def test_losses_with_bends_are_told_in_two_figures(shop: Shop) -> None:
    """Methods differ by a fifth: 5.32 kPa is 5.3."""
    assert re.search(r'data-figure="check-\d+">5\.3 kPa<', shop.page("sizing"))


def test_every_matter_of_licensed_practice_is_told_and_none_has_a_number(shop: Shop) -> None:
    text = plain(shop.page("sizing")).lower()
    for one in NOT_SIZED.values():
        assert one.name in text
        assert one.who in text

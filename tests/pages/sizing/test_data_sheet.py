"""The data sheet as a form: typed once, in any unit, from the check that misses a figure."""

import re

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved
from webapp.build.data_sheet import FIGURES, FigureName
from webapp.pages.sizing.sheet_forms import PARTS


def figures(shop: Shop) -> dict[str, float | str]:
    return {one.name: one.value for one in shop.stored().data_sheet.figures}


def sources(shop: Shop) -> dict[str, str]:
    return {one.name: one.source for one in shop.stored().data_sheet.figures}


def test_the_form_asks_for_every_figure_once(shop: Shop) -> None:
    asked = [name for part in PARTS for name in part.figures]
    assert sorted(asked) == sorted(FIGURES)
    page = shop.page("data-sheet")
    for name in FIGURES:
        assert len(re.findall(rf'\bname="{name}"', page)) == 1
        assert len(re.findall(rf'\bname="from-{name}"', page)) == 1


def test_a_missing_figure_leads_to_its_very_field_and_back_to_the_checks(shop: Shop) -> None:
    page = shop.page("sizing")
    assert "not checked: the filter's rated flow is missing" in page
    link = "data-sheet?asked=filter_m3_h#filter_m3_h"
    assert f'href="/builds/the-heron/{link}">Type the filter\'s rated flow</a>' in page
    asked = shop.page("data-sheet?asked=filter_m3_h")
    fold = next(one for one in asked.split("<details")[1:] if 'name="filter_m3_h"' in one)
    assert " open" in fold.split(">")[0]
    field = re.search(r'<input id="filter_m3_h"[^>]*>', asked)
    assert field is not None
    assert "autofocus" in field[0]
    form = opened(shop, "data-sheet?asked=filter_m3_h")
    status, text = saved(shop, form, filter_m3_h="620", from__filter_m3_h="its box")
    assert status == 200
    assert "Does it carry enough?" in text
    assert figures(shop)["filter_m3_h"] == 620
    assert sources(shop)["filter_m3_h"] == "its box"
    assert "the filter's rated flow is missing" not in shop.page("sizing")


def test_every_figure_that_a_check_can_miss_is_a_link(shop: Shop) -> None:
    """With nothing typed every missing figure of the page has its own link."""
    form = opened(shop, "data-sheet")
    blank = {name: "" for name, _ in form.fields if name in FIGURES or name[:5] == "from-"}
    status, _ = saved(shop, form, **{name.replace("-", "__"): text for name, text in blank.items()})
    assert status == 200
    assert figures(shop) == {}
    page = shop.page("sizing")
    lines = [line for line in page.split("<li>") if "missing" in line]
    assert len(lines) > 15
    for line in lines:
        says = re.search(r'class="state">not checked: ([^<]*) (?:is|are) missing', line)
        assert says is not None
        named = [part.removeprefix("the ") for part in re.split(r", | and (?=the )", says[1])]
        for words in named:
            known = [name for name, kind in FIGURES.items() if kind.words == words]
            if known:
                assert f"asked={known[0]}#{known[0]}" in line, words


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("boost_bar", "17.404528 psi", 1.2),
        ("boost_bar", "120 kPa", 1.2),
        ("power_kw", "128.738120 hp", 96),
        ("displacement_l", "134.252232 cu in", 2.2),
        ("hottest_coolant_c", "221 °F", 105),
        ("tank_room_l", "0.951019 US qt", 0.9),
        ("frost_c", "\N{MINUS SIGN}13 °F", -25),
    ],
)
def test_a_figure_is_read_in_any_unit(shop: Shop, name: str, text: str, value: float) -> None:
    status, _ = saved(shop, opened(shop, "data-sheet"), **{name: text})
    assert status == 200
    assert figures(shop)[name] == pytest.approx(value, rel=2e-6)


def test_in_a_shop_of_psi_a_bare_number_is_psi_and_what_nobody_touched_stays(shop: Shop) -> None:
    before = figures(shop)
    shop.post("shop/units", units="us")
    page = shop.page("data-sheet")
    assert "Boost (gauge), psi" in page
    assert re.search(r'id="boost_bar" name="boost_bar" value="17.4045"', page)
    status, _ = saved(shop, opened(shop, "data-sheet"), cap_bar="15")
    assert status == 200
    after = figures(shop)
    assert after["cap_bar"] == pytest.approx(15 * 0.0689475729, rel=1e-6)
    assert {**after, "cap_bar": before["cap_bar"]} == before


@pytest.mark.parametrize(
    ("name", "text", "asks"),
    [
        ("boost_bar", "2.2", "Absolute pressure has the air's own 1 bar"),
        ("intake_c", "77", "Is it in °C, and not in °F?"),
        ("frost_c", "14", "with its minus"),
        ("cap_bar", "2", "Caps have 0.25 to 1.4 bar"),
        ("antifreeze_percent", "70", "Above 60 %"),
        ("exhaust_gas_c", "1020", "Is it in °C"),
    ],
)
def test_an_unlikely_figure_is_asked_about_and_taken_where_it_is_ticked(
    shop: Shop, name: FigureName, text: str, asks: str
) -> None:
    before = figures(shop)
    form = opened(shop, "data-sheet")
    status, page = saved(shop, form, **{name: text})
    assert status == 422
    assert asks in page.replace("&#39;", "'")
    assert f'name="sure-{name}"' in page
    assert f'value="{text}"' in page
    assert figures(shop) == before
    status, _ = saved(shop, form, **{name: text, f"sure__{name}": "on"})
    assert status == 200
    assert figures(shop)[name] == float(text)
    # once it is stored it is not asked about again
    status, _ = saved(shop, opened(shop, "data-sheet"), full_power_rpm="3900")
    assert status == 200


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("boost_bar", "18", "18 bar lies outside 0 to 4 bar"),
        ("boost_bar", "-0.5", "lies outside"),
        ("displacement_l", "0", "lies outside"),
        ("displacement_l", "-2.2", "lies outside"),
        ("power_kw", "0", "lies outside"),
        ("frost_c", "25", "A frost has its minus: -25 °C."),
        ("hottest_coolant_c", "221", "If it is in °F, write that beside it"),
        ("cap_bar", "15", "15 bar lies outside 0 to 3 bar"),
        ("power_kw", "lots", "is no number"),
        ("boost_bar", "1.2 °C", "is no unit here"),
        ("exhaust_bore_mm", "0", "lies outside"),
    ],
)
def test_what_can_not_be_is_told_at_its_field_and_nothing_is_stored(
    shop: Shop, name: str, text: str, says: str
) -> None:
    before = shop.stored().data_sheet
    status, page = saved(shop, opened(shop, "data-sheet"), **{name: text}, full_power_rpm="3500")
    assert status == 422
    fold = next(one for one in page.split("<details")[1:] if f'name="{name}"' in one)
    assert says in fold
    assert " open" in fold.split(">")[0]
    assert shop.stored().data_sheet == before


def test_a_place_where_it_was_read_needs_a_figure(shop: Shop) -> None:
    status, page = saved(shop, opened(shop, "data-sheet"), from__filter_m3_h="its box")
    assert status == 422
    assert "it is said where it was read, and not what it is" in page


def test_two_windows_keep_each_others_figures_and_ask_about_the_same_one(shop: Shop) -> None:
    old, other = opened(shop, "data-sheet"), opened(shop, "data-sheet")
    saved(shop, other, boost_bar="1.4", filter_m3_h="600")
    status, _ = saved(shop, old, full_power_rpm="3800")
    assert status == 200
    now = figures(shop)
    assert (now["boost_bar"], now["filter_m3_h"], now["full_power_rpm"]) == (1.4, 600, 3800)
    status, page = saved(shop, old, boost_bar="1.3")
    assert status == 422
    assert "1.4" in page
    assert "1.3" in page
    assert figures(shop)["boost_bar"] == 1.4


def test_a_figure_is_taken_back_and_told_in_the_journal(shop: Shop) -> None:
    before = shop.stored()
    _, page = saved(shop, opened(shop, "data-sheet"), boost_bar="1.4")
    journal = shop.page("journal")
    assert "boost (gauge)" in journal
    shop.post("journal/take-back", **undo_fields(page))
    assert shop.stored().data_sheet == before.data_sheet


def test_emptied_a_figure_is_gone_and_the_check_says_so(shop: Shop) -> None:
    status, _ = saved(shop, opened(shop, "data-sheet"), boost_bar="", from__boost_bar="")
    assert status == 200
    assert "boost_bar" not in figures(shop)
    assert "not checked: the boost (gauge) is missing" in shop.page("sizing")

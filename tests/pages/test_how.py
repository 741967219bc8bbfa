"""No figure without how it was worked out, and the numbers told are those of the page.

Templates mark what shows a worked-out figure with `data-figure` and its kind; the page then has
a `<details class="how">` whose `data-how` names that kind.
"""

import html
import re
from collections.abc import Collection, Iterable
from html.parser import HTMLParser

import pytest

from tests.pages.conftest import Shop

PAGES = (
    *("bench", "order", "path", "wishes", "week", "week/compare"),
    *("parts", "money", "shop", "record", "scope", "tasks", "log", "soundness"),
    *("sizing", "fill-day"),
)
VOID = frozenset(("input", "link", "meta", "br", "img", "hr", "wbr"))
TYPED_PAGES = ("shop", "tasks", "log")
"""What stands in the tables of these was typed by the person."""


class Figures(HTMLParser):
    """Kinds of figures that a page shows and explains, and numbers in tables without a kind.

    A whole number by itself, or of tasks, is a count and needs no explaining.
    """

    def __init__(self, text: str) -> None:
        super().__init__()
        self.shown: set[str] = set()
        self.explained: set[str] = set()
        self.unmarked: list[str] = []
        self._open: list[tuple[str, bool, bool]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        kinds = (said.get("data-figure") or "").split()
        self.shown |= set(kinds)
        self.explained |= set((said.get("data-how") or "").split())
        if tag not in VOID:
            classes = (said.get("class") or "").split()
            self._open.append((tag, bool(kinds), "n" in classes or "value" in classes))

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        text = data.strip()
        is_number = any(cell for _, _, cell in self._open) and re.search(r"\d", text)
        is_count = re.fullmatch(r"[\d,]+( tasks?)?", text)
        if is_number and not is_count and not any(kind for _, kind, _ in self._open):
            self.unmarked.append(text)


def explained(shop: Shop, pages: Iterable[str], *, typed: Collection[str]) -> set[str]:
    """The kinds of figures on pages, each explained there; numbers of none are `typed` ones."""
    shown: set[str] = set()
    for name in pages:
        page = Figures(shop.settled(name))
        assert page.shown <= page.explained, (name, page.shown - page.explained)
        if name not in typed:
            assert not page.unmarked, (name, page.unmarked)
        shown |= page.shown
    return shown


def how_of(text: str, kind: str) -> str:
    """The words of the first how of a kind on a page."""
    for kinds, inner in re.findall(
        r'<details class="how" data-how="([^"]*)">(.*?)</details>', text, re.S
    ):
        if kind in kinds.split():
            return html.unescape(re.sub(r"<[^>]+>", " ", inner))
    raise AssertionError(f"no how of {kind}")


@pytest.fixture
def demo(shop: Shop) -> Shop:
    """The Heron with a baseline, so that earned figures and a bridge stand on Week."""
    assert shop.post("week")[0] == 200
    return shop


def test_no_figure_is_without_how_it_was_worked_out(demo: Shop) -> None:
    shown = explained(demo, PAGES, typed=TYPED_PAGES)
    assert {"likely", "firm", "headroom", "dipstick", "lever", "made-of", "chances"} <= shown
    assert {"cost", "float", "pace", "rule", "move", "took", "hours", "bridge"} <= shown
    assert {"earned-PV", "earned-SPI(t)", "factor", "level", "attendance", "scope"} <= shown
    assert "order-by" in shown


def test_a_mark_without_its_how_is_found() -> None:
    bare = Figures('<table data-figure="cost"><tr><td class="n">2.1</td></tr></table>')
    assert bare.shown - bare.explained == {"cost"}
    unmarked = Figures('<table><tr><td class="n">2.1 days</td><td class="n">12</td></tr></table>')
    assert unmarked.unmarked == ["2.1 days"]


def test_the_frame_tells_its_own_dates_and_headroom(demo: Shop) -> None:
    text = demo.settled("path")
    said = how_of(text, "likely")
    for place in ("first-start", "first-start-firm", "headroom"):
        value = re.search(rf'id="{place}"[^>]*>([^<]+)<', text)
        assert value is not None
        assert value[1] in said
    reached, firm = (int(n) for n in re.findall(r"(\d+) of 1,000 draws reach", said))
    assert reached >= 500  # the middle draw has come by the end of its day
    assert firm == 800


def test_the_parts_of_the_time_sum_to_the_whole(demo: Shop) -> None:
    said = how_of(demo.settled("path"), "made-of")
    sums = re.search(r"at: ([\d. +]+) = ([\d.]+) days", said)
    assert sums is not None
    parts = [float(part) for part in sums[1].split(" + ")]
    assert sum(parts) == pytest.approx(float(sums[2]), abs=0.05 * (len(parts) + 1))


def test_the_dearest_task_is_told_as_it_stands_in_the_table(demo: Shop) -> None:
    text = demo.settled("path")
    said = how_of(text, "cost")
    name, days = re.findall(r"“(.+?)”: the mean .*? is ([\d.]+) days later", said)[0]
    row = re.search(rf'>{re.escape(name)}</a></th><td class="n">(?:about )?([\d.]+)<', text)
    assert row is not None
    assert round(float(days), 1) == pytest.approx(float(row[1]), abs=0.051)


def test_every_kind_of_work_tells_the_factor_beside_it(demo: Shop) -> None:
    text = demo.page("record")
    rows = re.findall(
        r'data-figure="(?:factor|level)">(. [\d.]+)</td>.*?<details.*?</summary>(.*?)</details>',
        text,
        re.S,
    )
    assert len(rows) == 7  # six kinds of work, and their level
    for factor, said in rows:
        assert f": {factor}." in said


def test_a_notice_tells_how_its_move_was_worked_out(demo: Shop) -> None:
    status, text = demo.post("wanted-by", wanted_by="2026-07-01", confidence="80")
    assert status == 200
    assert "First start does not move" in text
    assert "no draw moves" in how_of(text, "move")

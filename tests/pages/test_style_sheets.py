"""No page's sheet of styles reaches into another page by a class name that both use.

Every page of the frame loads all of its sheets. What `look.css` and `forms.css` say of a class is
said of every page; a class that a page's own sheet styles wherever it stands (its selector begins
with nothing else) is that sheet's alone. What this does not see: one class that one sheet uses for
two things, names of elements, and ids.
"""

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
FRAME = ROOT / "templates" / "frame" / "base.html"
OF_EVERY_PAGE = {"look.css", "forms.css"}
_CLASS = re.compile(r"\.(-?[A-Za-z_][\w-]*)")
_ALONE = re.compile(r"\.([A-Za-z_-][\w-]*)(::?(?!has\()[\w-]+(\([^)]*\))?)*")
"""One class, with states of it at most; what has something particular in it is narrowed down."""


def selectors_in(sheet: str) -> Iterator[str]:
    """The selectors of a sheet one by one, those within a condition among them."""
    for head in re.findall(r"([^{}]+)\{", re.sub(r"/\*.*?\*/", "", sheet, flags=re.DOTALL)):
        if not head.strip().startswith("@"):
            yield from (each.strip() for each in re.split(r",(?![^(]*\))", head))


def begins_with(selector: str) -> str | None:
    """The class that a selector begins with, where it begins with nothing but that."""
    first = re.split(r"[\s>+~]+(?![^(]*\))", selector)[0]
    found = _ALONE.fullmatch(first)
    return found[1] if found else None


def meetings(sheets: dict[str, str]) -> list[str]:
    """Classes that one page's sheet styles wherever they stand, and another sheet as well."""
    used = {
        name: {each for selector in selectors_in(text) for each in _CLASS.findall(selector)}
        for name, text in sheets.items()
    }
    own = {
        (begun, name)
        for name in sheets.keys() - OF_EVERY_PAGE
        for selector in selectors_in(sheets[name])
        if (begun := begins_with(selector)) is not None
    }
    return sorted(
        f".{begun} of {name} stands in {other} too"
        for begun, name in own
        for other in used.keys() - {name}
        if begun in used[other]
    )


def test_no_class_of_one_page_is_styled_by_the_sheet_of_another() -> None:
    loaded = re.findall(r"static\('([\w-]+\.css)'\)", FRAME.read_text(encoding="utf-8"))
    sheets = {name: (ROOT / "static" / name).read_text(encoding="utf-8") for name in loaded}
    assert sheets.keys() > OF_EVERY_PAGE
    assert meetings(sheets) == []


def test_a_meeting_is_found_and_what_is_narrowed_down_is_none() -> None:
    look = ".rows{margin:0}.pic .fill{fill:red}"
    week = "@media print{.key-line:first-child,.sheet .rows{margin:0}}"
    pipes = ".key-line b{color:red}.fill{margin:0}.runs .rows{margin:0}/* .rows{} */"
    assert meetings({"look.css": look, "week.css": week, "pipes.css": pipes}) == [
        ".fill of pipes.css stands in look.css too",
        ".key-line of pipes.css stands in week.css too",
        ".key-line of week.css stands in pipes.css too",
    ]

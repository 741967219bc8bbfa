"""What was found, in strings: by kind, the best of each first."""

from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.find.marks import Piece, excerpt, marked
from webapp.pages.find.passages import KINDS, Findable, findable
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.storage.full_text import found_in, words_of

SHOWN_OF_EACH = 8
SHOWN_OF_ONE = 100
MOST_CHARACTERS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundLine:
    address: str
    title: tuple[Piece, ...]
    text: tuple[Piece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundGroup:
    """Things of one kind. `more` says how many are not shown, and where `all_of_them` stand."""

    kind: str
    lines: tuple[FoundLine, ...]
    more: str
    all_of_them: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FindView:
    typed: str
    said: str
    groups: tuple[FoundGroup, ...]


def find_view(page: PageContext, typed: str, kind: str) -> FindView:
    """Everything of the build that holds every word; of one kind alone where one is named."""
    typed = " ".join(typed.split())[:MOST_CHARACTERS]
    asked = words_of(typed)
    kinds = (kind,) if kind in KINDS else KINDS
    here = [
        one
        for one in findable(page.build, page.slug, today=page.today)
        if asked and one.kind in kinds
    ]
    found = [here[place] for place in found_in([one.passage for one in here], asked)]
    most = SHOWN_OF_EACH if len(kinds) > 1 else SHOWN_OF_ONE
    groups = [
        _group(page.slug, typed, asked, name, [one for one in found if one.kind == name], most)
        for name in kinds
    ]
    return FindView(
        typed=typed,
        said=_said(typed, asked, len(found)),
        groups=tuple(group for group in groups if group.lines),
    )


def _said(typed: str, asked: tuple[str, ...], count: int) -> str:
    if not asked:
        return ""
    if not count:
        return (
            f"Nothing holds “{typed}”. Every word has to be in one name, text or day; "
            "try fewer words, or a part of one."
        )
    return f"{words.count(count, 'place')} with “{typed}”."


def _group(
    slug: str, typed: str, asked: tuple[str, ...], kind: str, found: list[Findable], most: int
) -> FoundGroup:
    left = len(found) - most
    return FoundGroup(
        kind=kind,
        lines=tuple(
            FoundLine(
                address=one.address,
                title=marked(one.passage.title, asked),
                text=marked(excerpt(one.passage.text, asked), asked),
            )
            for one in found[:most]
        ),
        more=f"{left:,} more" if left > 0 else "",
        all_of_them=addresses.find(slug, typed, kind) if left > 0 and most < SHOWN_OF_ONE else "",
    )

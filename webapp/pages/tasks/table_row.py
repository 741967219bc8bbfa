"""One row of the table of tasks that was sent alone: what the page then says of it."""

import json
from dataclasses import dataclass

from webapp.pages.forms.carried import read_carried
from webapp.pages.forms.settled_field import same
from webapp.pages.forms.typed_fields import CARRIED, Offer
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.tasks.table_form import STEMS, rows_of, table_shown
from webapp.pages.tasks.table_view import counts_words, range_words

NO_ROW = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class SavedRow:
    """What stands below a row after it was sent: its faults or that it is written.

    `carried` is what it counts as shown with from now on; `wrong` the fields that have a fault.
    """

    number: int
    carried: str
    said: str
    faults: tuple[str, ...]
    wrong: tuple[str, ...]
    offers: tuple[Offer, ...]
    range: str
    counts: str


def number_of(sent: TypedForm) -> int:
    """Which row was sent; `NO_ROW` where that can not be read."""
    text = sent.typed("row").strip()
    return int(text) if text.isascii() and text.isdecimal() and len(text) <= 6 else NO_ROW


def saved_row(
    page: PageContext, sent: TypedForm, form: TypedForm, number: int, *, is_refused: bool
) -> SavedRow:
    """The row after it was sent.

    What was changed in it counts as shown from then on, as it is stored now: what is written, or
    what is asked about. What was not touched still says what it was shown with.
    """
    task = rows_of(form, page.build).get(number)
    was = read_carried(sent.typed(f"{CARRIED}-{number}")) or {}
    now = table_shown(page.build, {number: task}).texts if task else {}
    carried = {}
    for name in (f"{stem}-{number}" for stem in STEMS):
        stored, shown_as = now.get(name, ("",))[-1], was.get(name, "")
        carried[name] = shown_as if same(sent.typed(name), shown_as) else stored
    return SavedRow(
        number=number,
        carried=json.dumps({name: text for name, text in carried.items() if text}),
        said="" if is_refused else "saved",
        faults=tuple(dict.fromkeys(fault.text for fault in form.faults)),
        wrong=tuple(dict.fromkeys(fault.field for fault in form.faults if fault.field)),
        offers=form.offers if is_refused else (),
        range=range_words(task) if task else "",
        counts=counts_words(page.build),
    )

"""What is sold of a hose or tube, and how it is cut, as it is typed; the list laid on the shelf."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.build.limits import MOST_CUT_LENGTH_MM, MOST_KERF_MM, MOST_ON_THE_SHELF
from webapp.build.plumbing import Plumbing, SoldLength
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import number_text
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import amount_reader
from webapp.pages.plumbing.seen import Seen
from webapp.pages.words import sizes
from webapp.plumbing.buy_list import CutGroup
from webapp.plumbing.cutting.cut_list import CutJob, CutList, Stock
from webapp.plumbing.cutting.cut_to_shelf import laid_on_shelf
from webapp.plumbing.cutting.faults import cut_faults
from webapp.plumbing.cutting.of_plumbing import cut_job_of

BLANK_ROWS, MOST_ROWS = 2, 20
SECONDS = (10, 30, 120)
USUAL_SECONDS = 10


ROWS = (Rows(stems=("length", "price", "count"), identity="length"),)


def cut_shown(plumbing: Plumbing, group: CutGroup, job: CutJob | None) -> Shown:
    """The form as it is opened: what is sold as it is kept, the saw as the last list had it."""
    kerf = group.kerf_mm if job is None else job.kerf_mm
    shown = Shown().add("kerf", _as_cut(kerf), kerf)
    shown.tick("square", job is not None and job.square_end)
    sold = sold_of(plumbing, group.what)
    for row, one in enumerate(sold):
        shown.add(f"length-{row}", _as_sold(one.length_mm), one.length_mm)
        shown.number(f"price-{row}", one.price)
        shown.number(f"count-{row}", one.count)
    for row in range(len(sold), len(sold) + BLANK_ROWS):
        shown.blank(f"length-{row}", f"price-{row}", f"count-{row}")
    return shown


def sold_of(plumbing: Plumbing, what: str) -> tuple[SoldLength, ...]:
    """The lengths in which one kind of hose or tube is sold."""
    return tuple(one for one in plumbing.sold if one.what == what)


def _as_cut(kerf_mm: float) -> str:
    """What the saw takes, as it is typed."""
    return number_text(kerf_mm) if sizes.is_metric() else f"{number_text(kerf_mm)} mm"


def _as_sold(length_mm: float) -> str:
    """A length as it is typed: bare in mm, elsewhere with its unit, so that it stays what it is."""
    return number_text(length_mm) if sizes.is_metric() else f"{number_text(length_mm)} mm"


def asked_for(seen: Seen, group: CutGroup, last: CutJob | None) -> FormEdit[CutJob | None]:
    """The edit that keeps what is sold as it is typed; made is the cut list that is asked for,
    None where the form or the list has faults."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[CutJob | None]:
        form.settle(cut_shown(build.plumbing, group, last), ROWS)
        rows = form.row_numbers("length")[:MOST_ROWS]
        sold = tuple(one for row in rows if (one := _sold(form, group.what, row)))
        job = _read_job(form, seen, group, sold)
        others = tuple(one for one in build.plumbing.sold if one.what != group.what)
        plumbing = replace(build.plumbing, sold=(*others, *sold))
        same = sold == sold_of(build.plumbing, group.what)
        return Edited(build=build if same else replace(build, plumbing=plumbing), made=job)

    return edit


def place_of_fault(_made: CutJob | None, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    return "length-0" if fault.kind == "sold" else ""


def _read_job(
    form: TypedForm, seen: Seen, group: CutGroup, sold: tuple[SoldLength, ...]
) -> CutJob | None:
    stocks = [
        Stock(
            name=sizes.length(one.length_mm),
            length_mm=one.length_mm,
            price=one.price,
            count=one.count,
        )
        for one in sold
    ]
    kerf = form.read("kerf", "What the saw takes", amount_reader("length"))
    if kerf is not None and not 0 <= kerf <= MOST_KERF_MM:
        most = sizes.length(MOST_KERF_MM)
        form.fault("kerf", f"What the saw takes: it has to be from 0 to {most}.")
    job = cut_job_of(group, seen.build.plumbing, stocks, square_end=form.ticked("square"))
    job = replace(job, kerf_mm=group.kerf_mm if kerf is None else kerf)
    if form.faults:
        return None
    for fault in cut_faults(job):
        text = sizes.in_shop_units(_as_seen(seen, group, fault.text))
        form.fault("length-0" if fault.field == "stock" else "", text)
    return None if form.faults else job


def _sold(form: TypedForm, what: str, row: int) -> SoldLength | None:
    text = form.typed(f"length-{row}").strip()
    price = form.decimal(f"price-{row}", f"Row {row + 1}, price")
    count = None
    if form.typed(f"count-{row}").strip():
        label = f"Row {row + 1}, how many there are"
        count = form.whole(f"count-{row}", label, at_least=0, at_most=MOST_ON_THE_SHELF)
    if not text:
        if price is not None or count is not None:
            form.fault(f"length-{row}", f"Row {row + 1}, length: nothing is typed.")
        return None
    mm = form.read(f"length-{row}", f"Row {row + 1}, length", amount_reader("length"))
    if mm is None:
        return None
    if not 0 < mm <= MOST_CUT_LENGTH_MM:
        most = sizes.length(MOST_CUT_LENGTH_MM)
        form.fault(
            f"length-{row}",
            f"Row {row + 1}, length: it has to be more than 0 and at most {most}.",
        )
        return None
    return SoldLength(what=what, length_mm=mm, price=price or 0.0, count=count)


def _as_seen(seen: Seen, group: CutGroup, text: str) -> str:
    """A fault with the names of runs in place of their keys."""
    for piece in group.pieces:
        called = f"{piece.run}, piece {piece.number}"
        if called in text:
            return text.replace(called, f"{seen.run_name(piece.run)}, piece {piece.number}")
    return text


def lay_on_shelf(what: str, job: CutJob, answer: CutList) -> FormEdit[str]:
    """The edit after a list was cut."""

    def edit(_form: TypedForm, build: BuildInput) -> Edited[str]:
        return laid_on_shelf(build, what, job, answer)

    return edit

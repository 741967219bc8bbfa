"""What is sold of a hose or tube, and how it is cut, as it is typed; the list laid on the shelf."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.limits import MOST_CUT_LENGTH_MM, MOST_KERF_MM, MOST_ON_THE_SHELF
from webapp.build.units import read_amount
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import number_text
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.seen import Seen
from webapp.pages.words import sizes
from webapp.plumbing.buy_list import CutGroup
from webapp.plumbing.cutting.cut_list import CutJob, CutList, Stock
from webapp.plumbing.cutting.cut_to_shelf import laid_on_shelf
from webapp.plumbing.cutting.faults import cut_faults
from webapp.plumbing.cutting.of_plumbing import cut_job_of, is_leftover

BLANK_ROWS, MOST_ROWS = 2, 20
SECONDS = (10, 30, 120)
USUAL_SECONDS = 10


def cut_shown(group: CutGroup, job: CutJob | None) -> Shown:
    """The form as it is opened: as the last list was asked for, else with nothing sold."""
    kerf = group.kerf_mm if job is None else job.kerf_mm
    shown = Shown().number("kerf", kerf).tick("square", job is not None and job.square_end)
    sold = [] if job is None else [one for one in job.stock if not is_leftover(one)]
    for row, stock in enumerate(sold):
        shown.text(f"length-{row}", _as_sold(stock.length_mm))
        shown.number(f"price-{row}", stock.price)
        shown.number(f"count-{row}", stock.count)
    for row in range(len(sold), len(sold) + BLANK_ROWS):
        shown.blank(f"length-{row}", f"price-{row}", f"count-{row}")
    return shown


def _as_sold(length_mm: float) -> str:
    """A length as it is typed: bare in mm, elsewhere with its unit, so that it stays what it is."""
    return number_text(length_mm) if sizes.is_metric() else f"{number_text(length_mm)} mm"


def read_job(form: TypedForm, seen: Seen, group: CutGroup) -> CutJob | None:
    """The cut list that is asked for; None where the form or the list has faults."""
    sold = [stock for row in form.row_numbers("length")[:MOST_ROWS] if (stock := _stock(form, row))]
    kerf = form.decimal("kerf", "The kerf in mm", at_most=MOST_KERF_MM)
    job = cut_job_of(group, seen.build.plumbing, sold, square_end=form.ticked("square"))
    job = replace(job, kerf_mm=group.kerf_mm if kerf is None else kerf)
    if form.faults:
        return None
    for fault in cut_faults(job):
        form.fault("length-0" if fault.field == "stock" else "", _as_seen(seen, group, fault.text))
    return None if form.faults else job


def _stock(form: TypedForm, row: int) -> Stock | None:
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
    read = read_amount(text, "length", sizes.shop_units())
    if read.value is None or not 0 < read.value <= MOST_CUT_LENGTH_MM:
        why = read.fault or f"it has to be more than 0 and at most {MOST_CUT_LENGTH_MM:,.0f} mm."
        form.fault(f"length-{row}", f"Row {row + 1}, length: {why}")
        return None
    return Stock(
        name=sizes.length(read.value), length_mm=read.value, price=price or 0.0, count=count
    )


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

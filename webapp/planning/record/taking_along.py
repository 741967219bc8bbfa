"""A build's record as another build of the same person takes it along."""

import datetime as dt
from collections import defaultdict
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.folded_name import folded_name
from webapp.planning.chances.factors import is_of_hours_taken
from webapp.planning.record.attendance import weeks_worked
from webapp.planning.record.calibration import Hours, records_of, summed

HOURS_DIGITS, FIGURE_DIGITS = 4, 6
"""So far hours and other figures are kept: a document stays readable, and no date moves by it."""


def earlier_record_of(build: BuildInput, *, key: str, on: dt.date) -> EarlierRecord | None:
    """What a build has shown by itself on the day `on`; None where that is nothing yet.

    `key` is what the build is called by. What it took along from others stays out: they are taken
    from those builds. So do tasks whose hours were once taken, which say nothing of estimates.
    """
    names = {setup.key: setup.name for setup in build.shop.setups}
    called: dict[str, str] = {}
    records: dict[str, list[Hours]] = defaultdict(list)
    for kind, record in records_of(build).items():
        if not is_of_hours_taken(kind):
            name = names.get(kind, kind)
            records[called.setdefault(folded_name(name), name)].extend(record)
    kinds = (_rounded(summed(name, records[name])) for name in sorted(records))
    weeks = weeks_worked(build)
    made = EarlierRecord(
        key=key,
        name=build.name,
        taken_on=on,
        kinds=tuple(kind for kind in kinds if kind.actual_hours and kind.expected_hours),
        weeks=weeks.weeks,
        workable_hours=round(weeks.workable_hours, HOURS_DIGITS),
        worked_hours=round(weeks.worked_hours, HOURS_DIGITS),
    )
    return made if made.kinds or made.weeks else None


def _rounded(kind: EarlierKind) -> EarlierKind:
    return replace(
        kind,
        actual_hours=round(kind.actual_hours, HOURS_DIGITS),
        expected_hours=round(kind.expected_hours, HOURS_DIGITS),
        worth=min(max(1.0, round(kind.worth, FIGURE_DIGITS)), float(kind.tasks)),
        log_squares=round(kind.log_squares, FIGURE_DIGITS),
    )

"""Benchmark rows of a second build's factors, with the first one's record and without it."""

from tests.benchmarks.timing import Table, best_of
from tests.earlier_lives import DAY, SECOND_BUILDS, held_of, off_of, second_builds
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.limits import MOST_EARLIER_RECORDS
from webapp.planning.record.calibration import said_by
from webapp.planning.record.levels import in_levels

PEOPLE = 1_000
OWN = (0, 1, 4, 10, 30)


def earlier_records_of_second_builds(table: Table) -> None:
    """How far log factors are off in the mean and how many 80 % intervals hold, by own tasks."""
    for name, story in SECOND_BUILDS.items():
        lives = second_builds(story, people=PEOPLE, own_tasks=OWN)
        for own in OWN:
            off = " and ".join(f"{off_of(lives, own, known=known):.3f}" for known in (False, True))
            held = f"{held_of(lives, own):.3f}"
            what = f"{name}, {own} tasks of a kind: off without and with the record; held"
            table.row(what, f"{off}; {held}", None)
    _largest(table)


def _largest(table: Table) -> None:
    """Ten earlier builds of two hundred kinds each, the most that a build takes along."""
    kinds = tuple(
        EarlierKind(name=f"k{place}", tasks=5, actual_hours=12.0, expected_hours=10.0, worth=4.0)
        for place in range(200)
    )
    records = [
        EarlierRecord(key=f"b{number}", name="B", taken_on=DAY, kinds=kinds)
        for number in range(MOST_EARLIER_RECORDS)
    ]
    names = {kind.name: kind.name for kind in kinds}
    seconds = best_of(3, lambda: in_levels(said_by({}, names, records), names))
    table.row("factors of 200 kinds from ten earlier builds", f"{seconds:.2f} s", seconds)

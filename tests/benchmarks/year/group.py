"""The group `year`: live a year of two builds, then say what everything costs."""

import tempfile
import time
from pathlib import Path

from tests.benchmarks.timing import Table
from tests.benchmarks.year.builds import year_builds
from tests.benchmarks.year.living import ToldClock, Year, live
from tests.benchmarks.year.measured import measure
from webapp.app import create_app
from webapp.storage.builds import create_build


def year_of_two_builds(table: Table) -> None:
    """150 evenings, 1,500 entries of the log, 300 photographs, and all that goes with them."""
    with tempfile.TemporaryDirectory() as folder:
        data_file = Path(folder) / "keyturn.sqlite3"
        began = time.perf_counter()
        slugs, year = lived_into(data_file)
        seconds = time.perf_counter() - began
        told = f"{year.evenings} evenings, {year.changes:,} changes"
        table.row("a year lived, two builds", told, seconds)
        measure(table, data_file, slugs)


def lived_into(data_file: Path) -> tuple[tuple[str, ...], Year]:
    """A data file with the year in it: the builds, and what was lived."""
    settings = ToldClock(data_file=data_file)
    services = create_app(settings).state.services
    try:
        with services.database.writing() as session:
            slugs = tuple(create_build(session, build) for build in year_builds())
        return slugs, live(services, settings.told, slugs)
    finally:
        services.database.close()

"""The demo build, put into the present week in a database of its own."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

from webapp.build.build_input import BuildInput
from webapp.command.database import open_database
from webapp.exchange.week_shift import shift_weeks, weeks_to_present
from webapp.services.seed_builds import shipped_demo, shipped_story, store_demo
from webapp.settings import Settings, default_data_file
from webapp.storage.build_loader import load_build
from webapp.storage.builds import delete_build
from webapp.storage.snapshots import SnapshotHeading, snapshot_headings

SLUG = "the-heron"


def demo_file() -> Path:
    """Where the demo is kept: beside the person's own builds, not among them."""
    return default_data_file().with_name("keyturn-demo.sqlite3")


def prepare_demo(settings: Settings) -> str:
    """Put the demo build into the database of the settings; returns its slug.

    One that is there already is moved into the present week, unless somebody has changed it:
    then it is left as it is, and so is every other build.
    """
    now = settings.now()
    database = open_database(settings)
    with database.writing() as session:
        there = load_build(session, SLUG, now=now)
        headings = snapshot_headings(session, SLUG)
        if there is None:
            store_demo(session, now, database.photographs)
        elif _is_an_untouched_one_of_another_week(there, headings, now):
            delete_build(session, SLUG)
            store_demo(session, now, database.photographs)
    database.close()
    return SLUG


def _is_an_untouched_one_of_another_week(
    build: BuildInput, headings: tuple[SnapshotHeading, ...], now: dt.datetime
) -> bool:
    """Whether a build is the demo build, to the last field and closed week, of another week."""
    story = shipped_story()
    shipped = shipped_demo()
    if build.starts_on is None or shipped.starts_on is None:
        return False
    weeks = (build.starts_on - shipped.starts_on).days // 7
    if weeks == weeks_to_present(shipped.now, now) or len(headings) != 1 + len(story.weeks):
        return False
    return replace(shift_weeks(shipped, weeks), now=build.now) == build


def demo_settings(settings: Settings, data: Path | None) -> Settings:
    """The settings with the demo's own database, unless another was named."""
    return settings if data else replace(settings, data_file=demo_file())

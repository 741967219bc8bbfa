"""The demo build, put into the present week in a database of its own."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

from webapp.build.build_input import BuildInput
from webapp.command.database import open_database
from webapp.exchange.build_document import read_document
from webapp.exchange.week_shift import shift_weeks, weeks_to_present
from webapp.settings import Settings, default_data_file, resource_root
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build

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
        if there is not None and _is_untouched(there):
            delete_build(session, SLUG)
            there = None
        slug = SLUG if there is not None else create_build(session, demo_build(now))
    database.close()
    return slug


def demo_build(now: dt.datetime) -> BuildInput:
    """The demo build with its dates moved by whole weeks into the week of `now`."""
    build = _as_shipped()
    return shift_weeks(build, weeks_to_present(build.now, now))


def _as_shipped() -> BuildInput:
    document = (resource_root() / "seed_data" / "heron.json").read_bytes()
    build, faults = read_document(document, now=dt.datetime.min)
    if build is None or faults:
        raise ValueError(f"The demo build has faults: {faults}")
    return build


def _is_untouched(build: BuildInput) -> bool:
    """Whether a build is the demo build of some week, to the last field."""
    shipped = _as_shipped()
    if build.starts_on is None or shipped.starts_on is None:
        return False
    weeks = (build.starts_on - shipped.starts_on).days // 7
    return replace(shift_weeks(shipped, weeks), now=build.now) == build


def demo_settings(settings: Settings, data: Path | None) -> Settings:
    """The settings with the demo's own database, unless another was named."""
    return settings if data else replace(settings, data_file=demo_file())

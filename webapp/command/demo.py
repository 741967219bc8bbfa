"""The demo build, put into the present week in a database of its own."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

from webapp.command.database import open_database
from webapp.exchange.build_document import read_document
from webapp.exchange.week_shift import shift_weeks, weeks_to_present
from webapp.planning.build_input import BuildInput
from webapp.settings import Settings, default_data_file, resource_root
from webapp.storage.builds import create_build, delete_build, list_builds
from webapp.storage.database import Database

UNTOUCHED_REVISION = 1


def demo_file() -> Path:
    """Where the demo is kept: beside the person's own builds, not among them."""
    return default_data_file().with_name("keyturn-demo.sqlite3")


def prepare_demo(settings: Settings) -> str:
    """Put the demo build into the database of the settings; returns its slug.

    A demo build that somebody has changed is left as it is, and so is every other build.
    """
    build = demo_build(settings.now())
    database = open_database(settings)
    slug = _fresh(database, build)
    database.close()
    return slug


def demo_build(now: dt.datetime) -> BuildInput:
    """The demo build with its dates moved by whole weeks into the week of `now`."""
    document = (resource_root() / "seed_data" / "heron.json").read_bytes()
    build, faults = read_document(document, now=now)
    if build is None or faults:
        raise ValueError(f"The demo build has faults: {faults}")
    return shift_weeks(build, weeks_to_present(build.now, now))


def _fresh(database: Database, build: BuildInput) -> str:
    with database.writing() as session:
        for heading in list_builds(session):
            if heading.name == build.name:
                if heading.revision != UNTOUCHED_REVISION:
                    return heading.slug
                delete_build(session, heading.slug)
        return create_build(session, build)


def demo_settings(settings: Settings, data: Path | None) -> Settings:
    """The settings with the demo's own database, unless another was named."""
    return settings if data else replace(settings, data_file=demo_file())

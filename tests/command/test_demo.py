"""The demo build comes in the present week, and never over what a person has entered."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from webapp.build.build_input import BuildInput
from webapp.command.demo import demo_file, demo_settings, prepare_demo
from webapp.services.seed_builds import demo_build
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build, list_builds
from webapp.storage.changes import store_changes
from webapp.storage.database import Database

WINTER = dt.datetime(2026, 2, 10, 18, 30)
SUMMER = dt.datetime(2026, 7, 7, 18, 30)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(data_file=tmp_path / "demo.sqlite3", frozen_now=WINTER)


def stored(settings: Settings) -> dict[str, BuildInput]:
    """Every build of the database by its slug, seen in the week of the demo."""
    database = Database.open(settings.data_file)
    with database.reading() as session:
        builds = {
            heading.slug: load_build(session, heading.slug, now=settings.now())
            for heading in list_builds(session)
        }
    database.close()
    return {slug: build for slug, build in builds.items() if build is not None}


def test_the_demo_build_is_stored_in_the_present_week(settings: Settings) -> None:
    assert prepare_demo(settings) == "the-heron"
    expected = replace(demo_build(WINTER), now=WINTER)
    assert stored(settings) == {"the-heron": expected}


def test_an_untouched_demo_build_moves_on_with_the_weeks(settings: Settings) -> None:
    prepare_demo(settings)
    later = replace(settings, frozen_now=SUMMER)
    assert prepare_demo(later) == "the-heron"
    assert stored(later) == {"the-heron": replace(demo_build(SUMMER), now=SUMMER)}


def test_a_changed_demo_build_and_a_build_of_its_name_are_left_alone(settings: Settings) -> None:
    prepare_demo(settings)
    database = Database.open(settings.data_file)
    with database.writing() as session:
        before = load_build(session, "the-heron", now=WINTER)
        assert before is not None
        task = replace(before.tasks[-1], notes="My own words.")
        after = replace(before, tasks=(*before.tasks[:-1], task))
        store_changes(session, "the-heron", before, after)
        own = replace(demo_build(WINTER), vehicle="A van of my own")
        assert create_build(session, own) == "the-heron-2"
    database.close()
    kept = stored(settings)
    assert prepare_demo(replace(settings, frozen_now=SUMMER)) == "the-heron"
    assert stored(settings) == kept


def test_an_own_build_at_the_address_of_the_demo_is_left_alone(settings: Settings) -> None:
    prepare_demo(settings)
    database = Database.open(settings.data_file)
    with database.writing() as session:
        delete_build(session, "the-heron")
        create_build(session, replace(demo_build(WINTER), wanted_by=dt.date(2026, 9, 1)))
    database.close()
    kept = stored(settings)
    assert prepare_demo(settings) == "the-heron"
    assert stored(settings) == kept


def test_the_demo_lies_apart_from_the_own_builds(settings: Settings, tmp_path: Path) -> None:
    own = Settings.from_environment(environment={})
    assert demo_settings(own, None).data_file == demo_file() != own.data_file
    assert demo_settings(settings, tmp_path / "demo.sqlite3") == settings

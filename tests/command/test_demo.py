"""The demo build comes in the present week, and never over what a person has entered."""

import datetime as dt
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from webapp.build.build_input import BuildInput
from webapp.command.demo import demo_file, demo_settings, prepare_demo
from webapp.services.baseline import freeze_week
from webapp.services.seed_builds import demo_build
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build, list_builds
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.snapshots import snapshot_headings

WINTER = dt.datetime(2026, 2, 10, 18, 30)
SUMMER = dt.datetime(2026, 7, 7, 18, 30)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(data_file=tmp_path / "demo.sqlite3", frozen_now=WINTER)


@pytest.fixture(scope="module")
def made_in_winter(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo in it, its photographs beside."""
    folder = tmp_path_factory.mktemp("winter")
    made = prepare_demo(Settings(data_file=folder / "demo.sqlite3", frozen_now=WINTER))
    assert made == "the-heron"
    return folder


@pytest.fixture(scope="module")
def moved_on(made_in_winter: Path, tmp_path_factory: pytest.TempPathFactory) -> Settings:
    """The demo made in the winter, untouched, once it was prepared in the summer. To be read."""
    data_file = tmp_path_factory.mktemp("summer") / "demo.sqlite3"
    shutil.copytree(made_in_winter, data_file.parent, dirs_exist_ok=True)
    later = Settings(data_file=data_file, frozen_now=SUMMER)
    assert prepare_demo(later) == "the-heron"
    return later


@pytest.fixture
def prepared(settings: Settings, made_in_winter: Path) -> Settings:
    """The demo is there, as it was made in the winter."""
    shutil.copytree(made_in_winter, settings.data_file.parent, dirs_exist_ok=True)
    return settings


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


def test_the_demo_build_is_stored_in_the_present_week(prepared: Settings) -> None:
    expected = replace(demo_build(WINTER), now=WINTER)
    assert stored(prepared) == {"the-heron": expected}


def test_an_untouched_demo_build_moves_on_with_the_weeks(moved_on: Settings) -> None:
    assert stored(moved_on) == {"the-heron": replace(demo_build(SUMMER), now=SUMMER)}


def test_a_changed_demo_build_and_a_build_of_its_name_are_left_alone(prepared: Settings) -> None:
    database = Database.open(prepared.data_file)
    with database.writing() as session:
        before = load_build(session, "the-heron", now=WINTER)
        assert before is not None
        task = replace(before.tasks[-1], notes="My own words.")
        after = replace(before, tasks=(*before.tasks[:-1], task))
        store_changes(session, "the-heron", before, after)
        own = replace(demo_build(WINTER), vehicle="A van of my own")
        assert create_build(session, own) == "the-heron-2"
    database.close()
    kept = stored(prepared)
    assert prepare_demo(replace(prepared, frozen_now=SUMMER)) == "the-heron"
    assert stored(prepared) == kept


def kept_moments(settings: Settings) -> list[tuple[str, str, dt.datetime]]:
    database = Database.open(settings.data_file)
    with database.reading() as session:
        found = snapshot_headings(session, "the-heron")
    database.close()
    return [(one.kind, one.label, one.taken_at) for one in found]


def test_the_demo_comes_with_its_baseline_and_eight_closed_weeks(prepared: Settings) -> None:
    """The story was written for the week of 9 February 2026, ISO week 7: nothing is moved."""
    weeks = ["2025-W51", "2025-W52", *(f"2026-W0{week}" for week in range(1, 7))]
    sunday = dt.datetime(2025, 12, 14, 20)
    assert kept_moments(prepared) == [
        ("baseline", "1", sunday),
        *(("week", label, sunday + dt.timedelta(weeks=n)) for n, label in enumerate(weeks, 1)),
    ]


def test_the_closed_weeks_of_the_demo_move_on_with_it(moved_on: Settings) -> None:
    """From the week of 9 February to that of 6 July 2026, ISO week 28, are 21 weeks."""
    moved = kept_moments(moved_on)
    assert len(moved) == 9
    assert moved[0] == ("baseline", "1", dt.datetime(2026, 5, 10, 20))
    assert moved[-1] == ("week", "2026-W27", dt.datetime(2026, 7, 5, 20))


def test_a_demo_in_which_somebody_closed_a_week_is_left_alone(prepared: Settings) -> None:
    database = Database.open(prepared.data_file)
    with database.writing() as session:
        freeze_week(session, "the-heron", demo_build(WINTER), "2026-W07")
    database.close()
    prepare_demo(replace(prepared, frozen_now=SUMMER))
    assert kept_moments(prepared)[-1][1] == "2026-W07"
    assert len(kept_moments(prepared)) == 10


def test_a_demo_of_the_present_week_is_not_written_anew(prepared: Settings) -> None:
    written = prepared.data_file.read_bytes()
    prepare_demo(replace(prepared, frozen_now=WINTER + dt.timedelta(days=4)))
    assert prepared.data_file.read_bytes() == written


def test_an_own_build_at_the_address_of_the_demo_is_left_alone(prepared: Settings) -> None:
    database = Database.open(prepared.data_file)
    with database.writing() as session:
        delete_build(session, "the-heron")
        create_build(session, replace(demo_build(WINTER), wanted_by=dt.date(2026, 9, 1)))
    database.close()
    kept = stored(prepared)
    assert prepare_demo(prepared) == "the-heron"
    assert stored(prepared) == kept


def test_the_demo_lies_apart_from_the_own_builds(settings: Settings, tmp_path: Path) -> None:
    own = Settings.from_environment(environment={})
    assert demo_settings(own, None).data_file == demo_file() != own.data_file
    assert demo_settings(settings, tmp_path / "demo.sqlite3") == settings

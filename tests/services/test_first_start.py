"""First start where it is stored: two devices at once, undo, a program that was ended, a copy."""

import datetime as dt
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest

from tests.first_start.lists import DAY, ENGINE, before_key, signed, start_build
from tests.first_start.walker import typed
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput, LogEntry, Subsystem, Task
from webapp.build.edited import Edited
from webapp.build.shop import DayHours, Shop, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.work import begun_build
from webapp.exchange.build_document import read_document, write_document
from webapp.first_start import engine_runs, signing
from webapp.first_start.evaluation import start_standing
from webapp.first_start.standing import StartStanding
from webapp.services.changes import Refused, Stored, change
from webapp.services.imports import store_document
from webapp.services.plan_cache import PlanCache
from webapp.services.program import Services
from webapp.services.undo import take_back
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.database import Database

SLUG = "test"
LATER = DAY + dt.timedelta(hours=5)
DAY_OPEN = DayHours(opens_minute=480, closes_minute=1200)


def whole() -> BuildInput:
    """An engine of which everything before the key is signed, and a task in its coolant."""
    hours = ThreePoint.certain(1.0)
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    return replace(
        build,
        subsystems=(Subsystem(key="coolant", name="Coolant"),),
        tasks=(
            Task(key="hose", name="Hose", hours=hours, subsystem="coolant"),
            Task(key="start", name="Start", hours=hours),
        ),
        first_start="start",
        shop=Shop(week=(WeekSession(weekday=5, hours=DAY_OPEN),)),
        now=LATER.replace(tzinfo=None),
    )


@cache
def whole_file() -> bytes:
    return file_with(lambda session: create_build(session, whole()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Clocked(Settings):
    """Settings whose clock is set by hand."""

    hand: list[dt.datetime]

    def now(self) -> dt.datetime:
        return self.hand[0].replace(second=0, microsecond=0, tzinfo=None)

    def moment(self) -> dt.datetime:
        return self.hand[0]


def services_on(folder: Path) -> Services:
    data_file = folder / "keyturn.sqlite3"
    if not data_file.exists():
        data_file.write_bytes(whole_file())
    return Services(
        settings=Clocked(data_file=data_file, hand=[LATER]),
        database=Database.open(data_file),
        plans=PlanCache(),
    )


@pytest.fixture
def services(tmp_path: Path) -> Iterator[Services]:
    made = services_on(tmp_path)
    yield made
    made.database.close()


def wait(services: Services, **time: float) -> None:
    assert isinstance(services.settings, Clocked)
    services.settings.hand[0] += dt.timedelta(**time)


def stored(services: Services) -> BuildInput:
    with services.database.reading() as session:
        build = load_build(session, SLUG, now=services.settings.now())
    assert build is not None
    return build


def standing(services: Services) -> StartStanding:
    return start_standing(stored(services), ENGINE, at=services.settings.moment())


def do(services: Services, edit: Callable[[BuildInput], BuildInput]) -> Stored[str]:
    done = change(services, SLUG, lambda build: Edited(build=edit(build), made=""))
    assert isinstance(done, Stored), done
    return done


def sign(services: Services, key: str, version: str) -> Stored[str] | Refused[str] | None:
    check = next(one for one in ENGINE.checks if one.key == key)
    at = services.settings.moment()
    return change(
        services,
        SLUG,
        lambda build: signing.sign(
            build, ENGINE, key, typed(check, at.date()), at=at, version=version
        ),
    )


def test_way_3_of_two_devices_that_sign_at_once_one_is_told_that_the_list_changed(
    services: Services,
) -> None:
    version = standing(services).version
    found: list[Stored[str] | Refused[str] | None] = []
    count = len(stored(services).start.signatures)
    both = [
        threading.Thread(target=lambda key=key: found.append(sign(services, key, version)))
        for key in ("rearmed", "rearmed", "runaway_plan")
    ]
    for each in both:
        each.start()
    for each in both:
        each.join()
    assert sorted(type(one).__name__ for one in found) == ["Refused", "Refused", "Stored"]
    assert len(stored(services).start.signatures) == count + 1


def test_way_4_what_was_signed_is_on_disk_when_the_program_comes_again(tmp_path: Path) -> None:
    first = services_on(tmp_path)
    assert isinstance(sign(first, "rearmed", standing(first).version), Stored)
    before = stored(first)
    first.database.close()
    again = services_on(tmp_path)
    assert stored(again) == before
    again.database.close()


def begin(services: Services) -> Stored[str]:
    now = services.settings.now()
    return do(services, lambda build: begun_build(build, "hose", now=now))


def test_way_8_begun_on_another_device_it_falls_here_and_undo_does_not_bring_it_back(
    services: Services,
) -> None:
    assert standing(services).is_nothing_known_open
    wait(services, minutes=1)
    done = begin(services)
    fallen = {one.check.key for one in standing(services).all if one.state == "fallen"}
    assert {"coolant_pressure", "coolant_in", "battery_on"} <= fallen
    wait(services, minutes=1)
    back = take_back(services, SLUG, first=done.since + 1, last=done.revision)
    assert isinstance(back, Stored)
    assert stored(services).tasks[0].begun_on is None
    assert {one.check.key for one in standing(services).all if one.state == "fallen"} >= fallen


def test_way_8_logging_and_deleting_open_as_beginning_does(services: Services) -> None:
    wait(services, minutes=1)
    entry = LogEntry(task="hose", on=DAY.date(), hours=1.0)
    done = do(
        services,
        lambda build: replace(
            build,
            log=(entry,),
            tasks=(replace(build.tasks[0], begun_on=DAY.replace(tzinfo=None)), build.tasks[1]),
        ),
    )
    assert standing(services).of("coolant_in").state == "fallen"  # type: ignore[union-attr]
    take_back(services, SLUG, first=done.since + 1, last=done.revision)
    do(services, lambda build: replace(build, tasks=build.tasks[1:]))
    assert standing(services).of("coolant_in").state == "fallen"  # type: ignore[union-attr]


def test_a_signature_may_be_undone_and_is_not_put_back_by_undoing_that(services: Services) -> None:
    done = sign(services, "rearmed", standing(services).version)
    assert isinstance(done, Stored)
    wait(services, minutes=2)
    gone = take_back(services, SLUG, first=done.since + 1, last=done.revision)
    assert isinstance(gone, Stored)
    assert standing(services).of("rearmed").state == "not signed"  # type: ignore[union-attr]
    take_back(services, SLUG, first=gone.since + 1, last=gone.revision)
    assert standing(services).of("rearmed").state == "not signed"  # type: ignore[union-attr]


def test_way_6_a_stop_is_not_undone(services: Services) -> None:
    at = services.settings.moment()
    done = change(services, SLUG, lambda build: engine_runs.abort(build, ENGINE, at=at))
    assert isinstance(done, Stored)
    take_back(services, SLUG, first=done.since + 1, last=done.revision)
    (run,) = stored(services).start.runs
    assert run.ending == "aborted"
    assert standing(services).shut.why == "abort to name"  # type: ignore[union-attr]


def test_way_8_a_copy_asks_the_day_anew_and_keeps_what_fell(services: Services) -> None:
    """Nobody knows what was done between the writing of a document and its reading."""
    wait(services, minutes=1)
    begin(services)
    fallen = {one.check.key for one in standing(services).all if one.state == "fallen"}
    build, _ = read_document(write_document(stored(services)), now=LATER)
    assert build is not None
    assert build.start == stored(services).start
    wait(services, minutes=1)
    at = services.settings.moment()
    done = store_document(services.database, build, (), at=at)
    with services.database.reading() as session:
        copy = load_build(session, done.slug, now=services.settings.now())
    assert copy is not None
    wait(services, minutes=1)
    found = start_standing(copy, ENGINE, at=services.settings.moment())
    states = {one.check.key: one.state for one in found.all}
    assert {key for key, state in states.items() if state == "fallen"} == fallen
    assert states["opened_since"] == states["gas_out"] == "lapsed"
    assert states["fuel_closed"] == "stands"

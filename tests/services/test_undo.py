"""Taking changes back where they are stored: to the byte, and once.

A few random rows of changes; `python -m tests.benchmarks taken_back` takes a hundred of them back.
"""

import threading
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.verbs.random_changes import RANDOM_CHANGES, RandomChange
from tests.build.verbs.random_plumbing import RANDOM_PLUMBING
from tests.storage.rich_build import NOW
from tests.storage.rich_build import RICH_BUILD as SIGNED_BUILD
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput, RunningClock
from webapp.build.edited import Edited
from webapp.build.first_start import FirstStart
from webapp.exchange.build_document import write_document
from webapp.services.changes import Stored, change
from webapp.services.plan_cache import PlanCache
from webapp.services.program import Services
from webapp.services.undo import NotTaken, take_back
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, revision_of
from webapp.storage.database import Database
from webapp.storage.past_changes import past_of

RICH_BUILD = replace(SIGNED_BUILD, start=FirstStart())
"""Without signatures: what is opened while one stands is noted for good, which no undo takes back
(test_first_start.py)."""
SLUG = "the-heron"
CHANGES = st.lists(
    st.tuples(st.sampled_from(RANDOM_CHANGES), st.integers(0, 2**32)), min_size=10, max_size=10
)
PLUMBING_CHANGES = st.lists(
    st.tuples(st.sampled_from(RANDOM_PLUMBING), st.integers(0, 2**32)), min_size=10, max_size=10
)


@cache
def unsigned_file() -> bytes:
    return file_with(lambda session: create_build(session, RICH_BUILD))


def services_on(folder: Path) -> Services:
    data_file = folder / "keyturn.sqlite3"
    data_file.write_bytes(unsigned_file())
    return Services(
        settings=Settings(data_file=data_file, frozen_now=NOW),
        database=Database.open(data_file),
        plans=PlanCache(),
    )


@pytest.fixture
def services(tmp_path: Path) -> Iterator[Services]:
    made = services_on(tmp_path)
    yield made
    made.database.close()


def stored(services: Services) -> tuple[BuildInput, str]:
    """The build as it is stored, and its exported document."""
    with services.database.reading() as session:
        build = load_build(session, SLUG, now=NOW)
    assert build is not None
    return build, write_document(build)


def changed(services: Services, verb: RandomChange, seed: int = 0) -> Stored[None] | None:
    """Store what a verb makes of the build; None where the checks refuse it or nothing differs."""
    done = change(services, SLUG, lambda build: Edited(build=verb(build, Random(seed)), made=None))
    return done if isinstance(done, Stored) and done.revision > done.since else None


def undone(services: Services, done: Stored[None]) -> Stored[None]:
    taken = take_back(services, SLUG, first=done.since + 1, last=done.revision)
    assert isinstance(taken, Stored), taken
    return taken


@given(changes=CHANGES)
@settings(max_examples=3, deadline=None)
def test_any_ten_changes_taken_back_in_turn_and_back_again_leave_every_byte(
    changes: Sequence[tuple[RandomChange, int]],
) -> None:
    takes_back_to_the_byte(changes)


@given(changes=PLUMBING_CHANGES)
@settings(max_examples=3, deadline=None)
def test_any_ten_changes_of_what_is_plumbed_taken_back_in_turn_leave_every_byte(
    changes: Sequence[tuple[RandomChange, int]],
) -> None:
    takes_back_to_the_byte(changes)


def takes_back_to_the_byte(changes: Sequence[tuple[RandomChange, int]]) -> None:
    """Changes by seeded verbs, all taken back one by one and then put back."""
    with TemporaryDirectory() as folder:
        services = services_on(Path(folder))
        states = [stored(services)]
        made: list[Stored[None]] = []
        for verb, seed in changes:
            done = changed(services, verb, seed)
            if done is not None:
                made.append(done)
                states.append(stored(services))
        undos = []
        for number in reversed(range(len(made))):
            undos.append(undone(services, made[number]))
            assert stored(services) == states[number]
        for number, undo in enumerate(reversed(undos), start=1):
            undone(services, undo)
            assert stored(services) == states[number]
        services.database.close()


@given(changes=st.one_of(CHANGES, PLUMBING_CHANGES))
@settings(max_examples=4, deadline=None)
def test_whatever_is_taken_back_out_of_turn_leaves_a_build_that_can_be_stored_and_told(
    changes: list[tuple[RandomChange, int]],
) -> None:
    with TemporaryDirectory() as folder:
        services = services_on(Path(folder))
        made = [done for verb, seed in changes if (done := changed(services, verb, seed))]
        for done in made[: len(made) // 2 + 1]:
            before = stored(services)
            taken = take_back(services, SLUG, first=done.since + 1, last=done.revision)
            if isinstance(taken, NotTaken):
                assert taken.why in ("hangs", "faults")
                assert taken.hangs or taken.faults
                assert stored(services) == before
        with services.database.reading() as session:
            past = past_of(session, SLUG, now=NOW, most=1000)
        assert past is not None
        # The journal tells every change whole, back to the entry of the build.
        assert all(one.before is not None or one.enters for one in past.changes)
        assert past.changes[-1].after == RICH_BUILD
        services.database.close()


def rename(name: str) -> RandomChange:
    return lambda build, _chance: replace(build, name=name)


def test_of_two_at_once_who_take_one_change_back_the_second_is_told(services: Services) -> None:
    done = changed(services, rename("The Crane"))
    assert done is not None
    gate = threading.Barrier(2)
    answers: list[Stored[None] | NotTaken | None] = []

    def press() -> None:
        gate.wait()
        answers.append(take_back(services, SLUG, first=done.revision, last=done.revision))

    presses = [threading.Thread(target=press) for _ in range(2)]
    for thread in presses:
        thread.start()
    for thread in presses:
        thread.join()
    refused = [answer for answer in answers if isinstance(answer, NotTaken)]
    assert [answer.why for answer in refused] == ["taken back"]
    assert refused[0].at is not None
    assert stored(services)[0] == RICH_BUILD
    with services.database.reading() as session:
        assert revision_of(session, SLUG) == done.revision + 1


def test_what_was_taken_back_and_put_back_can_be_taken_back_again(services: Services) -> None:
    done = changed(services, rename("The Crane"))
    assert done is not None
    undone(services, undone(services, done))
    assert stored(services)[0].name == "The Crane"
    undone(services, done)
    assert stored(services)[0] == RICH_BUILD


def test_what_was_built_upon_stays_and_names_the_later_change(services: Services) -> None:
    first = changed(services, rename("The Crane"))
    second = changed(services, rename("The Stork"))
    assert first is not None
    assert second is not None
    refused = take_back(services, SLUG, first=first.revision, last=first.revision)
    assert isinstance(refused, NotTaken)
    assert refused.why == "hangs"
    assert [(one.hanging.field, one.revision) for one in refused.hangs] == [
        ("name", second.revision)
    ]
    assert stored(services)[0].name == "The Stork"


def test_several_changes_of_one_press_are_taken_back_together(services: Services) -> None:
    first = changed(services, rename("The Crane"))
    second = changed(services, rename("The Stork"))
    assert first is not None
    assert second is not None
    taken = take_back(services, SLUG, first=first.revision, last=second.revision)
    assert isinstance(taken, Stored)
    assert stored(services)[0] == RICH_BUILD


def test_the_entry_of_a_build_and_what_never_was_are_not_taken_back(services: Services) -> None:
    for revision, why in ((1, "entered"), (7, "no change"), (0, "entered")):
        refused = take_back(services, SLUG, first=revision, last=max(1, revision))
        assert isinstance(refused, NotTaken)
        assert refused.why == why
    assert take_back(services, "nowhere", first=2, last=2) is None


def test_the_first_begin_is_taken_back_while_the_baseline_it_froze_stays(
    services: Services,
) -> None:
    """RICH_BUILD has begun tasks; without them the next begin is the first.

    None of its later shop weeks has a session as long as the whole of a task in one go.
    """
    facts = {"begun_on": None, "finished_on": None, "hours_left": None}

    def fresh(build: BuildInput, _chance: Random) -> BuildInput:
        tasks = tuple(replace(task, **facts) for task in build.tasks)  # type: ignore[arg-type]
        return replace(build, tasks=tasks, log=(), shop=replace(build.shop, later_weeks=()))

    def begin(build: BuildInput, _chance: Random) -> BuildInput:
        begun = replace(build.tasks[0], begun_on=NOW)
        return replace(
            build,
            tasks=(begun, *build.tasks[1:]),
            on_bench=RunningClock(task=begun.key, since=NOW),
        )

    assert changed(services, fresh) is not None
    before = stored(services)
    begun = changed(services, begin)
    assert begun is not None
    assert begun.revision == begun.since + 2  # the change, then the baseline
    frozen = take_back(services, SLUG, first=begun.revision, last=begun.revision)
    assert isinstance(frozen, NotTaken)
    assert frozen.why == "frozen"
    undone(services, begun)
    assert stored(services) == before

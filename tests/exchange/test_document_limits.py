"""Whatever the program writes it reads back: a build that is too large is a fault before that.

The bytes of a character: at most four in UTF-8 (RFC 3629), two where JSON escapes it (RFC 8259).
"""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.build.builds import build_of, task
from tests.build.random_builds import builds
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.checks.size_checks import most_bytes_written
from webapp.build.limits import MOST_DOCUMENT_BYTES, MOST_TASKS, MOST_TEXT_CHARACTERS
from webapp.exchange.build_document import read_document, write_document
from webapp.settings import resource_root

NOW = dt.datetime(2026, 3, 1, 12)
SEEDS = sorted((resource_root() / "seed_data").glob("*.json"))


def bytes_written(build: BuildInput) -> int:
    return len(write_document(build).encode())


def with_texts(build: BuildInput, text: str) -> BuildInput:
    return replace(build, tasks=tuple(replace(t, notes=text, caution=text) for t in build.tasks))


def long_texts(tasks: int) -> BuildInput:
    """So many tasks, each with the longest texts of the widest characters."""
    text = "\N{WRENCH}" * MOST_TEXT_CHARACTERS
    return with_texts(build_of([task(f"t{n}", 1) for n in range(tasks)], first_start="t0"), text)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(build=builds(), text=st.text('"\\\n\täé溶\N{WRENCH} a', max_size=200))
def test_no_document_is_larger_than_its_build_may_be(build: BuildInput, text: str) -> None:
    build = with_texts(replace(build, name=text), text)
    assert bytes_written(build) <= most_bytes_written(build)


@pytest.mark.parametrize("path", SEEDS, ids=lambda path: path.stem)
def test_a_seed_is_far_from_the_limit(path: Path) -> None:
    build, _ = read_document(path.read_bytes(), now=NOW)
    assert build is not None
    assert bytes_written(build) <= most_bytes_written(build) < MOST_DOCUMENT_BYTES / 100


def test_a_build_with_every_field_is_no_larger_than_it_may_be() -> None:
    assert bytes_written(RICH_BUILD) <= most_bytes_written(RICH_BUILD)


@pytest.mark.slow
def test_a_build_of_as_many_tasks_as_there_may_be_reads_the_same() -> None:
    names = [f"t{n}" for n in range(MOST_TASKS)]
    build = build_of(
        [replace(task(key, (1, 2.5, 4)), name="n" * 60, notes="o" * 100) for key in names],
        [(names[n - step], names[n]) for n in range(2, MOST_TASKS) for step in (1, 2)],
        first_start=names[-1],
    )
    again, faults = read_document(write_document(build).encode(), now=NOW)
    assert faults == ()
    assert again == build


@pytest.mark.slow
def test_a_build_with_the_longest_texts_reads_the_same_up_to_the_limit() -> None:
    # Two texts of 10,000 characters of four bytes are 80,000 bytes a task, its figures and the
    # names of its fields less than 1,000 more: twelve tasks of 800 are room enough for those.
    build = long_texts(MOST_DOCUMENT_BYTES // (2 * 4 * MOST_TEXT_CHARACTERS) - 12)
    written = write_document(build).encode()
    assert len(written) > 0.98 * MOST_DOCUMENT_BYTES
    assert read_document(written, now=NOW) == (build, ())


@pytest.mark.slow
def test_a_build_beyond_the_limit_is_a_fault_that_names_it_and_so_is_its_document() -> None:
    build = long_texts(MOST_DOCUMENT_BYTES // (2 * 4 * MOST_TEXT_CHARACTERS) + 1)
    (fault,) = faults_of(build)
    assert "64 MB is the most" in fault.text
    _, faults = read_document(write_document(build).encode(), now=NOW)
    (told,) = faults
    assert "64 MB is the most" in told.text


def test_a_document_beyond_the_limit_is_not_even_looked_at() -> None:
    build, faults = read_document(b" " * (MOST_DOCUMENT_BYTES + 1), now=NOW)
    assert build is None
    assert ["64 MB is the most" in fault.text for fault in faults] == [True]

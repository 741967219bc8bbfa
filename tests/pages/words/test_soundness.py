"""Weaknesses of a plan in sentences."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build.builds import MONDAY, build_of, task
from tests.build.random_builds import builds
from tests.planning.record.test_soundness import SPREAD, sound
from webapp.build.build_input import BuildInput, Part
from webapp.pages.words.soundness import PRACTICES, REMEDIES, finding_words
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.finding import Finding, FindingKind
from webapp.planning.record.soundness import findings_of

TODAY = MONDAY.date()


def sentences(build: BuildInput) -> dict[str, str]:
    findings = findings_of(build, make_plan(build))
    return {f.kind: finding_words(build, f, today=TODAY).sentence for f in findings}


def test_one_task_and_many_are_told_by_name() -> None:
    assert sentences(sound(task("shelf", SPREAD)))["leads_nowhere"] == (
        "Nothing waits for “SHELF”, and first start does not need it."
    )
    many = sound(*(task(f"x{i}", SPREAD) for i in range(9)))
    assert sentences(many)["leads_nowhere"] == (
        "Nothing waits for “X0”, “X1”, “X2” and 6 more, and first start does not need them."
    )


def test_parts_and_days_are_told_by_name_and_by_date() -> None:
    pump = Part(key="pump", name="Pump", serves=("a",))
    assert sentences(sound(parts=(pump,)))["undated_part"].startswith("No arrival date: “Pump”.")
    # Nothing leads up to it: 1 h of expected work on Monday evening.
    build = build_of([task("a", SPREAD), task("start", 1)], first_start="start")
    assert "first start on Mon 5 January: " in sentences(build)["no_driver"]


@pytest.mark.parametrize("kind", get_args(FindingKind))
def test_every_weakness_has_a_practice_and_a_remedy(kind: FindingKind) -> None:
    assert PRACTICES[kind]
    assert REMEDIES[kind].endswith(".")


@given(builds(), st.booleans())
def test_every_finding_is_a_sentence(build: BuildInput, with_baseline: bool) -> None:
    findings: tuple[Finding, ...] = findings_of(
        build, make_plan(build), build if with_baseline else None
    )
    for finding in findings:
        assert finding_words(build, finding, today=TODAY).sentence.endswith(".")

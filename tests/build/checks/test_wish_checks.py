"""Faults of wishes: each with the wish's own name and the remedy."""

import datetime as dt
import math
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, Fault, Subsystem
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import Setup
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish, WishDecision, WishPart, WishSize

TODAY = MONDAY.date()
TASKS = [
    task("strip", 2, finished_on=TODAY),
    task("bracket", 3),
    task("tubes", 4),
    task("aside", 1, set_aside_on=TODAY),
    task("start", 1),
    task("heat", 1),
]
LINKS = [("strip", "bracket"), ("bracket", "tubes"), ("tubes", "start"), ("start", "heat")]
BUILD = replace(
    build_of(TASKS, LINKS, first_start="start", setups=(Setup(key="tig", name="TIG", hours=1),)),
    subsystems=(Subsystem(key="air", name="Air"),),
)


def wish(**of: Any) -> Wish:
    return Wish(**{"key": "w1", "text": "Second battery", "logged_on": TODAY, **of})


def faults(build: BuildInput = BUILD, **of: Any) -> list[Fault]:
    return list(faults_of(replace(build, wishes=(wish(**of),))))


def test_a_bare_line_and_a_wish_that_says_all_have_no_fault() -> None:
    assert faults() == []
    hours = ThreePoint(optimistic=1, most_likely=2, pessimistic=4)
    assert not faults(
        subsystem="air",
        after="strip",
        before="tubes",
        size="evening",
        hours=hours,
        setup="tig",
        rough_in_hours=hours,
        later_extra_hours=1.0,
        parts=(WishPart(name="Battery", lead_days=3, cost=118),),
        cost=20.0,
    )


@pytest.mark.parametrize(
    ("of", "field", "words"),
    [
        ({"subsystem": "water"}, "subsystem", "there is no subsystem water. Pick a subsystem"),
        ({"after": "nobody"}, "after", "there is no task nobody. Pick a task"),
        ({"before": "nobody"}, "before", "there is no task nobody. Pick a task"),
        ({"setup": "mig"}, "setup", "there is no setup mig. Pick a setup"),
        ({"size": "month"}, "size", "there is no quick size month. Pick a quick size"),
        ({"before": "strip"}, "before", "before STRIP, which is finished"),
        ({"before": "aside"}, "before", "before ASIDE, which is set aside"),
        ({"after": "aside"}, "after", "after ASIDE, which is set aside: it could never begin"),
        ({"after": "tubes", "before": "tubes"}, "before", "both before and after TUBES"),
        ({"later_extra_hours": -1.0}, "later_extra_hours", "Enter a number from 0 to 10,000"),
        ({"cost": math.nan}, "cost", "the cost: not a number"),
        ({"cost": 1e10}, "cost", "Enter a number from 0 to 1,000,000,000"),
        ({"text": " "}, "text", "it has no text. Enter one."),
        ({"logged_on": dt.date(1900, 1, 1)}, "logged_on", "Correct the date."),
        (
            {"parts": (WishPart(name="Lamp", lead_days=4000),)},
            "parts",
            "the days until its part Lamp comes: 4,000. Enter a number from 0 to 3,650.",
        ),
        ({"parts": (WishPart(name="Lamp", cost=-1),)}, "parts", "the cost of its part Lamp: -1."),
        ({"parts": (WishPart(name=""),)}, "parts", "its part number 1 has no name. Enter one."),
    ],
)
def test_a_fault_names_the_wish_the_field_and_the_remedy(
    of: dict[str, Any], field: str, words: str
) -> None:
    (fault,) = faults(**of)
    name = "Wish w1" if "text" in of else "Wish Second battery (w1)"
    assert (fault.kind, fault.key, fault.field) == ("wish", "w1", field)
    assert fault.text.startswith(f"{name}: ")
    assert words in fault.text


@pytest.mark.parametrize("field", ["hours", "rough_in_hours"])
@pytest.mark.parametrize(
    ("points", "words"),
    [
        ((3, 2, 1), "are out of order: 3 if all goes well, 2 likely, 1 if it fights you."),
        ((-1, 2, 3), "if all goes well: -1. Enter a number from 0 to 10,000."),
        ((1, 2, math.inf), "if it fights you: not a number. Enter a number from 0 to 10,000."),
    ],
)
def test_hours_out_of_order_negative_or_endless_are_told(
    field: str, points: tuple[float, float, float], words: str
) -> None:
    low, likely, high = points
    of: dict[str, Any] = {field: ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)}
    (fault,) = faults(**of)
    assert fault.field == field
    assert words in fault.text


def test_a_loop_is_named_from_task_to_task() -> None:
    (fault,) = faults(after="tubes", before="bracket")
    assert fault.field == "after"
    assert "Loop: BRACKET -> TUBES -> this wish -> BRACKET." in fault.text


@pytest.mark.parametrize("after", ["start", "heat"])
def test_a_wish_after_first_start_that_names_nothing_it_comes_before_is_a_loop(
    after: str,
) -> None:
    """Without a task before which it stands it is wanted before first start."""
    (fault,) = faults(after=after)
    assert "-> this wish -> START. Pick a task before first start" in fault.text


def test_a_long_loop_is_told_in_part() -> None:
    chain = [task(f"t{i}", 1) for i in range(40)]
    links = [(f"t{i}", f"t{i + 1}") for i in range(39)]
    (fault,) = faults(build_of(chain, links, first_start="t39"), after="t39", before="t0")
    assert "… 30 more …" in fault.text
    assert len(fault.text) < 400


def test_a_decided_wish_keeps_its_history_whatever_became_of_the_tasks() -> None:
    decision = WishDecision(way="let go", decided_on=TODAY)
    assert faults(before="strip", decision=decision) == []
    assert faults(after="aside", decision=decision) == []
    assert faults(after="tubes", before="bracket", decision=decision) == []


def test_a_decision_still_to_come_is_told() -> None:
    later = WishDecision(way="let go", decided_on=TODAY + dt.timedelta(days=1))
    (fault,) = faults(decision=later)
    assert fault.field == "decided_on"
    assert "lies in the future" in fault.text


def test_a_task_of_an_unknown_wish_is_told() -> None:
    marked = replace(BUILD.tasks[1], wish="w9")
    (fault,) = faults_of(replace(BUILD, tasks=(BUILD.tasks[0], marked, *BUILD.tasks[2:])))
    assert (fault.kind, fault.key, fault.field) == ("task", "bracket", "wish")
    assert "there is no wish w9" in fault.text


@pytest.mark.parametrize("confidence", [0.49, 1.0, math.nan, -1.0])
def test_a_confidence_out_of_bounds_is_told(confidence: float) -> None:
    (fault,) = faults_of(replace(BUILD, confidence=confidence))
    assert (fault.kind, fault.field) == ("build", "confidence")
    assert "Enter a number from 0.5 to 0.99." in fault.text


@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.99])
def test_a_confidence_within_bounds_is_none(confidence: float) -> None:
    assert faults_of(replace(BUILD, confidence=confidence)) == ()


def size(key: str = "lunch", name: str = "a lunch break", points: Any = (0.5, 1, 1)) -> WishSize:
    low, likely, high = points
    return WishSize(
        key=key,
        name=name,
        hours=ThreePoint(optimistic=low, most_likely=likely, pessimistic=high),
    )


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        ((), "it has no quick sizes for wishes. Enter at least one"),
        ((size(key=""),), "it has no key. Enter one."),
        ((size(name=""),), "it has no name. Enter one."),
        ((size(points=(2, 1, 3)),), "the hours are out of order"),
        ((size(), size(name="a long lunch")), "has the key lunch already"),
    ],
)
def test_faults_of_quick_sizes_are_told(sizes: tuple[WishSize, ...], words: str) -> None:
    (fault,) = faults_of(replace(BUILD, wish_sizes=sizes))
    assert words in fault.text


def test_every_wish_is_told_of_in_one_pass_over_a_large_build() -> None:
    """1,000 wishes on a chain of 2,000 tasks, each with another end."""
    count = 2000
    chain = [task(f"t{i}", 1) for i in range(count)]
    links = [(f"t{i}", f"t{i + 1}") for i in range(count - 1)]
    build = build_of(chain, links, first_start=f"t{count - 1}")
    wishes = tuple(wish(key=f"w{i}", after=f"t{count - 1}", before=f"t{i}") for i in range(1000))
    found = faults_of(replace(build, wishes=wishes))
    assert len(found) == 1000
    more = faults_of(replace(build, wishes=(*wishes, wish(key="one more"))))
    assert "it has 1,001 wishes, and 1,000 is the most" in more[0].text

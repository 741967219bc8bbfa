"""The bridge in one sentence: which day to which day, and for what."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings

from tests.planning.bridge.test_bridge import pairs
from webapp.build.build_input import BuildInput
from webapp.pages.words.bridge import (
    NO_ANSWERS,
    item_name,
    no_answer_words,
    order_words,
    sentence_of,
)
from webapp.planning.bridge.bridge import CAUSES, Bridge, Cause, CauseShare, bridge
from webapp.planning.bridge.items import BridgeItem, OrderOfWork

DAY_MINUTES = 24 * 60
JANUARY = dt.datetime(2026, 1, 9, 21)


def moved(**days: float) -> Bridge:
    """A bridge with so many days for each cause."""
    causes: dict[Cause, float] = {cause: days.get(cause, 0) for cause in CAUSES}
    shares = [
        CauseShare(cause=cause, minutes=round(number * DAY_MINUTES))
        for cause, number in causes.items()
    ]
    move = sum(share.minutes for share in shares)
    to_at = JANUARY + dt.timedelta(minutes=move)
    return Bridge(from_at=JANUARY, to_at=to_at, move_minutes=move, shares=tuple(shares))


@pytest.mark.parametrize(
    ("way", "sentence"),
    [
        (moved(), "First start stays on 9 January."),
        (
            moved(shop_time=3),
            "First start moved from 9 January to 12 January: 3 days for lost shop time.",
        ),
        (
            moved(estimates=-1),
            "First start moved from 9 January to 8 January: 1 day won by estimates.",
        ),
        (
            moved(parts=4, shop_time=2, scope=-1),
            "First start moved from 9 January to 14 January: "
            "4 days for late parts and outside work, 2 for lost shop time, "
            "1 day won by dropped scope.",
        ),
        (
            moved(estimates=358),
            "First start moved from 9 January 2026 to 2 January 2027: 358 days for estimates.",
        ),
        # Under a day in all: told in hours.
        (moved(order=1 / 12), "First start stays on 9 January: 2 hours for order of work."),
    ],
)
def test_the_sentence_tells_days_and_causes_the_largest_first(way: Bridge, sentence: str) -> None:
    assert sentence_of(way) == sentence


def test_scope_of_wishes_alone_is_told_as_wishes() -> None:
    wish = BridgeItem(kind="wish", key="w1", name="A lamp", minutes=DAY_MINUTES)
    way = moved(scope=1)
    share = replace(way.shares[0], items=(wish,))
    way = replace(way, shares=(share, *way.shares[1:]))
    assert sentence_of(way).endswith(": 1 day for one wish.")


@pytest.mark.parametrize("why", NO_ANSWERS)
def test_where_there_is_no_bridge_the_sentence_says_why(why: str) -> None:
    way = Bridge(from_at=None, to_at=None, no_answer=why)  # type: ignore[arg-type]
    assert sentence_of(way) == no_answer_words(way)
    assert no_answer_words(way).startswith("First start")


def test_the_order_of_work_is_told_by_names() -> None:
    order = OrderOfWork(aside_hours=3.0, early=("C",), left=("A", "B"))
    assert order_words(order) == (
        "3 hours went into work that first start does not need. Worked on before its turn: “C”. "
        "Left although it was its turn: “A” and “B”."
    )
    nothing = OrderOfWork(aside_hours=0.0, early=(), left=())
    assert order_words(nothing).startswith("Work was done in another order")


def test_what_has_no_name_of_its_own_is_given_one() -> None:
    item = BridgeItem(kind="shop", key="", name="", minutes=1)
    assert item_name(item) == "the shop week from today on"
    assert item_name(replace(item, kind="rest")) == "what comes before what, and what it needs"
    assert item_name(replace(item, kind="task", name="Weld")) == "Weld"


@settings(max_examples=40, deadline=None)
@given(pairs())
def test_every_bridge_has_one_sentence(pair: tuple[BuildInput, BuildInput]) -> None:
    assert sentence_of(bridge(*pair)).endswith(".")

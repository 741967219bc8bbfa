"""Sums of money: to the cent, each once, and the same however they are added up."""

import datetime as dt
import json
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from random import Random
from typing import Any

import pytest

from tests.build.builds import build_of, task
from tests.build.random_builds import random_build
from tests.build.verbs.random_changes import decide_wish, take_decision_back
from webapp.build.build_input import BuildInput, Part
from webapp.build.money import (
    cents_of,
    had_done,
    money_growth,
    money_items,
    offers_of,
    sums_by,
    sums_of,
)
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_decisions import accept, take_back
from webapp.build.verbs.wish_tasks import sized
from webapp.build.wish import WISH_WAYS, Wish, WishDecision, WishPart
from webapp.exchange.build_document import read_document, write_document

TODAY = dt.date(2026, 1, 5)


def with_wishes(seed: int) -> BuildInput:
    """A random build with three wishes, decided at random ways; parts and other money cost."""
    chance, build = Random(f"wishes {seed}"), random_build(6, seed)
    wishes = tuple(
        Wish(
            key=f"w{i}",
            text=f"Wish {i}",
            logged_on=build.now.date(),
            subsystem=chance.choice((None, "air")),
            cost=chance.choice((None, chance.randint(0, 99_999) / 100)),
            parts=tuple(
                WishPart(name="Lamp", lead_days=4.0, cost=chance.randint(0, 99_999) / 100)
                for _ in range(chance.randint(0, 2))
            ),
        )
        for i in range(3)
    )
    build = replace(build, wishes=wishes)
    for _ in range(chance.randint(0, 3)):
        build = decide_wish(build, chance)
    paid = chance.choice((None, 0.07))
    return replace(build, wishes=tuple(replace(w, paid=paid) for w in build.wishes))


def added_up(build: BuildInput) -> Counter[tuple[str, str | None]]:
    """Hundredths by state and subsystem, from the JSON of the build's document alone."""
    document = json.loads(write_document(build), parse_float=Decimal)
    tasks = {one["key"]: one for one in document["tasks"]}
    found: Counter[tuple[str, str | None]] = Counter()

    def add(one: dict[str, Any], is_ordered: bool, subsystem: str | None) -> None:
        paid, cost = one.get("paid"), one.get("cost")
        state = "to come"
        if is_ordered:
            state = "committed"
        if paid is not None:
            state = "spent"
        sum_of = Decimal(paid if paid is not None else cost or 0) * 100
        assert sum_of == int(sum_of)
        found[state, subsystem] += int(sum_of)

    for part in document["parts"]:
        serves = [tasks[key] for key in part["for"]]
        ordered = bool(part.get("ordered_on")) or part["arrived"]
        aside = serves and all(one.get("set_aside_on") for one in serves)
        if not aside or ordered or part.get("paid") is not None:
            add(part, ordered, serves[0]["subsystem"] if serves else None)
    for one in document["tasks"]:
        if not one.get("set_aside_on") or one.get("paid") is not None:
            add(one, bool(one["begun_on"] or one["finished_on"]), one["subsystem"])
    for wish in document["wishes"]:
        way = (wish.get("decision") or {"way": "let go"})["way"]
        if way != "let go" or wish.get("paid") is not None:
            add(wish, False, wish.get("subsystem"))
    return found


def test_sums_are_those_of_the_document_added_up_apart() -> None:
    spent = 0
    for seed in range(300):
        build = with_wishes(seed)
        items, expected = money_items(build), added_up(build)
        by_subsystem = sums_by(items, lambda item: item.subsystem)
        for key, sums in by_subsystem.items():
            assert sums.spent == expected["spent", key]
            assert sums.committed == expected["committed", key]
            assert sums.to_come == expected["to come", key]
        whole = sums_of(items)
        assert whole.total == sum(expected.values())
        assert whole.spent + whole.committed + whole.to_come == whole.total
        by_wish = sums_by(items, lambda item: item.wish)
        for groups in (by_subsystem, by_wish):
            assert sum(one.total for one in groups.values()) == whole.total
            assert sum(one.spent for one in groups.values()) == whole.spent
        assert all(item.cents >= 0 or (item.paid or 0) < 0 for item in items)
        spent += whole.spent != 0
    assert spent > 100


def test_the_growth_since_a_baseline_adds_up_to_what_it_is_now() -> None:
    for seed in range(100):
        baseline = with_wishes(seed)
        frozen, faults = read_document(write_document(baseline), now=baseline.now)
        assert frozen is not None
        assert not faults
        chance = Random(seed)
        build = decide_wish(take_decision_back(baseline, chance), chance)
        build = replace(build, parts=build.parts[1:])
        growth = money_growth(frozen, build)
        assert growth.first == sums_of(money_items(baseline)).total
        assert growth.now == sums_of(money_items(build)).total
        assert money_growth(frozen, baseline).growth in (0, None)


@pytest.mark.parametrize("way", WISH_WAYS)
def test_a_wish_brings_what_it_was_said_to_cost_and_taking_it_back_takes_that(way: str) -> None:
    # 12.10 + 0.20 for parts and 7.05 beside: 19.35; floats would make 19.349999999999998 of it.
    parts = (WishPart(name="Lamp", lead_days=2, cost=12.1), WishPart(name="Fuse", cost=0.2))
    wish = Wish(key="lamp", text="A lamp", logged_on=TODAY, parts=parts, cost=7.05)
    build = replace(build_of([task("a", 1)], first_start="a"), wishes=(wish,))
    before = sums_of(money_items(build)).total
    decision = WishDecision(way=way, decided_on=TODAY)  # type: ignore[arg-type]
    decided = accept(build, wish, decision)
    expected = 0 if way == "let go" else 1935
    assert sums_of(money_items(decided)).total - before == expected
    if way != "let go":
        assert cents_of(sized(build, wish).cost) == expected
        by_wish = sums_by(money_items(decided), lambda item: item.wish)
        assert by_wish["lamp"].total == expected
    back = take_back(decided, next(one for one in decided.wishes))
    assert back is not None
    assert money_items(back) == money_items(build)


def test_what_is_paid_counts_instead_of_the_estimate_and_a_refund_takes_off() -> None:
    build = build_of([task("a", 1)], first_start="a")
    parts = (
        Part(key="p", name="Pump", cost=100.0, paid=89.9, ordered_on=TODAY),
        Part(key="q", name="Core", cost=40.0, paid=-25.0),
        Part(key="r", name="Hose", cost=12.34, ordered_on=TODAY),
        Part(key="s", name="Radiator", cost=0.01),
        Part(key="t", name="No price"),
    )
    sums = sums_of(money_items(replace(build, parts=parts)))
    assert (sums.spent, sums.committed, sums.to_come) == (8990 - 2500, 1234, 1)


def test_a_thousand_cents_are_ten_to_the_cent() -> None:
    build = build_of([task("a", 1)], first_start="a")
    parts = tuple(Part(key=f"p{i}", name="Washer", cost=0.01) for i in range(1_000))
    assert sums_of(money_items(replace(build, parts=parts))).to_come == 1_000
    assert [cents_of(one) for one in (0.1 + 0.2, 1.005, 2.675, 1e9, -0.07)] == [
        30,
        100,  # as far from 1.01, the even one
        268,
        100_000_000_000,
        -7,
    ]


def test_painted_for_300_in_12_days_costs_so_much_an_hour_saved() -> None:
    # 300 less the 60 of paint that it costs otherwise, over 16 hours: 15 an hour.
    paint = replace(
        task("paint", 16, in_one_go=False), cost=60.0, offer_cost=300.0, offer_days=12.0
    )
    build = build_of([paint, task("start", 1)], first_start="start")
    (offer,) = offers_of(build)
    assert (offer.cents, offer.days, offer.hours, offer.cents_an_hour) == (24_000, 12.0, 16.0, 1500)
    done = had_done(paint)
    assert (done.outside_days, done.setup, done.hours) == (12.0, None, ThreePoint.certain(16))
    begun = replace(paint, begun_on=build.now)
    assert offers_of(replace(build, tasks=(begun, build.tasks[1]))) == ()

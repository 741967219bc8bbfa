"""Several people, several setups out: by hand, and against places walked through one by one."""

import itertools
import random
from dataclasses import replace

import pytest

from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput, Task
from webapp.build.shop import Setup
from webapp.planning.simulator.house_rules import HouseRules
from webapp.planning.simulator.simulate import simulate
from webapp.planning.simulator.variants import as_it_is
from webapp.planning.simulator.work_arrays import lay_out

HOUR = 3600
TIG = Setup(key="tig", name="TIG welder out", hours=1)
ROLLER = Setup(key="roller", name="Tube roller on the bench", hours=0.5)
SAW = Setup(key="saw", name="Band saw", hours=0.25)
SETUPS = (TIG, ROLLER, SAW)
Times = dict[str, tuple[float, float]]


def times_of(build: BuildInput, rules: HouseRules | None = None) -> Times:
    """Begin and end of each task in shop hours, getting out included."""
    work = lay_out(build)
    schedule = simulate(work, as_it_is(work, rules))
    return {
        key: (schedule.begin[i, 0] / HOUR, schedule.end[i, 0] / HOUR)
        for i, key in enumerate(work.keys)
    }


def chain(*tasks: Task, people: int = 2, out: tuple[str, ...] = ()) -> BuildInput:
    """Tasks one after another."""
    links = [(one.key, two.key) for one, two in itertools.pairwise(tasks)]
    first_start = tasks[-1].key
    return build_of(
        tasks, links, people=people, setups=SETUPS, setup_out=out, first_start=first_start
    )


ALTERNATING = (
    task("a", 1, setup="tig"),
    task("b", 1, setup="roller"),
    task("c", 1, setup="tig"),
    task("d", 1, setup="roller"),
)


def test_two_people_have_two_setups_out() -> None:
    # The welder 0-1, a 1-2; the roller 2-2.5, b 2.5-3.5; both lie there: c 3.5-4.5, d 4.5-5.5.
    assert times_of(chain(*ALTERNATING)) == {
        "a": (0, 2),
        "b": (2, 3.5),
        "c": (3.5, 4.5),
        "d": (4.5, 5.5),
    }


def test_one_person_puts_one_away_for_the_other() -> None:
    # 1 + 1, 0.5 + 1, 1 + 1, 0.5 + 1: every time anew.
    assert times_of(chain(*ALTERNATING, people=1)) == {
        "a": (0, 2),
        "b": (2, 3.5),
        "c": (3.5, 5.5),
        "d": (5.5, 7),
    }


def test_side_by_side_each_has_a_setup_and_takes_the_other_over() -> None:
    # One gets the welder out 0-1 and welds x1 1-3, the other the roller 0-0.5 and rolls y1 0.5-2.
    # y2 needs the welder, in use until 3: 3-4. The roller lies free from 2 on: x2 3-4.
    tasks = [
        task("x1", 2, setup="tig"),
        task("x2", 1, setup="roller"),
        task("y1", 1.5, setup="roller"),
        task("y2", 1, setup="tig"),
    ]
    build = build_of(tasks, [("x1", "x2"), ("y1", "y2")], people=2, setups=SETUPS)
    assert times_of(build) == {"x1": (0, 3), "x2": (3, 4), "y1": (0, 2), "y2": (3, 4)}


def test_the_setup_that_has_lain_unused_longest_is_put_away() -> None:
    # The welder until 2, the roller until 3.5; the saw 3.5-3.75 takes the welder's place and works
    # until 4.75. The roller lies there: d 4.75-5.75. The welder anew in place of the saw, which
    # was used before the roller: e 5.75-7.75; and so the roller is still there: f 7.75-8.75.
    build = chain(
        *ALTERNATING[:2],
        task("c", 1, setup="saw"),
        task("d", 1, setup="roller"),
        task("e", 1, setup="tig"),
        task("f", 1, setup="roller"),
    )
    assert list(times_of(build).values()) == [
        *((0, 2), (2, 3.5), (3.5, 4.75)),
        *((4.75, 5.75), (5.75, 7.75), (7.75, 8.75)),
    ]


def test_a_setup_in_use_is_not_put_away() -> None:
    # Long has the welder from 0 on, to 11. Beside it the roller 0-0.5, a 0.5-1.5; the saw in its
    # place, for the welder is in use: 1.5-1.75, b 1.75-2.75; the roller anew 2.75-3.25, c to 4.25.
    tasks = [
        task("long", 10, setup="tig"),
        task("a", 1, setup="roller"),
        task("b", 1, setup="saw"),
        task("c", 1, setup="roller"),
    ]
    build = build_of(tasks, [("a", "b"), ("b", "c")], people=2, setups=SETUPS)
    assert times_of(build) == {"long": (0, 11), "a": (0, 1.5), "b": (1.5, 2.75), "c": (2.75, 4.25)}


def test_work_without_a_setup_and_work_for_two_leave_what_is_out() -> None:
    # a 0-2 with the welder, b 2-3.5 with the roller; wiring 3.5-5.5 by both of them; then both
    # setups are still there: 5.5-6.5, 6.5-7.5 by both at the welder, 7.5-8.5.
    build = chain(
        *ALTERNATING[:2],
        task("wire", 2, people=2),
        task("c", 1, setup="roller"),
        task("d", 1, people=2, setup="tig"),
        task("e", 1, setup="roller"),
    )
    assert list(times_of(build).values())[2:] == [(3.5, 5.5), (5.5, 6.5), (6.5, 7.5), (7.5, 8.5)]


def test_what_is_out_at_now_is_not_got_out_and_the_one_used_last_stays() -> None:
    # The welder was used before the roller, so the saw takes its place: 0-0.25, 0.25-1.25; then
    # the roller 1.25-2.25; the welder anew 2.25-3.25, to 4.25.
    tasks = (
        task("a", 1, setup="saw"),
        task("b", 1, setup="roller"),
        task("c", 1, setup="tig"),
    )
    assert list(times_of(chain(*tasks, out=("tig", "roller"))).values()) == [
        *((0, 1.25), (1.25, 2.25), (2.25, 4.25)),
    ]
    # The other way round the roller has gone: it takes half an hour, and the welder none.
    assert list(times_of(chain(*tasks, out=("roller", "tig"))).values()) == [
        *((0, 1.25), (1.25, 2.75), (2.75, 4.75)),
    ]


def test_the_rule_that_takes_what_is_out_looks_at_every_setup_that_is_out() -> None:
    # By the order of entry `saw` were next at 3.5, when b ends; but c and d find theirs out.
    tasks = [*ALTERNATING[:2], task("saw", 1, setup="saw"), *ALTERNATING[2:]]
    links = [("a", "b"), ("b", "saw"), ("b", "c"), ("c", "d")]
    build = build_of(tasks, links, people=2, setups=SETUPS)
    one_there = replace(
        build,
        tasks=(*tasks, task("else", 20)),
        dependencies=build_of([*tasks, task("else", 20)], links).dependencies,
    )
    rules = HouseRules(order=("setup_out",))
    times = times_of(one_there, rules)
    assert times["else"] == (0, 20)
    assert (times["c"], times["d"], times["saw"]) == ((3.5, 4.5), (4.5, 5.5), (5.5, 6.75))


# --- against places that are walked through one by one ---------------------------------------


class Place:
    """Where a setup stands: which, until when it is in use, and since when it lies there."""

    def __init__(self, setup: str | None, until: float) -> None:
        self.setup, self.until = setup, until


def walked_through(build: BuildInput, *, out_first: bool) -> Times:
    """Begin and end of each task, worked out with hands and places one by one.

    A place for each person. Time goes from event to event; of the tasks that could begin the
    first in the order of entry does, with `out_first` one whose setup is out.
    """
    hours = {setup.key: setup.hours for setup in build.shop.setups}
    out, people = build.shop.setups_out, build.shop.people
    places = [Place(setup, number - len(out)) for number, setup in enumerate(out)]
    places += [Place(None, -100.0) for _ in range(people - len(out))]
    hands = [0.0] * people
    times: Times = {}
    before: dict[str, list[str]] = {t.key: [] for t in build.tasks}
    for link in build.dependencies:
        before[link.after].append(link.before)
    now = 0.0
    while len(times) < len(build.tasks):

        def place_of(one: Task) -> Place | None:
            return next((p for p in places if one.setup and p.setup == one.setup), None)

        def can_begin(one: Task, now: float = now) -> bool:
            place = place_of(one)
            return (
                one.key not in times
                and all(key in times and times[key][1] <= now for key in before[one.key])
                and sum(free <= now for free in hands) >= one.people
                and (place is None or place.until <= now)
            )

        ready = [one for one in build.tasks if can_begin(one)]
        if out_first:
            ready.sort(key=lambda one: place_of(one) is None)
        if not ready:
            now = min(end for _, end in times.values() if end > now)
            continue
        one = ready[0]
        place, getting_out = place_of(one), 0.0
        if place is None and one.setup is not None:
            idle = [p for p in places if p.until <= now]
            place, getting_out = min(idle, key=lambda p: p.until), hours[one.setup]
            place.setup = one.setup
        end = now + getting_out + one.hours.expected
        if place is not None:
            place.until = end
        for hand in sorted(range(people), key=lambda hand: hands[hand])[: one.people]:
            hands[hand] = end
        times[one.key] = (now, end)
    return times


def small_build(seed: int) -> BuildInput:
    """Three to eight tasks of odd lengths, so that no two uses of setups end together."""
    chance = random.Random(seed)
    people, count = chance.choice((2, 2, 3)), chance.randint(3, 8)
    setups = tuple(
        Setup(key=f"s{i}", name=f"S{i}", hours=chance.choice((0.25, 0.5, 2)))
        for i in range(chance.randint(1, 5))
    )
    keys = [setup.key for setup in setups]
    tasks = [
        task(
            f"t{i}",
            chance.randint(1, 12) / 4 + 2.0**-i / 256,
            setup=chance.choice((None, *keys, *keys)),
            people=chance.choice((1, 1, 1, 2)),
        )
        for i in range(count)
    ]
    links = [(f"t{i}", f"t{j}") for j in range(count) for i in range(j) if chance.random() < 0.3]
    out = tuple(chance.sample(keys, chance.randint(0, min(people, len(keys)))))
    return build_of(tasks, links, people=people, setups=setups, setup_out=out)


@pytest.mark.parametrize("out_first", [False, True])
def test_small_builds_go_as_places_walked_through_one_by_one(out_first: bool) -> None:
    rules = HouseRules(order=("setup_out",) if out_first else ())
    got_out = 0
    for seed in range(150):
        build = small_build(seed)
        work = lay_out(build)
        got_out += int((simulate(work, as_it_is(work, rules)).setup_seconds > 0).sum())
        by_hand = walked_through(build, out_first=out_first)
        for key, both in times_of(build, rules).items():
            assert both == pytest.approx(by_hand[key], abs=0.01), (seed, key)
    assert got_out > 200

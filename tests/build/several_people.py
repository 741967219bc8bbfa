"""Random builds in which two or three people work, with none to four setups.

They are those of `random_builds`, with other hands and other setups.
"""

import random
from dataclasses import replace

from hypothesis import strategies as st

from tests.build.random_builds import SEEDS, random_build
from webapp.build.build_input import BuildInput, Task
from webapp.build.shop import Setup


def builds_of_several(max_tasks: int = 12) -> st.SearchStrategy[BuildInput]:
    """Random builds of several people, of at most so many tasks."""
    return st.builds(build_of_several, st.integers(2, max_tasks), SEEDS)


def build_of_several(count: int, seed: int) -> BuildInput:
    """A build of `count` tasks; the same each time."""
    chance = random.Random(f"{seed} several")
    build = random_build(count, seed)
    people = chance.choice((2, 2, 3))
    setups = tuple(
        Setup(key=f"setup{i}", name=f"Setup {i}", hours=chance.choice((0.0, 0.25, 0.5, 1.0)))
        for i in range(chance.choice((0, 1, 2, 2, 3, 3, 4)))
    )
    keys = [setup.key for setup in setups]
    out = tuple(chance.sample(keys, chance.randint(0, min(people, len(keys)))))
    return replace(
        build,
        shop=replace(build.shop, people=people, setups=setups, setups_out=out),
        tasks=tuple(_with_other_hands(task, people, keys, chance) for task in build.tasks),
    )


def _with_other_hands(task: Task, people: int, setups: list[str], chance: random.Random) -> Task:
    hands = min(task.people, chance.choice((1, 1, people)))
    setup = chance.choice((None, *setups, *setups)) if hands and not task.outside_days else None
    return replace(task, people=hands, setup=setup if task.outside_days is None else None)

"""What branches off where a task becomes ready ends as if it had been run from the beginning."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import ALWAYS, MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part
from webapp.planning.simulator import simulate
from webapp.planning.simulator.house_rules import HouseRules, rank_tasks
from webapp.planning.simulator.missed_helper import MissedHelper
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.without_one import first_starts_without
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out

HOUR = 3600


def test_each_task_taken_away_by_hand() -> None:
    tasks = [task("a", 1), task("paint", 2), task("b", 5), task("z", 1)]
    links: list[tuple[str, str] | tuple[str, str, float]] = [
        ("a", "paint", 3),
        ("paint", "z", 48),
        ("b", "z"),
    ]
    part = Part(key="p", name="Part", serves=("b",), arrives_on=MONDAY.date().replace(day=20))
    build = build_of(tasks, links, week=ALWAYS, first_start="z", parts=(part,))
    work = lay_out(build)
    part_hours = work.arrival[2] / HOUR
    variants = Variants(count=1, rankings=(rank_tasks(work, HouseRules()),))
    ends, without = first_starts_without(work, variants, len(work))
    # The part comes after the paint has cured (1 + 3 + 2 + 48 = 54), so all hangs on b and z.
    assert part_hours > 54
    assert ends[0] / HOUR == part_hours + 5 + 1
    # Without b its part is not waited for: 54 + 1. Without z first start is where b ends.
    assert (without[:, 0] / HOUR).tolist() == [part_hours + 6, part_hours + 6, 55, part_hours + 5]


@pytest.mark.parametrize("block", [simulate.BLOCK_VARIANTS, 3])
@settings(derandomize=True, max_examples=60, deadline=None)
@given(build=builds(), seed=st.integers(0, 999))
def test_as_if_run_from_the_beginning(block: int, build: BuildInput, seed: int) -> None:
    """To the second, however the variants are cut into blocks."""
    work = for_first_start_only(lay_out(build))
    if work.first_start < 0:
        return
    variants = _random_variants(work, 4, seed)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(simulate, "BLOCK_VARIANTS", block)
        ends, without = first_starts_without(work, variants, len(work))
    assert (ends == first_starts(work, variants).wall).all()
    for place in range(len(work)):
        absent = np.zeros((len(work), variants.count), bool)
        absent[place] = True
        anew = first_starts(work, replace(variants, absent=absent)).wall
        assert (without[place] == anew).all()


def _random_variants(work: WorkArrays, count: int, seed: int) -> Variants:
    random = np.random.default_rng(seed)
    factors = random.choice([0.5, 1.0, 1.7], (len(work), count))
    missed = random.random((len(work.calendar.helper_to), count)) < 0.3
    return Variants(
        count=count,
        rankings=(rank_tasks(work, HouseRules()),),
        work_seconds=(work.work_seconds[:, np.newaxis] * factors).astype(np.int64),
        missed_helper=MissedHelper(
            lambda stretch: missed[stretch], stretches=len(missed), count=count
        ),
    )

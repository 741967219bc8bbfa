"""Several builds run side by side come out as each run alone."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part
from webapp.planning.chances.draws import drawn_of
from webapp.planning.chances.factors import NO_RECORD, Attendance
from webapp.planning.chances.luck import Luck
from webapp.planning.simulator import alike
from webapp.planning.simulator.alike import Run, first_starts_of
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays

LUCK = Luck(20)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(build=builds())
def test_as_if_each_was_run_alone(build: BuildInput) -> None:
    """Parts a week late, another order, missed helper, nobody there half of the time: side by
    side to the second."""
    late = dt.timedelta(days=7)
    parts = tuple(
        replace(part, arrives_on=part.arrives_on + late) if part.arrives_on else part
        for part in build.parts
    )
    seldom = replace(NO_RECORD, attendance=Attendance(mean=0.5, sd=0.1))
    backwards = tuple(task.key for task in reversed(build.tasks))
    runs = [
        Run(work=drawn.work, variants=drawn.variants)
        for changed, factors in (
            (build, NO_RECORD),
            (replace(build, parts=parts), NO_RECORD),
            (replace(build, kept_order=backwards), NO_RECORD),
            (build, seldom),
        )
        if (drawn := drawn_of(changed, LUCK, factors=factors)) is not None
    ]
    for run, together in zip(runs, first_starts_of(runs), strict=True):
        alone = first_starts(run.work, run.variants)
        assert (together.wall == alone.wall).all()
        assert (together.shop == alone.shop).all()


def test_builds_that_are_alike_run_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def counted(work: WorkArrays, variants: Variants) -> object:
        asked.append(variants.count)
        return first_starts(work, variants)

    monkeypatch.setattr(alike, "first_starts", counted)
    part = Part(key="p", name="Part", serves=("a",), arrives_on=MONDAY.date())
    tasks, links = [task("a", (1, 2, 4)), task("z", 1)], [("a", "z")]
    sooner = build_of(tasks, links, first_start="z", week=EVENINGS, parts=(part,))
    later = replace(sooner, parts=(replace(part, arrives_on=dt.date(2026, 12, 1)),))
    other_week = replace(sooner, shop=replace(sooner.shop, week=EVENINGS[:1]))
    drawn = [drawn_of(build, LUCK) for build in (sooner, later, other_week)]
    runs = [Run(work=one.work, variants=one.variants) for one in drawn if one is not None]
    ends = first_starts_of(runs)
    # The first two at once, 2 x 20 draws; the third has sessions that the others do not have.
    assert sorted(asked) == [20, 40]
    assert (ends[0].wall < ends[1].wall).all()


def test_what_ends_after_its_own_calendar_has_no_date() -> None:
    """The calendar of a run beside it is longer, but says nothing of its own."""
    build = build_of([task("z", 2)], week=EVENINGS, first_start="z")
    drawn = drawn_of(build, LUCK)
    longer = drawn_of(replace(build, parts=(_far_away(),)), LUCK)
    assert drawn is not None
    assert longer is not None
    assert len(longer.work.calendar.opens) > len(drawn.work.calendar.opens)
    beyond = np.full((1, 3), int(drawn.work.calendar.shop_at_close[-1]) + 1)
    variants = Variants(count=3, rankings=drawn.variants.rankings, work_seconds=beyond)
    alone = first_starts(drawn.work, variants)
    runs = [Run(work=work, variants=variants) for work in (drawn.work, longer.work)]
    short, long = first_starts_of(runs)
    assert (short.wall == alone.wall).all()
    assert (short.wall > long.wall).all()


def _far_away() -> Part:
    """It serves nothing, but the calendar reaches to its day."""
    return Part(key="far", name="Far away", serves=(), arrives_on=dt.date(2028, 1, 1))

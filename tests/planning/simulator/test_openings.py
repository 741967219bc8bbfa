"""Where work in one go, or with the helper, fits: held against looking at every stretch."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from tests.build.builds import build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.simulator.openings import NO_STRETCH, Openings
from webapp.planning.simulator.work_arrays import WorkArrays, lay_out


@given(builds(), st.integers(0, 10**6))
def test_the_place_found_is_the_first_stretch_with_room(build: BuildInput, earliest: int) -> None:
    work = lay_out(build)
    openings = Openings.of(work)
    asking = np.flatnonzero(work.in_one_go | work.helper)
    places = openings.places(asking, np.full(len(asking), earliest))
    for at, place in zip(asking.tolist(), places.tolist(), strict=True):
        begin, stretch = _by_looking(work, at, earliest)
        assert max(earliest, int(openings.begins[place])) == begin
        assert int(openings.stretch[place]) == stretch


@given(builds())
def test_the_place_behind_one_is_the_next_stretch_long_enough(build: BuildInput) -> None:
    work = lay_out(build)
    openings = Openings.of(work)
    for at in np.flatnonzero(work.in_one_go | work.helper).tolist():
        here = np.array([at])
        place = int(openings.places(here, np.array([0]))[0])
        stretch = int(openings.stretch[place])
        if stretch != NO_STRETCH:
            after = int(_stretches(work, at)[stretch][1])
            assert place + 1 == int(openings.places(here, np.array([after]))[0])


def test_a_build_without_such_work_has_no_openings() -> None:
    bare = build_of([task("a", 1)])
    assert not len(Openings.of(lay_out(bare)).begins)


def _stretches(work: WorkArrays, at: int) -> list[tuple[int, int]]:
    calendar = work.calendar
    if work.helper[at]:
        return list(zip(calendar.helper_from.tolist(), calendar.helper_to.tolist(), strict=True))
    opened, closed = calendar.shop_at_open, calendar.shop_at_close
    return list(zip(opened.tolist(), closed.tolist(), strict=True))


def _by_looking(work: WorkArrays, at: int, earliest: int) -> tuple[int, int]:
    """When it begins and in which stretch; work longer than all takes a longest whole one."""
    stretches = _stretches(work, at)
    longest = max((end - begin for begin, end in stretches), default=0)
    needed = min(int(work.work_seconds[at]), longest)
    for place, (begins, ends) in enumerate(stretches):
        begin = max(earliest, begins)
        if ends - begin >= needed:
            return begin, place
    return 2 * NEVER, NO_STRETCH

"""A sound plan passes; the same plan with one thing broken is caught by that thing's sentence."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, session, stretch, task
from webapp.build.build_input import BuildInput, Part, StationNeed
from webapp.build.shop import DayException, Setup, Station
from webapp.planning.network.obstacles import Obstacle, Standing
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.plan import PathStep, Plan, PlannedTask, Reason, UnplannedTask
from webapp.planning.proof.open_hours import OpenHours
from webapp.planning.proof.plan_checks import violations

TUESDAY = MONDAY + dt.timedelta(days=1)
HOUR = dt.timedelta(hours=1)


def held_by(key: str, kind: Any, what: str) -> UnplannedTask:
    """A task left out because of one thing that is said to hold it."""
    standing = Standing(obstacles=(Obstacle(kind=kind, what=what),))
    return UnplannedTask(key=key, kind="held", standing=standing)


def held_by_part(key: str, part: str) -> UnplannedTask:
    return held_by(key, "undated_part", part)


def planned(
    key: str,
    begins: dt.datetime,
    ends: dt.datetime,
    begin_shop: float,
    end_shop: float,
    *held_by: tuple[str, str],
    **rest: Any,
) -> PlannedTask:
    """A planned task by hand: not on the path and not for first start unless said so."""
    facts = {"setup_hours": 0.0, "on_path": False, "for_first_start": False} | rest
    return PlannedTask(
        key=key,
        begins=begins,
        ends=ends,
        begin_shop_hours=begin_shop,
        end_shop_hours=end_shop,
        held_by=tuple(Reason(kind=kind, what=what) for kind, what in held_by),  # type: ignore[arg-type]
        total_float_hours=0.0,
        free_float_hours=0.0,
        **facts,
    )


def plan_of(*tasks: PlannedTask, unplanned: tuple[UnplannedTask, ...] = ()) -> Plan:
    return Plan(
        now=MONDAY,
        first_start_at=None,
        first_start_shop_hours=None,
        tasks=tasks,
        unplanned=unplanned,
        path=(),
    )


def changed(plan: Plan, key: str, **facts: Any) -> Plan:
    """The plan with some facts of one task replaced."""
    tasks = tuple(replace(t, **facts) if t.key == key else t for t in plan.tasks)
    return replace(plan, tasks=tasks)


@pytest.fixture
def bench() -> BuildInput:
    """Evenings of 3 h; weld needs the welder got out, hang waits a day for the paint.

    weld 18:00 to 20:30 on Monday (0.5 h to set up, 2 h); paint 20:30 to 21:00 and to 18:30 on
    Tuesday; hang from Wednesday 18:30 on, 24 h later, to 19:30; start 19:30 to 20:00. The radio
    waits for its part on Thursday 19:00; the belt for one with no date.
    """
    return build_of(
        [
            task("weld", 2, setup="tig"),
            task("paint", 1),
            task("hang", 1),
            task("start", 0.5),
            task("radio", 1),
            task("belt", 1),
            task("done", 1, finished_on=MONDAY.date()),
        ],
        [("weld", "paint"), ("paint", "hang", 24), ("hang", "start")],
        first_start="start",
        week=EVENINGS,
        setups=(Setup(key="tig", name="Welder", hours=0.5),),
        parts=(
            Part(
                key="p",
                name="Radio",
                serves=("radio",),
                arrives_on=MONDAY + dt.timedelta(days=3, hours=19),
            ),
            Part(key="q", name="Belt", serves=("belt",)),
        ),
    )


@pytest.fixture
def sound() -> Plan:
    """The plan of the bench, by hand."""
    day = dt.timedelta(days=1)
    at = [MONDAY + i * day for i in range(4)]
    weld = (at[0] + 18 * HOUR, at[0] + 20.5 * HOUR)
    paint = (at[0] + 20.5 * HOUR, at[1] + 18.5 * HOUR)
    hang = (at[2] + 18.5 * HOUR, at[2] + 19.5 * HOUR)
    start = (at[2] + 19.5 * HOUR, at[2] + 20 * HOUR)
    radio = (at[3] + 19 * HOUR, at[3] + 20 * HOUR)
    path: dict[str, Any] = {"on_path": True, "for_first_start": True}
    steps = [
        ("session", "2026-01-05T18:00", at[0], weld[0]),
        ("task", "weld", *weld),
        ("task", "paint", *paint),
        ("wait", "paint", paint[1], hang[0]),
        ("task", "hang", *hang),
        ("task", "start", *start),
    ]
    return Plan(
        now=MONDAY,
        first_start_at=start[1],
        first_start_shop_hours=8.0,
        tasks=(
            planned(
                "weld", *weld, 0, 2.5, ("session", "2026-01-05T18:00"), setup_hours=0.5, **path
            ),
            planned("paint", *paint, 2.5, 3.5, ("dependency", "weld"), ("people", "weld"), **path),
            planned("hang", *hang, 6.5, 7.5, ("wait", "paint"), **path),
            planned("start", *start, 7.5, 8.0, ("dependency", "hang"), ("people", "hang"), **path),
            planned("radio", *radio, 10.0, 11.0, ("part", "p")),
        ),
        unplanned=(held_by_part("belt", "q"),),
        path=tuple(
            PathStep(kind=kind, what=what, begins=begins, ends=ends)  # type: ignore[arg-type]
            for kind, what, begins, ends in steps
        ),
    )


def test_a_sound_plan_worked_out_by_hand_passes(bench: BuildInput, sound: Plan) -> None:
    assert violations(bench, sound) == ()


def test_the_planner_reaches_the_plan_worked_out_by_hand(bench: BuildInput, sound: Plan) -> None:
    made = make_plan(bench)
    assert violations(bench, made) == ()
    assert [(t.key, t.begins, t.ends) for t in made.tasks] == [
        (t.key, t.begins, t.ends) for t in sound.tasks
    ]
    assert made.first_start_at == sound.first_start_at


# --- one thing broken in the sound plan -------------------------------------------------------


def broken_plans(sound: Plan) -> dict[str, tuple[Plan, str]]:
    """Each breakage by name, with words of the sentence that must catch it."""
    by_key = {t.key: t for t in sound.tasks}
    weld, hang, start = by_key["weld"], by_key["hang"], by_key["start"]
    early = MONDAY + 17 * HOUR
    belt = planned("belt", MONDAY + 90 * HOUR, MONDAY + 91 * HOUR, 9.0, 10.0)
    wait = sound.path[3]
    overlapping = changed(
        sound,
        "start",
        begins=start.begins - HOUR / 2,
        ends=start.ends - HOUR / 2,
        begin_shop_hours=7.0,
        end_shop_hours=7.5,
    )
    return {
        "left out": (replace(sound, unplanned=()), "“BELT” is open, yet the plan leaves it out"),
        "twice": (
            replace(sound, tasks=(*sound.tasks, sound.tasks[-1])),
            "“RADIO” is in the plan 2",
        ),
        "planned and not": (
            replace(sound, unplanned=(*sound.unplanned, held_by_part("radio", "p"))),
            "“RADIO” is in the plan 2 times",
        ),
        "finished": (
            replace(sound, tasks=(*sound.tasks, replace(sound.tasks[-1], key="done"))),
            "“DONE” is finished or set aside",
        ),
        "unknown": (
            replace(sound, tasks=(*sound.tasks, replace(sound.tasks[-1], key="ghost"))),
            "“ghost” is in the plan but not in the build",
        ),
        "order": (replace(sound, tasks=sound.tasks[::-1]), "stands in the job order after"),
        "other now": (replace(sound, now=TUESDAY), "from another moment"),
        "needed": (changed(sound, "weld", for_first_start=False), "“WELD”: whether first start"),
        "not held": (
            replace(
                sound,
                tasks=sound.tasks[:-1],
                unplanned=(*sound.unplanned, held_by_part("radio", "p")),
            ),
            "“RADIO” is left unplanned, yet nothing holds it",
        ),
        "no obstacle": (
            replace(sound, unplanned=(UnplannedTask(key="belt", kind="held"),)),
            "“BELT” is said to be held by what does not hold it",
        ),
        "another part": (
            replace(sound, unplanned=(held_by_part("belt", "p"),)),
            "“BELT” is said to be held by what does not hold it",
        ),
        "no set-aside task": (
            replace(sound, unplanned=(held_by("belt", "set_aside", "weld"),)),
            "“BELT” is said to be held by what does not hold it",
        ),
        "no part": (
            replace(sound, tasks=(*sound.tasks[:-1], belt, sound.tasks[-1]), unplanned=()),
            "“BELT” begins before the part “Belt”",
        ),
        "before now": (
            changed(sound, "weld", begins=MONDAY - HOUR),
            "“WELD” begins before now",
        ),
        "backwards": (changed(sound, "start", ends=start.begins - HOUR), "“START” ends before it"),
        "closed": (changed(sound, "weld", begins=early), "“WELD” begins while the shop is closed"),
        "shop begin": (changed(sound, "radio", begin_shop_hours=9.9), "“RADIO”: its begin and its"),
        "shop end": (
            changed(sound, "radio", ends=MONDAY + 92 * HOUR + HOUR / 2),
            "“RADIO”: its end and its shop hours",
        ),
        "too short": (changed(sound, "radio", end_shop_hours=10.5), "“RADIO”: its shop hours"),
        "too long": (changed(sound, "radio", end_shop_hours=11.5), "“RADIO”: its shop hours"),
        "no setting up": (
            changed(sound, "weld", setup_hours=0.0),
            "“WELD”: its set-up hours are not those due",
        ),
        "late part": (
            changed(
                sound,
                "radio",
                begins=MONDAY + 90.5 * HOUR,
                ends=MONDAY + 91.5 * HOUR,
                begin_shop_hours=9.5,
                end_shop_hours=10.5,
            ),
            "“RADIO” begins before the part “Radio”",
        ),
        "short wait": (
            changed(
                sound,
                "hang",
                begins=hang.begins - HOUR / 2,
                ends=hang.ends - HOUR / 2,
                begin_shop_hours=6.0,
                end_shop_hours=7.0,
            ),
            "“HANG” begins before the wait after “PAINT”",
        ),
        "overlap": (overlapping, "“START” begins before “HANG” is over"),
        "two at once": (overlapping, "2 people are at work at one time; there are 1"),
        "first start": (
            replace(sound, first_start_at=sound.tasks[-1].ends),
            "First start is not at the end of “START”",
        ),
        "first start hours": (
            replace(sound, first_start_shop_hours=7.0),
            "First start is not at the end of “START”",
        ),
        "no reason": (changed(sound, "hang", held_by=()), "“HANG” begins after now without a"),
        "reason missing": (
            changed(sound, "paint", held_by=(Reason(kind="people", what="weld"),)),
            "“PAINT”: the reason dependency weld binds but is left out",
        ),
        "reason twice": (
            changed(sound, "hang", held_by=hang.held_by * 2),
            "“HANG” gives one reason twice",
        ),
        **{
            f"reason {kind} {what} of {key}": (
                changed(sound, key, held_by=(*by_key[key].held_by, Reason(kind=kind, what=what))),  # type: ignore[arg-type]
                f"“{key.upper()}”: the reason {kind} {what} does not bind",
            )
            for key, kind, what in (
                ("hang", "dependency", "weld"),
                ("hang", "dependency", "paint"),
                ("start", "wait", "hang"),
                ("radio", "part", "q"),
                ("radio", "people", "start"),
                ("hang", "station", "lift"),
                ("weld", "setup", "tig"),
                ("hang", "helper", "2026-01-07T18:00"),
                ("hang", "session", "2026-01-07T18:00"),
                ("weld", "session", "2026-01-05T17:00"),
            )
        },
        "on path": (changed(sound, "weld", on_path=False), "“WELD”: it is told wrongly whether"),
        "path gap": (replace(sound, path=sound.path[:3] + sound.path[4:]), "The path has a gap"),
        "path late": (replace(sound, path=sound.path[2:]), "The path has a gap"),
        "path short": (replace(sound, path=sound.path[:-1]), "does not end at first start"),
        "no path": (replace(sound, path=()), "There is no path to first start"),
        "path moved": (
            replace(
                sound, path=(*sound.path[:-1], replace(sound.path[-1], ends=start.ends + HOUR))
            ),
            "The path's task start does not stand where it is planned",
        ),
        "path of seconds": (
            replace(
                sound,
                path=(
                    *sound.path[:3],
                    replace(wait, ends=wait.ends - dt.timedelta(seconds=20)),
                    *sound.path[4:],
                ),
            ),
            "The path's wait paint is not told to the minute",
        ),
        "path of another wait": (
            replace(sound, path=(*sound.path[:3], replace(wait, what="weld"), *sound.path[4:])),
            "The path's wait weld does not hold “HANG”",
        ),
        "path without a date": (
            replace(sound, first_start_at=None),
            "There is a path to first start, which has no date",
        ),
        "weld moved in name only": (
            replace(sound, tasks=(replace(weld, ends=weld.ends + HOUR), *sound.tasks[1:])),
            "“WELD”: its end",
        ),
    }


def test_every_kind_of_violation_is_caught(bench: BuildInput, sound: Plan) -> None:
    missed = {
        name: violations(bench, plan)
        for name, (plan, words) in broken_plans(sound).items()
        if not any(words in sentence for sentence in violations(bench, plan))
    }
    assert missed == {}


# --- features the bench has not ---------------------------------------------------------------


def test_work_in_one_go_over_two_sessions_is_caught_and_setting_up_before_it_is_not() -> None:
    """3 h in one go fit an evening; the welder may be got out the evening before."""
    setups = (Setup(key="tig", name="Welder", hours=0.5),)
    build = build_of([task("weld", 3, in_one_go=True, setup="tig")], week=EVENINGS, setups=setups)
    split = planned(
        "weld",
        MONDAY + 18 * HOUR,
        TUESDAY + 18.5 * HOUR,
        0,
        3.5,
        ("session", "2026-01-05T18:00"),
        setup_hours=0.5,
    )
    assert violations(build, plan_of(split)) == (
        "“WELD” must go in one go, yet it is split over two sessions.",
    )
    whole = planned(
        "weld",
        MONDAY + 20.5 * HOUR,
        TUESDAY + 21 * HOUR,
        2.5,
        6,
        ("session", "2026-01-06T18:00"),
        setup_hours=0.5,
    )
    assert violations(build, plan_of(whole)) == ()


def test_sessions_that_touch_count_as_one() -> None:
    """18:00 to 24:00 on Monday and 00:00 to 02:00 on Tuesday: 7 h in one go fit."""
    build = build_of([task("a", 7, in_one_go=True)], week=(session(0, 18, 24), session(1, 0, 2)))
    reason = ("session", "2026-01-05T18:00")
    plan = plan_of(planned("a", MONDAY + 18 * HOUR, TUESDAY + HOUR, 0, 7, reason))
    assert violations(build, plan) == ()


def test_helper_work_outside_a_helper_stretch_is_caught() -> None:
    """The helper is there from 19:00 to 21:00."""
    week = (session(0, 18, 19), session(0, 19, 21, helper=True))
    build = build_of([task("lift", 2, helper=True)], week=week)
    early = planned("lift", MONDAY + 18 * HOUR, MONDAY + 20 * HOUR, 0, 2)
    assert violations(build, plan_of(early)) == (
        "“LIFT” needs the helper, who is not there all the time.",
    )
    right = planned(
        "lift", MONDAY + 19 * HOUR, MONDAY + 21 * HOUR, 1, 3, ("helper", "2026-01-05T19:00")
    )
    assert violations(build, plan_of(right)) == ()


def test_a_helper_at_two_tasks_at_once_is_caught() -> None:
    week = (session(0, 0, 24, helper=True),)
    build = build_of([task("a", 1, helper=True), task("b", 1, helper=True)], week=week, people=2)
    both = [planned(key, MONDAY, MONDAY + HOUR, 0, 1) for key in "ab"]
    assert violations(build, plan_of(*both)) == (
        "The helper helps with more than one task at a time.",
    )


def test_more_of_a_station_than_there_is_is_caught() -> None:
    lift = Station(key="lift", name="Lift", count=2)
    needs = [StationNeed(station="lift", count=count) for count in (1, 2)]
    build = build_of(
        [task("a", 1, stations=(needs[0],)), task("b", 1, stations=(needs[1],))],
        people=2,
        stations=(lift,),
    )
    both = [planned(key, MONDAY, MONDAY + HOUR, 0, 1) for key in "ab"]
    assert violations(build, plan_of(*both)) == (
        "3 of “Lift” are in use at one time; there are 2.",
    )
    later = planned("b", MONDAY + HOUR, MONDAY + 2 * HOUR, 1, 2, ("station", "lift"))
    assert violations(build, plan_of(both[0], later)) == ()


def test_one_setup_at_two_tasks_at_once_is_caught() -> None:
    setups = (Setup(key="tig", name="Welder", hours=0.5),)
    build = build_of(
        [task(key, 1, setup="tig") for key in "ab"], people=2, setups=setups, setup_out="tig"
    )
    both = [planned(key, MONDAY, MONDAY + HOUR, 0, 1) for key in "ab"]
    assert violations(build, plan_of(*both)) == (
        "The setup “Welder” is used by more than one task at a time.",
    )
    later = planned("b", MONDAY + HOUR, MONDAY + 2 * HOUR, 1, 2, ("setup", "tig"))
    assert violations(build, plan_of(both[0], later)) == ()


def test_a_setup_is_due_again_once_another_was_got_out() -> None:
    setups = tuple(Setup(key=key, name=key.upper(), hours=1) for key in ("tig", "roller"))
    build = build_of(
        [task("a", 1, setup="tig"), task("b", 1, setup="roller"), task("c", 1, setup="tig")],
        setups=setups,
        setup_out="tig",
    )
    tasks = (
        planned("a", MONDAY, MONDAY + HOUR, 0, 1),
        planned("b", MONDAY + HOUR, MONDAY + 3 * HOUR, 1, 3, ("people", "a"), setup_hours=1.0),
        planned("c", MONDAY + 3 * HOUR, MONDAY + 5 * HOUR, 3, 5, ("people", "b"), setup_hours=1.0),
    )
    assert violations(build, plan_of(*tasks)) == ()
    free = replace(tasks[2], ends=MONDAY + 4 * HOUR, end_shop_hours=4, setup_hours=0.0)
    assert violations(build, plan_of(*tasks[:2], free)) == (
        "“C”: its set-up hours are not those due.",
    )


def test_outside_work_begins_the_moment_it_can_and_takes_its_days() -> None:
    build = build_of([task("coat", 0, outside_days=2)], week=EVENINGS)
    two_days = MONDAY + 48 * HOUR
    assert violations(build, plan_of(planned("coat", MONDAY, two_days, 0, 6))) == ()
    short = planned("coat", MONDAY, two_days - HOUR, 0, 6)
    assert violations(build, plan_of(short)) == ("“COAT” does not take its days of outside work.",)
    late = planned("coat", MONDAY + HOUR, two_days + HOUR, 0, 6)
    assert violations(build, plan_of(late)) == (
        "“COAT” runs on the wall clock, yet it does not begin the moment it can.",
    )


def test_begun_outside_work_comes_back_its_days_after_it_was_begun_but_never_before_now() -> None:
    for days_ago, back in ((1, MONDAY + 24 * HOUR), (5, MONDAY)):
        begun = MONDAY - dt.timedelta(days=days_ago)
        build = build_of([task("coat", 0, outside_days=2, begun_on=begun)], week=EVENINGS)
        hours = OpenHours(build.shop, MONDAY).open_seconds(back) / 3600
        assert violations(build, plan_of(planned("coat", MONDAY, back, 0, hours))) == ()
        wrong = planned("coat", MONDAY, back + 48 * HOUR, 0, hours + 6)
        assert "“COAT” does not take its days of outside work." in violations(build, plan_of(wrong))


def test_a_task_of_no_hours_away_from_the_end_before_it_is_caught() -> None:
    build = build_of([task("a", 3), task("m", 0)], [("a", "m", 5)], week=EVENINGS)
    first = planned("a", MONDAY + 18 * HOUR, MONDAY + 21 * HOUR, 0, 3)
    there = planned("m", TUESDAY + 2 * HOUR, TUESDAY + 2 * HOUR, 3, 3, ("wait", "a"))
    away = planned("m", TUESDAY + 18 * HOUR, TUESDAY + 18 * HOUR, 3, 3)
    assert violations(build, plan_of(first, there)) == ()
    assert violations(build, plan_of(first, away)) == (
        "“M” runs on the wall clock, yet it does not begin the moment it can.",
    )


def test_a_wait_after_a_finished_task_still_holds() -> None:
    """Finished on Sunday, closed all day: counts from 24:00; 12 h on is Monday noon."""
    sunday = MONDAY.date() - dt.timedelta(days=1)
    week = (session(0, 0, 24),)
    build = build_of(
        [task("done", 1, finished_on=sunday), task("a", 1)], [("done", "a", 12)], week=week
    )
    early = planned("a", MONDAY + 11 * HOUR, MONDAY + 12 * HOUR, 11, 12)
    assert violations(build, plan_of(early)) == (
        "“A” begins before the wait after “DONE” is over.",
    )
    right = planned("a", MONDAY + 12 * HOUR, MONDAY + 13 * HOUR, 12, 13, ("wait", "done"))
    assert violations(build, plan_of(right)) == ()


def test_what_a_set_aside_task_holds_may_be_left_unplanned_and_must_not_be_planned() -> None:
    aside = task("aside", 1, set_aside_on=MONDAY.date())
    build = build_of([aside, task("a", 1), task("b", 1)], [("aside", "a"), ("a", "b")])
    held = held_by("a", "set_aside", "aside")
    assert held.standing is not None
    after = replace(held.standing, after="a", first="a")
    left = (held, replace(held, key="b", standing=after))
    assert violations(build, plan_of(unplanned=left)) == ()
    astray = replace(left[1], standing=replace(after, after="b"))
    assert "“B” is said to be held by what does not hold it." in violations(
        build, plan_of(unplanned=(held, astray))
    )
    begun = plan_of(planned("a", MONDAY, MONDAY + HOUR, 0, 1), unplanned=left[1:])
    assert "“A” begins before “ASIDE” is over." in violations(build, begun)


def test_a_date_without_its_task_is_caught() -> None:
    build = build_of(
        [task("a", 1)], parts=(Part(key="p", name="Belt", serves=("a",)),), first_start="a"
    )
    left = plan_of(unplanned=(held_by_part("a", "p"),))
    assert violations(build, left) == ()
    assert "First start has a date, yet its task is not planned." in violations(
        build, replace(left, first_start_at=MONDAY, first_start_shop_hours=0.0)
    )


# --- the checks' own calendar -----------------------------------------------------------------


def test_open_hours_tell_begins_ends_and_hours_by_hand() -> None:
    """Evenings; Tuesday is replaced by 8:00 to 12:00, Wednesday is closed; now is Monday 20:00.

    1 h is left on Monday, 4 h on Tuesday: the 5th hour ends at Tuesday noon, and work that begins
    after it begins on Thursday at 18:00.
    """
    days = (
        DayException(date=TUESDAY.date(), sessions=(stretch(8, 12),)),
        DayException(date=TUESDAY.date() + dt.timedelta(days=1)),
    )
    hours = OpenHours(build_of([], week=EVENINGS, days=days).shop, MONDAY + 20 * HOUR)
    assert hours.end_at(3600) == MONDAY + 21 * HOUR
    assert hours.begin_at(3600) == TUESDAY + 8 * HOUR
    assert hours.end_at(5 * 3600) == TUESDAY + 12 * HOUR
    assert hours.begin_at(5 * 3600) == TUESDAY + 66 * HOUR
    assert hours.open_seconds(TUESDAY + 40 * HOUR) == 5 * 3600
    assert hours.opening_before(TUESDAY + 9 * HOUR) == TUESDAY + 8 * HOUR
    assert hours.opening_before(TUESDAY + 12 * HOUR) is None


def test_open_hours_begin_with_the_day_the_build_starts_on() -> None:
    shop = build_of([], week=EVENINGS).shop
    hours = OpenHours(shop, MONDAY, starts_on=TUESDAY.date() + dt.timedelta(days=1))
    assert hours.begin_at(0) == TUESDAY + 42 * HOUR
    assert hours.open_seconds(TUESDAY + 42 * HOUR) == 0


def test_a_shop_that_never_opens_again_has_no_begin() -> None:
    days = (DayException(date=MONDAY.date(), sessions=(stretch(8, 12),)),)
    hours = OpenHours(build_of([], week=(), days=days).shop, MONDAY)
    assert hours.end_at(4 * 3600) == MONDAY + 12 * HOUR
    assert hours.begin_at(4 * 3600) is None
    assert hours.end_at(4 * 3600 + 1) is None

"""Taking a change back: what later changes did stays, what hangs on it is named."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part, Subsystem
from webapp.build.differences import PLACES, SETTINGS, thing_changes
from webapp.build.shop import DayException, Setup
from webapp.build.verbs.taking_back import Hanging, merged_order, taken_back
from webapp.build.wish import Wish

TODAY = MONDAY.date()
BASE = replace(
    build_of([task("a", 1), task("b", 2), task("c", 3)], [("a", "c")], first_start="c"),
    subsystems=(Subsystem(key="air", name="Air"),),
    parts=(Part(key="hose", name="Hose", serves=("a",)),),
)


def edited(build: BuildInput, key: str, **facts: object) -> BuildInput:
    """The build with facts of one task changed."""
    tasks = tuple(
        replace(each, **facts) if each.key == key else each  # type: ignore[arg-type]
        for each in build.tasks
    )
    return replace(build, tasks=tasks)


def whys(hanging: tuple[Hanging, ...]) -> list[tuple[str, str, str]]:
    """Why each thing hangs on a change: reason, kind and field."""
    return [(one.why, one.kind, one.field) for one in hanging]


def test_a_build_that_was_not_touched_since_is_what_it_was_before() -> None:
    after = replace(edited(BASE, "a", name="Other"), tasks=BASE.tasks[::-1], log=())
    taken = taken_back(after, before=BASE, after=after)
    assert taken.build == BASE
    assert not taken.is_refused


def test_another_field_of_the_same_task_that_was_changed_since_stays() -> None:
    after = edited(BASE, "a", people=2)
    later = edited(after, "a", notes="tight")
    taken = taken_back(later, before=BASE, after=after)
    assert taken.build == edited(BASE, "a", notes="tight")


def test_a_field_that_was_changed_again_hangs_on_the_change() -> None:
    after = edited(BASE, "a", people=2)
    taken = taken_back(edited(after, "a", people=3), before=BASE, after=after)
    assert whys(taken.made) == [("changed again", "task", "people")]
    assert taken.is_refused


def test_a_field_that_says_what_it_said_before_does_not_hang() -> None:
    """Put back by hand: of the change the notes alone are left."""
    after = edited(BASE, "a", people=2, notes="tight")
    taken = taken_back(edited(after, "a", people=1), before=BASE, after=after)
    assert taken.build == BASE


def test_nothing_is_taken_back_where_nothing_is_left_of_the_change() -> None:
    after = edited(BASE, "a", people=2)
    assert whys(taken_back(BASE, before=BASE, after=after).made) == [("as it was", "build", "")]


def test_a_removed_task_comes_back_to_its_place_with_what_went_with_it() -> None:
    before = replace(BASE, log=(LogEntry(task="a", on=TODAY, hours=1.0),))
    after = replace(
        before,
        tasks=BASE.tasks[1:],
        dependencies=(),
        log=(),
        parts=(replace(BASE.parts[0], serves=()),),
    )
    more = task("d", 1)
    later = replace(after, tasks=(*after.tasks, more), parts=(replace(after.parts[0], cost=3.0),))
    taken = taken_back(later, before=before, after=after)
    assert not taken.made
    assert taken.build == replace(
        before, tasks=(*BASE.tasks, more), parts=(replace(BASE.parts[0], cost=3.0),)
    )


def test_tasks_that_stand_in_a_subsystem_by_now_hang_on_its_entry() -> None:
    coolant = Subsystem(key="cool", name="Cooling")
    after = replace(BASE, subsystems=(*BASE.subsystems, coolant))
    later = edited(edited(after, "a", subsystem="cool"), "b", subsystem="cool")
    (hanging,) = taken_back(later, before=BASE, after=after).made
    assert (hanging.why, hanging.thing) == ("stood on", coolant)
    assert [(kind, thing.key) for kind, thing in hanging.others] == [("task", "a"), ("task", "b")]


def test_a_task_that_needs_a_subsystem_that_is_gone_since_hangs() -> None:
    before = edited(BASE, "b", subsystem="air")
    after = edited(before, "b", subsystem=None)
    later = replace(after, subsystems=())
    (hanging,) = taken_back(later, before=before, after=after).made
    assert (hanging.why, hanging.thing.name) == ("needs", "Air")


def test_a_wish_or_a_link_that_points_at_an_entered_task_hangs_on_it() -> None:
    after = replace(BASE, tasks=(*BASE.tasks, task("d", 1)))
    later = replace(
        after,
        wishes=(Wish(key="w", text="Lamp", logged_on=TODAY, after="d"),),
        dependencies=(*BASE.dependencies, Dependency(before="d", after="c")),
        log=(LogEntry(task="d", on=TODAY, hours=1.0),),
    )
    (hanging,) = taken_back(later, before=BASE, after=after).made
    assert {kind for kind, _ in hanging.others} == {"wish", "dependency", "log"}


def test_a_thing_that_was_taken_out_since_or_entered_anew_is_named() -> None:
    renamed = edited(BASE, "b", name="Other")
    gone = replace(renamed, tasks=(BASE.tasks[0], BASE.tasks[2]))
    assert whys(taken_back(gone, before=BASE, after=renamed).made) == [("gone", "task", "")]
    without = replace(BASE, tasks=(BASE.tasks[0], BASE.tasks[2]))
    again = replace(without, tasks=(*without.tasks, task("b", 9)))
    assert whys(taken_back(again, before=BASE, after=without).made) == [("there again", "task", "")]


def test_an_entered_task_that_was_changed_since_names_the_field() -> None:
    after = replace(BASE, tasks=(*BASE.tasks, task("d", 1)))
    later = edited(after, "d", people=2)
    assert whys(taken_back(later, before=BASE, after=after).made) == [
        ("changed again", "task", "people")
    ]


def test_a_corrected_entry_of_the_log_is_not_taken_out_with_the_stop_that_wrote_it() -> None:
    entry = LogEntry(task="a", on=TODAY, hours=1.0)
    after = replace(BASE, log=(entry,))
    later = replace(BASE, log=(replace(entry, hours=2.0),))
    assert whys(taken_back(later, before=BASE, after=after).made) == [("gone", "log", "")]


def test_one_of_two_entries_that_say_the_same_goes() -> None:
    entry = LogEntry(task="a", on=TODAY, hours=1.0)
    before = replace(BASE, log=(entry,))
    after = replace(BASE, log=(entry, entry))
    later = replace(after, log=(*after.log, replace(entry, hours=3.0)))
    taken = taken_back(later, before=before, after=after)
    assert taken.build.log == (entry, replace(entry, hours=3.0))


def test_a_setting_of_the_build_or_the_shop_goes_back_alone() -> None:
    after = replace(BASE, wanted_by=TODAY, shop=replace(BASE.shop, people=3))
    day = DayException(date=TODAY)
    later = replace(after, vehicle="van", shop=replace(after.shop, days=(day,)))
    taken = taken_back(later, before=BASE, after=after)
    assert taken.build == replace(BASE, vehicle="van", shop=replace(BASE.shop, days=(day,)))
    other = replace(later, wanted_by=TODAY + dt.timedelta(days=1))
    assert whys(taken_back(other, before=BASE, after=after).made) == [
        ("changed again", "build", "wanted_by")
    ]


def test_a_setup_that_is_out_by_now_hangs_on_its_entry() -> None:
    tig = Setup(key="tig", name="TIG welder out", hours=1)
    after = replace(BASE, shop=replace(BASE.shop, setups=(tig,)))
    later = replace(after, shop=replace(after.shop, setups_out=("tig",)))
    (hanging,) = taken_back(later, before=BASE, after=after).made
    assert [kind for kind, _ in hanging.others] == ["shop"]


def test_an_order_kept_on_the_same_day_as_another_goes_with_all_that_it_said() -> None:
    before = replace(BASE, kept_order=("b", "a", "c"), kept_on=TODAY)
    after = replace(before, kept_order=("c", "b", "a"), kept_setup_first=True)
    assert taken_back(after, before=before, after=after).build == before


def test_a_task_that_comes_back_finds_its_place_in_the_kept_order() -> None:
    before = replace(BASE, kept_order=("b", "a", "c"), kept_on=TODAY)
    after = replace(
        before, tasks=(BASE.tasks[0], BASE.tasks[2]), kept_order=("a", "c"), kept_on=TODAY
    )
    later = edited(after, "a", notes="tight")
    assert taken_back(later, before=before, after=after).build.kept_order == ("b", "a", "c")


def test_an_order_that_was_kept_anew_hangs_on_the_first_keeping() -> None:
    after = replace(BASE, kept_order=("a", "b", "c"), kept_on=TODAY)
    later = replace(after, kept_order=("b", "a", "c"))
    assert whys(taken_back(later, before=BASE, after=after).made) == [
        ("changed again", "build", "kept_order")
    ]


@pytest.mark.parametrize(
    ("before", "after", "now", "merged"),
    [
        ("abcd", "acd", "acd", "abcd"),  # nothing since
        ("abcd", "ad", "xad", "xabcd"),  # behind what they stood behind
        ("abc", "abxc", "abxcy", "abcy"),  # what was entered goes, what came later stays
        ("abc", "cba", "cbay", "abcy"),  # an order goes back
        ("abc", "cba", "bcay", "bcay"),  # unless it is another by now
        ("ab", "", "y", "aby"),  # first, where nothing stood before them
    ],
)
def test_lists_go_back_to_their_order(before: str, after: str, now: str, merged: str) -> None:
    assert "".join(merged_order(before, after, now)) == merged


def test_every_field_of_a_build_is_told_of_and_taken_back() -> None:
    """A new list or setting of a build has to be named in `PLACES` or `SETTINGS`."""
    at = [place.at.rpartition(".")[::2] for place in PLACES]
    named = {where: {name for of, name in at if of == where} for where, _ in at}
    build = named[""] | {*SETTINGS["build"], "now", "shop", "plumbing", "data_sheet", "start"}
    assert build == set(BuildInput.__dataclass_fields__)
    assert named["shop"] | {*SETTINGS["shop"]} == set(type(BASE.shop).__dataclass_fields__)
    assert named["plumbing"] == set(type(BASE.plumbing).__dataclass_fields__)
    assert named["data_sheet"] == set(type(BASE.data_sheet).__dataclass_fields__)
    assert named["start"] == set(type(BASE.start).__dataclass_fields__)


def test_a_list_in_another_order_is_no_difference_of_a_thing() -> None:
    assert thing_changes(BASE, replace(BASE, tasks=BASE.tasks[::-1])) == ()
    (change,) = thing_changes(BASE, edited(BASE, "a", people=2))
    assert (change.kind, change.fields) == ("task", ("people",))

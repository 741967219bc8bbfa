"""Entering many tasks at once and editing one: text into the build, or every fault at once."""

import datetime as dt

from tests.pages.form_build import small_build
from webapp.build.build_input import (
    BuildInput,
    Dependency,
    LogEntry,
    Measure,
    StationNeed,
    Step,
    Task,
)
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.picking import PickList, new_key
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks.quick_entry import blank_form, enter_rows, with_more_rows
from webapp.pages.tasks.task_form import edit_task, shown_of


def rows(*given: dict[str, str]) -> TypedForm:
    return TypedForm(
        {
            f"{field}-{number}": [text]
            for number, row in enumerate(given)
            for field, text in {"name": "", **row}.items()
        }
    )


# picking ------------------------------------------------------------------------------------
def test_a_key_is_made_from_the_name_and_is_unlike_those_there_are() -> None:
    assert new_key("Weld the neck (left)", ()) == "weld-the-neck-left"
    assert new_key("Weld", {"weld", "weld-2"}) == "weld-3"
    assert new_key("Kühler löten", ()) == "kuhler-loten"
    assert new_key("漢字", ()) == "item"
    assert new_key("New", ()) == "new-2"  # "new" is the address of the form itself


def test_a_name_shared_by_two_tasks_is_told_apart_by_its_key() -> None:
    hours = ThreePoint.certain(1)
    picks = PickList.of(
        "task", [Task(key="a", name="Weld", hours=hours), Task(key="b", name="weld", hours=hours)]
    )
    assert picks.find("Weld")[0] is None
    assert "could be 2 tasks" in picks.find("Weld")[1]
    assert picks.find("weld (b)") == ("b", "")
    assert picks.find("A") == ("a", "")


def test_part_of_a_name_will_do_where_it_is_part_of_one_name_alone() -> None:
    hours = ThreePoint.certain(1)
    names = ("Radiator lower bracket", "Radiator hose", "Weld", "Weld the frame")
    picks = PickList.of(
        "task", [Task(key=f"t{n}", name=name, hours=hours) for n, name in enumerate(names)]
    )
    assert picks.find("radiator br") == ("t0", "")  # begins two of its words, in their order
    assert picks.find("lower  BRA") == ("t0", "")  # stands in it as it is
    assert picks.find("weld") == ("t2", "")  # a whole name goes before part of another
    assert picks.find("bracket radiator")[0] is None  # the words stand the other way round
    found, why = picks.find("radiator")
    assert found is None
    assert "could be 2 tasks, “Radiator lower bracket”, “Radiator hose”." in why
    assert picks.find("ho") == (None, "There is no task “ho”. Do you mean “Radiator hose”?")
    assert picks.find("")[0] is None


def test_a_name_that_is_not_there_is_told() -> None:
    picks = PickList.of("task", small_build().tasks)
    assert picks.find("make the bracket") == ("bracket", "")
    assert picks.find("gearbox")[1].startswith("There is no task “gearbox”.")


# many at once -------------------------------------------------------------------------------
def test_rows_may_name_each_other_and_lead_to_first_start() -> None:
    form = rows(
        {
            "name": "Fit hoses",
            "likely": "2,5",
            "before": "Paint frame",
            "wait": "24",
            "needed": "on",
        },
        {"name": "Paint frame", "well": "1", "likely": "2", "fights": "4", "needed": "on"},
    )
    edited = enter_rows(form, small_build())
    build, entered = edited.build, edited.made
    assert form.faults == ()
    assert [row.task.key for row in entered] == ["fit-hoses", "paint-frame"]
    # the likely hours alone, 2.5: from 0.75 to 2 times as many, to the minute (1:52.5 is 1:52)
    assumed = ThreePoint(optimistic=112 / 60, most_likely=2.5, pessimistic=5)
    assert build.tasks[-2].hours == assumed
    assert [task.spread_assumed for task in build.tasks[-2:]] == [True, False]
    assert build.tasks[-1].hours == ThreePoint(optimistic=1, most_likely=2, pessimistic=4)
    # the paint leads to first start through the hoses: it gets no link of its own
    assert build.dependencies[2:] == (
        Dependency(before="paint-frame", after="fit-hoses", wait_hours=24),
        Dependency(before="fit-hoses", after="start"),
    )


def test_a_task_entered_after_first_start_is_not_tied_before_it() -> None:
    form = rows({"name": "Polish", "likely": "1", "before": "First start", "needed": "on"})
    build = enter_rows(form, small_build()).build
    assert build.dependencies[2:] == (Dependency(before="start", after="polish"),)


def test_several_tasks_before_one_are_typed_with_semicolons() -> None:
    form = rows(
        {"name": "Fit", "likely": "1", "before": "Make the bracket; weld", "after": "start"}
    )
    build = enter_rows(form, small_build()).build
    assert {(link.before, link.after) for link in build.dependencies[2:]} == {
        ("bracket", "fit"),
        ("weld", "fit"),
        ("fit", "start"),
    }


def test_the_same_link_stated_by_both_rows_is_entered_once_with_the_longer_wait() -> None:
    form = rows(
        {"name": "One", "likely": "1", "after": "Two"},
        {"name": "Two", "likely": "1", "before": "One", "wait": "3"},
    )
    build = enter_rows(form, small_build()).build
    assert build.dependencies[2:] == (Dependency(before="one", after="two", wait_hours=3),)


def test_every_fault_of_every_row_comes_at_once() -> None:
    form = rows(
        {"name": "", "likely": "nan"},
        {"name": "Bleed", "likely": "", "before": "Fill", "subsystem": "Hydraulics"},
        {"name": "Cap", "likely": "1", "wait": "5"},
        {},
    )
    enter_rows(form, small_build())
    assert {fault.field for fault in form.faults} == {
        "name-0",
        "likely-0",
        "likely-1",
        "before-1",
        "subsystem-1",
        "wait-2",
    }


def test_a_form_with_nothing_in_it_says_so() -> None:
    form = blank_form()
    edited = enter_rows(form, small_build())
    build, entered = edited.build, edited.made
    assert (build, entered) == (small_build(), ())
    assert form.faults[0].field == "name-0"


def test_one_more_row_keeps_what_was_typed() -> None:
    more = with_more_rows(rows({"name": "Bleed", "likely": "x", "needed": ""}))
    assert more.typed("name-0") == "Bleed"
    assert more.typed("likely-0") == "x"
    assert not more.ticked("needed-0")
    assert more.ticked("needed-1")
    assert more.row_numbers("name") == (0, 1)


# one task -----------------------------------------------------------------------------------
def opened(key: str = "weld", **typed: str) -> TypedForm:
    build = small_build()
    task = next(task for task in build.tasks if task.key == key)
    form = TypedForm.opened(shown_of(build, task))
    changed = {name.replace("__", "-"): [text] for name, text in typed.items()}
    return TypedForm({**form.values, **changed}, carried=form.carried)


def edited(form: TypedForm, build: BuildInput, key: str) -> BuildInput:
    return edit_task(key)(form, build).build


def test_a_form_sent_back_as_it_was_opened_changes_nothing() -> None:
    for task in small_build().tasks:
        form = opened(task.key)
        assert edited(form, small_build(), task.key) == small_build()
        assert form.faults == ()


def test_all_fields_of_a_task_are_read() -> None:
    form = opened(
        name="Weld it",
        well="0:30",
        likely="1,5",
        fights="4",
        subsystem="coolant",
        setup="",
        people="1",
        helper="on",
        in_one_go="on",
        station__0="2",
        outside_days="",
        space_litres="40",
        finished_on="2026-02-08",
        hours_left="0",
        caution="Ventilate.\r\nGloves.",
        notes="",
        step__0="",
        ticked__1="on",
        more_steps="Deburr",
        torque_value__0="25 Nm",
        size__0="",
        sure="on",  # the bracket before it is not finished, which is asked about
    )
    build = edited(form, small_build(), "weld")
    assert form.faults == ()
    assert build.tasks[1] == Task(
        key="weld",
        name="Weld it",
        hours=ThreePoint(optimistic=0.5, most_likely=1.5, pessimistic=4),
        subsystem="coolant",
        helper=True,
        in_one_go=True,
        stations=(StationNeed(station="lift", count=2),),
        space_litres=40,
        begun_on=dt.datetime(2026, 2, 6, 18, 30),
        finished_on=dt.date(2026, 2, 8),
        hours_left=0,
        caution="Ventilate.\nGloves.",
        steps=(Step(text="Weld out", done=True), Step(text="Deburr")),
        measures=(Measure(kind="torque", name="Clamp", value="25 Nm"),),
    )


def test_dependencies_are_added_changed_and_removed_in_their_rows() -> None:
    form = opened(before__0="", before__1="First start", wait__1="2", why__1="soak", after__0="")
    build = edited(form, small_build(), "weld")
    assert build.dependencies == (
        Dependency(before="start", after="weld", wait_hours=2, why="soak"),
    )
    form = opened(wait__0="3:00")
    build = edited(form, small_build(), "weld")
    assert build.dependencies[0] == Dependency(
        before="bracket", after="weld", wait_hours=3, why="paint dries"
    )


def test_a_wait_without_a_task_and_a_task_picked_twice_are_faults() -> None:
    form = opened(before__1="", wait__1="2", before__2="Make the bracket")
    edited(form, small_build(), "weld")
    assert [fault.field for fault in form.faults] == ["before-1", "before-2"]


def test_the_form_of_a_task_leaves_the_log_alone() -> None:
    form = opened(name="Weld it", log_on__0="", log_hours__0="9")
    assert edited(form, small_build(), "weld").log == (
        LogEntry(task="weld", on=dt.date(2026, 2, 6), hours=1.0, left=1.5, setup_hours=0.5),
    )


def test_parts_are_tied_to_a_task_and_untied() -> None:
    assert edited(opened(part__0=""), small_build(), "weld").parts[0].serves == ()
    form = opened("bracket", part__0="Filler rod")
    assert edited(form, small_build(), "bracket").parts[0].serves == ("weld", "bracket")


def test_subsystem_setup_and_station_are_made_by_typing_them_in_the_form_of_a_task() -> None:
    build = small_build()
    shown = shown_of(build, build.tasks[1])
    typed: dict[str, tuple[str, ...]] = {
        **shown.texts,
        "subsystem": ("Brakes",),
        "setup": ("Gas torch",),
        "other_station": ("Paint stand",),
        "other_count": ("3",),
    }
    form = TypedForm(typed, carried=TypedForm.opened(shown).carried)
    edit_task("weld")(form, build)
    assert [(offer.what, offer.name) for offer in form.offers] == [
        ("subsystem", "Brakes"),
        ("setup", "Gas torch"),
        ("station", "Paint stand"),
    ]
    ticks: dict[str, tuple[str, ...]] = {offer.field: (offer.name,) for offer in form.offers}
    form = TypedForm(typed | ticks, carried=TypedForm.opened(shown).carried)
    after = edit_task("weld")(form, build).build
    assert form.faults == ()
    weld = after.tasks[1]
    assert (weld.subsystem, weld.setup) == ("brakes", "gas-torch")
    assert weld.stations == (StationNeed(station="paint-stand", count=3),)
    assert after.shop.stations[-1].count == 3  # as many as the task needs, so it can be planned
    assert after.shop.setups[-1].hours == 0


def test_a_station_that_is_there_may_be_named_too_and_an_emptied_setup_goes() -> None:
    build = small_build()
    shown = shown_of(build, build.tasks[1])
    typed = {**shown.texts, "setup": ("",), "other_station": ("lift",)}
    form = TypedForm(typed, carried=TypedForm.opened(shown).carried)
    weld = edit_task("weld")(form, build).build.tasks[1]
    assert form.faults == ()
    assert weld.setup is None
    assert weld.stations == (StationNeed(station="lift", count=1),)

"""The forms of the shop, of parts and of new builds."""

import datetime as dt
from dataclasses import replace

from tests.pages.form_build import NOW, small_build
from webapp.build.build_input import Part, Subsystem
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import DayException, DayHours, Setup
from webapp.build.starter.fitting import kept
from webapp.pages.builds.forms import new_build_values, read_new_build
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.parts import forms as part_forms
from webapp.pages.shop import forms, hours_forms
from webapp.pages.shop.kinds import FORMS
from webapp.services.seed_builds import starter_lists


def changed(shown: Shown, **typed: str) -> TypedForm:
    form = TypedForm.opened(shown)
    more = {name.replace("__", "-"): [text] for name, text in typed.items()}
    return TypedForm({**form.values, **more}, carried=form.carried)


def test_forms_of_the_shop_sent_back_as_opened_change_nothing() -> None:
    build = small_build()
    for name in ("facts", "people", "out", "setups", "stations", "subsystems", "week"):
        form = TypedForm.opened(FORMS[name].shown(build))
        assert FORMS[name].edit(form, build).build == build
        assert form.faults == ()


def test_first_start_is_picked_by_name_and_can_not_be_emptied() -> None:
    build = small_build()
    form = changed(forms.facts_shown(build), first_start="weld the bracket")
    assert forms.edit_facts(form, build).first_start == "weld"
    form = changed(forms.facts_shown(build), first_start="")
    forms.edit_facts(form, build)
    assert [fault.field for fault in form.faults] == ["first_start"]


def test_setups_are_added_renamed_and_removed_unless_a_task_needs_them() -> None:
    build = small_build()
    form = changed(forms.setups_shown(build), name__0="TIG out", name__1="Press", hours__1="0:15")
    assert forms.edit_setups(form, build).shop.setups == (
        Setup(key="tig", name="TIG out", hours=0.5),
        Setup(key="press", name="Press", hours=0.25),
    )
    form = changed(forms.setups_shown(build), remove__0="on")
    forms.edit_setups(form, build)
    assert "still needed by the task “Weld the bracket”" in form.faults[0].text
    assert form.faults[0].field == "name-0"


def test_a_thing_the_form_did_not_show_stays() -> None:
    build = small_build()
    form = TypedForm({"key-0": [""], "name-0": ["Press"], "hours-0": [""]})
    assert [each.key for each in forms.edit_setups(form, build).shop.setups] == ["tig", "press"]
    assert forms.edit_stations(TypedForm(), build) == build


def test_the_setup_that_is_out_is_put_away_when_it_is_removed() -> None:
    build = small_build()
    build = forms.edit_people(changed(forms.people_shown(build), people="2"), build)
    build = forms.edit_out(changed(forms.out_shown(build), setup_out="tig"), build)
    assert (build.shop.setups_out, build.shop.people) == (("tig",), 2)
    form = changed(forms.setups_shown(build), remove__0="on")
    assert forms.edit_setups(form, build).shop.setups_out == ()


def test_as_many_setups_can_be_named_as_out_as_there_are_people() -> None:
    build = small_build()
    saw = Setup(key="saw", name="Band saw", hours=0.5)
    build = replace(build, shop=replace(build.shop, setups=(*build.shop.setups, saw)))
    assert forms.out_fields(build) == ("setup_out",)
    build = forms.edit_people(changed(forms.people_shown(build), people="2"), build)
    typed = changed(forms.out_shown(build), setup_out="tig", setup_out__1="saw")
    both = forms.edit_out(typed, build)
    assert both.shop.setups_out == ("saw", "tig")
    assert forms.out_shown(both).texts["setup_out-1"] == ("saw",)
    twice = changed(forms.out_shown(build), setup_out="tig", setup_out__1="tig")
    forms.edit_out(twice, build)
    assert twice.faults_at("setup_out-1")
    # One person by herself keeps out what was used last.
    alone = forms.edit_people(changed(forms.people_shown(both), people="1"), both)
    assert alone.shop.setups_out == ("tig",)


def test_a_new_subsystem_comes_last_in_the_working_order() -> None:
    build = small_build()
    form = changed(forms.subsystems_shown(build), name__2="Fuel", medium__2="fuel")
    added = forms.edit_subsystems(form, build).subsystems[-1]
    assert added.key == "fuel"
    assert added.medium == "fuel"
    assert added.order > max(each.order for each in build.subsystems)
    assert isinstance(added, Subsystem)


def test_a_day_of_the_week_takes_several_sessions() -> None:
    build = small_build()
    form = changed(
        hours_forms.week_shown(build),
        opens__0__1="9",
        closes__0__1="12:00",
        helper__0__1="on",
    )
    week = hours_forms.edit_week(form, build).shop.week
    assert [each.hours for each in week if each.weekday == 0] == [
        DayHours(opens_minute=540, closes_minute=720, helper=True),
        DayHours(opens_minute=1080, closes_minute=1320),
    ]


def test_half_a_session_and_a_faulty_time_are_faults_with_the_day_named() -> None:
    build = small_build()
    form = changed(hours_forms.week_shown(build), closes__2__0="", opens__3__0="noon")
    hours_forms.edit_week(form, build)
    assert [fault.field for fault in form.faults] == ["closes-2-0", "opens-3-0"]
    assert form.faults[0].text.startswith("Wednesday, closes: no time is typed.")


def test_a_date_is_closed_or_has_other_hours_but_not_both() -> None:
    build = small_build()
    form = TypedForm({"date": ["2026-02-14"], "closed": ["on"]})
    closed = hours_forms.edit_day(form, build)
    assert closed.shop.days == (DayException(date=dt.date(2026, 2, 14)),)
    form = TypedForm({"date": ["2026-02-14"], "opens-0": ["8"], "closes-0": ["12"]})
    other = hours_forms.edit_day(form, closed)
    assert other.shop.days == (
        DayException(
            date=dt.date(2026, 2, 14), sessions=(DayHours(opens_minute=480, closes_minute=720),)
        ),
    )
    for values in (
        {"date": ["2026-02-14"], "closed": ["on"], "opens-0": ["8"], "closes-0": ["12"]},
        {"date": ["2026-02-14"]},
    ):
        form = TypedForm(values)
        hours_forms.edit_day(form, build)
        assert [fault.field for fault in form.faults] == ["closed"]


def test_the_coming_weekend_is_saturday_and_sunday_and_on_a_sunday_that_day() -> None:
    # 2026-02-09 is a Monday (ISO week 7)
    weekend = (dt.date(2026, 2, 14), dt.date(2026, 2, 15))
    assert hours_forms.coming_weekend(dt.date(2026, 2, 9)) == weekend
    assert hours_forms.coming_weekend(dt.date(2026, 2, 14)) == weekend
    assert hours_forms.coming_weekend(dt.date(2026, 2, 15)) == weekend[1:]


def test_a_part_is_added_and_edited() -> None:
    build = small_build()
    form = TypedForm(
        {
            "name": ["Radiator"],
            "serves-0": ["First start"],
            "serves-1": [""],
            "arrives_on": ["2026-03-02"],
            "lead_days": ["10"],
            "cost": ["120,50"],
        }
    )
    edited = part_forms.edit_part(None)(form, build)
    after, key = edited.build, edited.made
    assert key == "radiator"
    assert after.parts[-1] == Part(
        key="radiator",
        name="Radiator",
        serves=("start",),
        arrives_on=dt.date(2026, 3, 2),
        lead_days=10,
        cost=120.5,
    )
    form = TypedForm.opened(part_forms.shown_of(after, after.parts[0]))
    assert part_forms.edit_part("rod")(form, after).build == after


def test_every_fault_of_a_part_comes_at_once() -> None:
    form = TypedForm({"name": [""], "serves-0": ["?"], "lead_days": ["-1"], "cost": ["NaN"]})
    part_forms.edit_part(None)(form, small_build())
    assert [fault.field for fault in form.faults] == ["name", "serves-0", "lead_days", "cost"]


def test_a_new_build_can_be_planned_at_once() -> None:
    lists = starter_lists()
    form = TypedForm({**new_build_values(NOW.date(), "empty", lists), "name": ["The Crane"]})
    build = read_new_build(form, lists, NOW)
    assert form.faults == ()
    assert faults_of(build) == ()
    assert build.shop.week == hours_forms.OFFERED_WEEK


def test_a_new_build_begins_with_the_first_starter_list_and_its_usual_answers() -> None:
    lists = starter_lists()
    form = TypedForm({**new_build_values(NOW.date(), "?", lists), "name": ["The Crane"]})
    build = read_new_build(form, lists, NOW)
    assert form.faults == ()
    assert faults_of(build) == ()
    assert (build.name, build.starter_list) == ("The Crane", "swap")
    usual = {said.question: said.answer for said in build.starter_answers}
    assert usual == lists[0].usual
    assert {task.key for task in build.tasks} == kept(lists[0], usual).tasks


def test_a_build_wanted_before_it_starts_is_a_fault() -> None:
    form = TypedForm(
        {
            "name": [""],
            "starts_on": ["2026-02-09"],
            "wanted_by": ["2026-02-08"],
            "begin_with": ["x"],
        }
    )
    read_new_build(form, starter_lists(), NOW)
    assert [fault.field for fault in form.faults] == ["name", "wanted_by", "begin_with"]


def test_what_the_end_is_called_is_typed_and_first_start_is_what_it_is_called_else() -> None:
    build = small_build()
    for typed, stored in (("First drive", "first drive"), ("first start", ""), ("", "")):
        form = changed(forms.facts_shown(build), end_name=typed)
        assert forms.edit_facts(form, build).end_name == stored
        assert form.faults == ()
    called = replace(build, end_name="TUV")
    form = changed(forms.facts_shown(called))
    assert forms.edit_facts(form, called).end_name == "TUV"

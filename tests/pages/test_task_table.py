"""The table of all tasks: filtered and turned over, typed in place, rows sent alone, dropped."""

import html
import re
from dataclasses import replace

import pytest

from tests.benchmarks.forms_found import Form, forms_of
from tests.pages.conftest import NOW, Shop
from tests.pages.form_build import small_build
from webapp.build.build_input import BuildInput, Dependency, StationNeed, Task
from webapp.build.by_key import get_by_key
from webapp.build.shop import Setup, Station
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks import table_form
from webapp.pages.tasks.dropping import drop_tasks, to_drop
from webapp.pages.tasks.table_filter import ROWS_AT_ONCE, TableFilter, page_of_tasks
from webapp.storage.builds import create_build


def table_of(build: BuildInput) -> TypedForm:
    return table_form.opened(build, build.tasks)


def sent(form: TypedForm, **typed: str) -> TypedForm:
    """The form as a browser sends it, some fields typed over ("__" for the dash)."""
    fields = {name: list(given) for name, given in form.values.items()}
    fields |= {
        f"shown-{row}": [table_form.row_carried(form, row)] for row in form.row_numbers("key")
    }
    fields |= {name.replace("__", "-"): [text] for name, text in typed.items()}
    return TypedForm({name: given for name, given in fields.items() if given != [""]})


def saved(build: BuildInput, form: TypedForm, *, confirms: bool = False) -> BuildInput:
    return table_form.edit_table(confirms=confirms)(form, build).build


# the form -----------------------------------------------------------------------------------
def test_a_table_sent_as_it_was_opened_changes_nothing() -> None:
    build = small_build()
    form = table_form.as_sent(sent(table_of(build)))
    assert saved(build, form) == build
    assert form.faults == ()


def test_hours_and_subsystem_are_typed_in_place_and_only_what_was_changed_is_written() -> None:
    build = small_build()  # rows: bracket (certain 3), weld (1, 2, 3), start
    opened = table_of(build)
    # meanwhile another window gives the weld a setup less and the bracket a subsystem
    there = replace(build.tasks[0], subsystem="air")
    meanwhile = replace(build, tasks=(there, *build.tasks[1:]))
    form = table_form.as_sent(sent(opened, likely__1="2:30", subsystem__1="coolant"))
    after = saved(meanwhile, form)
    assert form.faults == ()
    bracket, weld = after.tasks[0], after.tasks[1]
    assert bracket == there
    assert weld.hours == ThreePoint(optimistic=1, most_likely=2.5, pessimistic=3)
    assert weld.subsystem == "coolant"
    assert weld.begun_on == build.tasks[1].begun_on


def test_a_cell_changed_in_two_windows_is_asked_about_with_the_name_of_its_task() -> None:
    build = small_build()
    opened = table_of(build)
    hours = ThreePoint(optimistic=1, most_likely=2.25, pessimistic=3)
    meanwhile = replace(
        build, tasks=(build.tasks[0], replace(build.tasks[1], hours=hours), build.tasks[2])
    )
    form = table_form.as_sent(sent(opened, likely__1="2.5"))
    saved(meanwhile, form)
    assert [fault.field for fault in form.faults] == ["likely-1"]
    assert form.faults[0].text.startswith(
        "Weld the bracket, likely hours: changed elsewhere meanwhile: it says “2.25” now"
    )


def test_what_was_typed_for_a_task_dropped_meanwhile_is_told_not_lost() -> None:
    build = small_build()
    opened = table_of(build)
    meanwhile = replace(build, tasks=build.tasks[1:], dependencies=build.dependencies[1:])
    untouched = table_form.as_sent(sent(opened, likely__1="2.5"))
    assert saved(meanwhile, untouched).tasks[0].hours.most_likely == 2.5
    assert untouched.faults == ()
    typed = table_form.as_sent(sent(opened, likely__0="4"))
    saved(meanwhile, typed)
    assert "“bracket” was dropped elsewhere meanwhile, so “4”" in typed.faults[0].text


def test_only_the_row_that_is_sent_is_written() -> None:
    build = small_build()
    form = table_form.as_sent(sent(table_of(build), likely__0="5", likely__1="2.5"), only=1)
    after = saved(build, form)
    assert after.tasks[0] == build.tasks[0]
    assert after.tasks[1].hours.most_likely == 2.5


def test_a_row_below_becomes_a_task_and_its_unknown_subsystem_is_offered_once() -> None:
    build = small_build()
    typed = {
        "name__3": "Bleed",
        "likely__3": "1",
        "subsystem__3": "Brakes",
        "subsystem__0": "brakes",
    }
    form = table_form.as_sent(sent(table_of(build), **typed))
    saved(build, form)
    assert len(form.faults) == 1
    assert "2 rows name it" in form.faults[0].text
    field = form.offers[0].field
    form = table_form.as_sent(sent(table_of(build), **typed, **{field: "brakes"}))
    after = saved(build, form)
    assert form.faults == ()
    assert [each.name for each in after.subsystems] == ["Air", "Coolant", "brakes"]
    assert [each.order for each in after.subsystems] == [1, 2, 3]
    assert after.tasks[0].subsystem == after.tasks[-1].subsystem == "brakes"
    assert Dependency(before="bleed", after="start") in after.dependencies


def test_setups_and_stations_are_made_by_typing_them_in_a_row() -> None:
    build = small_build()  # a TIG welder; two lifts
    typed = {
        "setup__0": "Gas torch",
        "stations__0": "lift; Paint stand",
        "name__3": "Braze",
        "likely__3": "1",
        "setup__3": "gas torch",
        "stations__3": "paint  stand",
    }
    form = table_form.as_sent(sent(table_of(build), **typed))
    saved(build, form)
    assert [(offer.what, offer.name) for offer in form.offers] == [
        ("setup", "Gas torch"),
        ("station", "Paint stand"),
    ]
    ticks = {offer.field: offer.name for offer in form.offers}
    form = table_form.as_sent(sent(table_of(build), **typed, **ticks))
    after = saved(build, form)
    assert form.faults == ()
    assert after.shop.setups[1:] == (Setup(key="gas-torch", name="Gas torch", hours=0),)
    assert after.shop.stations[1:] == (Station(key="paint-stand", name="Paint stand"),)
    assert after.tasks[0].setup == after.tasks[-1].setup == "gas-torch"
    assert [need.station for need in after.tasks[0].stations] == ["lift", "paint-stand"]
    assert [need.station for need in after.tasks[-1].stations] == ["paint-stand"]


def test_stations_of_a_row_keep_how_many_they_need_and_an_emptied_field_lets_them_go() -> None:
    build = small_build()
    needs = (StationNeed(station="lift", count=2),)
    build = replace(build, tasks=(replace(build.tasks[0], stations=needs), *build.tasks[1:]))
    opened = table_of(build)
    assert opened.typed("stations-0") == "Lift \u00d7 2"
    one = saved(build, table_form.as_sent(sent(opened, stations__0="Lift")))
    assert one.tasks[0].stations == (StationNeed(station="lift", count=1),)
    assert saved(build, table_form.as_sent(sent(opened, likely__0="5"))).tasks[0].stations == needs
    emptied = saved(build, table_form.as_sent(sent_empty(opened, "stations-0")))
    assert emptied.tasks[0].stations == ()


def sent_empty(form: TypedForm, name: str) -> TypedForm:
    """The form as a browser sends it, one field emptied."""
    return TypedForm({**sent(form).values, name: ("",)})


def test_hours_of_ticked_rows_are_confirmed_and_of_others_not() -> None:
    build = small_build()
    guessed = replace(build, tasks=tuple(replace(t, hours_guessed=True) for t in build.tasks))
    form = table_form.as_sent(sent(table_of(guessed), pick__0="on"))
    after = saved(guessed, form, confirms=True)
    assert [task.hours_guessed for task in after.tasks] == [False, True, True]
    nothing = table_form.as_sent(sent(table_of(guessed)))
    saved(guessed, nothing, confirms=True)
    assert nothing.faults[0].text.startswith("No task is ticked.")


# which rows ---------------------------------------------------------------------------------
def many(number: int) -> BuildInput:
    """That many open tasks, every fourth a guess of the starter list, in turn of two subsystems."""
    tasks = tuple(
        Task(
            key=f"t{i}",
            name=f"Task {i}",
            hours=ThreePoint.certain(1),
            subsystem=("coolant", "air")[i % 2],
            hours_guessed=i % 4 == 0,
        )
        for i in range(number)
    )
    return replace(small_build(), tasks=tasks, dependencies=(), parts=(), log=(), first_start="t0")


def test_a_page_has_forty_rows_in_working_order_and_turns_over_to_the_rest() -> None:
    build = many(120)  # 60 of air (odd), rank 1, then 60 of coolant (even), rank 2
    first = page_of_tasks(build, TableFilter())
    assert [task.key for task in first.tasks] == [f"t{i}" for i in range(1, 80, 2)]
    assert (first.first, first.of, first.before) == (1, 120, None)
    assert first.after is not None
    second = page_of_tasks(build, first.after)
    assert [task.key for task in second.tasks][:21] == [
        *(f"t{i}" for i in range(81, 120, 2)),
        "t0",
    ]
    assert second.after is not None
    third = page_of_tasks(build, second.after)
    assert (len(third.tasks), third.first, third.after) == (40, 81, None)
    assert third.before == first.after
    assert second.before == TableFilter()


def test_no_row_is_passed_over_when_rows_fall_out_of_the_filter_as_they_are_done() -> None:
    build = many(400)  # 100 guesses: t0, t4, ...
    page = page_of_tasks(build, TableFilter(only="unseen"))
    assert page.of == 100
    assert page.after is not None
    done = {task.key for task in page.tasks}
    confirmed = replace(
        build,
        tasks=tuple(
            replace(task, hours_guessed=False) if task.key in done else task for task in build.tasks
        ),
    )
    rest = page_of_tasks(confirmed, page.after)
    assert len(rest.tasks) == ROWS_AT_ONCE
    assert not done & {task.key for task in rest.tasks}


def test_tasks_are_found_by_words_of_their_names_and_by_subsystem() -> None:
    build = many(12)
    by_name = page_of_tasks(build, TableFilter(find="1 TASK"))
    assert {task.key for task in by_name.tasks} == {"t1", "t10", "t11"}
    by_subsystem = page_of_tasks(build, TableFilter(subsystem="air", only="unseen"))
    assert by_subsystem.tasks == ()
    assert TableFilter.of({"only": "everything"}) == TableFilter()


# dropping -----------------------------------------------------------------------------------
def test_what_hangs_on_the_tasks_is_named_but_not_what_goes_with_them() -> None:
    bracket, weld = to_drop(small_build(), ["bracket", "weld", "nowhere"])
    assert bracket.hangs == ()  # the weld goes as well
    assert weld.hangs == (
        "Comes before “First start”.",
        "Without a task then: “Filler rod”.",
        "1.5 h logged on it go with it.",  # 1.0 of work and 0.5 of getting the setup out
    )


def test_order_and_waits_lead_through_what_is_dropped_and_first_start_stays() -> None:
    build = small_build()
    chain = replace(
        build,
        tasks=(
            *build.tasks,
            Task(key="paint", name="Paint", hours=ThreePoint.certain(1)),
        ),
        dependencies=(
            Dependency(before="paint", after="bracket", wait_hours=24, why="cure"),
            *build.dependencies,
        ),
    )
    form = TypedForm({"task": ["bracket", "weld"], "keep_order": ["on"]})
    after = drop_tasks(form, chain).build
    assert [task.key for task in after.tasks] == ["start", "paint"]
    # the wait into the first of them stays, their own waits go, as where one is removed
    assert after.dependencies == (
        Dependency(before="paint", after="start", wait_hours=24, why="cure"),
    )
    refused = TypedForm({"task": ["start"]})
    drop_tasks(refused, chain)
    assert "“First start” stays." in refused.faults[0].text


# over HTTP ----------------------------------------------------------------------------------
def table_page(shop: Shop, press: str = "save", query: str = "") -> Form:
    forms = forms_of(shop.client, f"/builds/the-heron/tasks{query}")
    return next(form for form in forms if ("press", press) in form.fields)


def row_about(form: Form, key: str) -> str:
    return next(name for name, value in form.fields if value == key).removeprefix("key-")


def post(shop: Shop, form: Form, address: str = "", **typed: str) -> "tuple[int, str, str]":
    fields = {**form.sent, **{name.replace("__", "-"): [text] for name, text in typed.items()}}
    answer = shop.client.post(address or form.action, data=fields)
    return answer.status_code, html.unescape(answer.text), str(answer.url)


def test_hours_of_a_whole_page_are_saved_and_the_date_is_told(shop: Shop) -> None:
    form = table_page(shop, query="?find=turbo")
    row = row_about(form, "turbo_oil")
    status, text, url = post(shop, form, **{f"likely-{row}": "90", f"fights-{row}": "120"})
    assert status == 200
    assert "find=turbo" in url
    assert "Saved. First start moves" in text
    assert get_by_key(shop.stored().tasks, "turbo_oil").hours.most_likely == 90


def test_one_row_is_sent_alone_and_answers_with_its_places_on_the_page(shop: Shop) -> None:
    form = table_page(shop, query="?find=bracket")
    row = row_about(form, "rad_bracket")
    before = shop.stored()
    others = {name: ["99"] for name, _ in form.fields if name.startswith("likely-")}
    fields = {**form.sent, **others, f"likely-{row}": ["30"], f"fights-{row}": ["60"], "row": [row]}
    answer = shop.client.post("/builds/the-heron/task-row", data=fields)
    assert answer.status_code == 200
    places = re.findall(r'<hx-partial hx-target="([^"]+)"', answer.text)
    assert places == [f"#said-{row}", f"#range-{row}", "#told", "#gauges"]
    after = shop.stored()
    changed = [a.key for a, b in zip(after.tasks, before.tasks, strict=True) if a != b]
    assert changed == ["rad_bracket"]
    wrong = {**fields, f"likely-{row}": ["much"]}
    answer = shop.client.post("/builds/the-heron/task-row", data=wrong)
    assert answer.status_code == 422
    assert "“much” can not be read" in html.unescape(answer.text)
    assert f'data-wrong="likely-{row}"' in answer.text


def test_undo_of_a_row_leads_back_to_the_rows_that_were_asked_for(shop: Shop) -> None:
    query = "find=bracket&only=open"
    page = shop.page(f"tasks?{query}")
    found = re.search(r'hx-post="([^"]*task-row[^"]*)"', page)
    assert found
    form = table_page(shop, query=f"?{query}")
    row = row_about(form, "rad_bracket")
    fields = {**form.sent, f"likely-{row}": ["30"], f"fights-{row}": ["60"], "row": [row]}
    answer = shop.client.post(html.unescape(found[1]), data=fields)
    pairs = re.findall(r'name="(first|last|back)" value="([^"]*)"', answer.text)
    sent_back = {name: html.unescape(value) for name, value in pairs}
    taken = shop.client.post("/builds/the-heron/journal/take-back", data=sent_back)
    assert "Taken back." in taken.text
    assert dict(taken.url.params).items() >= {"find": "bracket", "only": "open"}.items()


def test_the_row_just_saved_can_be_changed_again_without_a_question(shop: Shop) -> None:
    form = table_page(shop, query="?find=bracket")
    row = row_about(form, "rad_bracket")
    fields = {**form.sent, f"likely-{row}": ["3:15"], "row": [row]}
    answer = shop.client.post("/builds/the-heron/task-row", data=fields)
    found = re.search(rf'name="shown-{row}" value="([^"]*)"', answer.text)
    assert found
    again = {**fields, f"shown-{row}": [html.unescape(found[1])], f"likely-{row}": ["3.5"]}
    answer = shop.client.post("/builds/the-heron/task-row", data=again)
    assert answer.status_code == 200
    assert get_by_key(shop.stored().tasks, "rad_bracket").hours.most_likely == 3.5


def test_the_hours_of_a_setup_are_typed_beside_its_offer_in_the_row(shop: Shop) -> None:
    form = table_page(shop, query="?find=bracket")
    row = row_about(form, "rad_bracket")
    fields = {**form.sent, f"setup-{row}": ["Tube roller"], "row": [row]}
    said = shop.client.post("/builds/the-heron/task-row", data=fields).text
    hours = re.search(r'name="(make_setup_hours-\d+)"', said)
    tick = re.search(r'name="(make_setup-\d+)" value="Tube roller"', said)
    assert hours is not None
    assert tick is not None
    typed = {**fields, tick[1]: ["Tube roller"], hours[1]: ["1.5"]}
    assert shop.client.post("/builds/the-heron/task-row", data=typed).status_code == 200
    made = shop.stored().shop.setups[-1]
    assert (made.name, made.hours) == ("Tube roller", 1.5)


def test_a_setup_is_made_from_its_row_and_then_no_more_offered(shop: Shop) -> None:
    form = table_page(shop, query="?find=bracket")
    row = row_about(form, "rad_bracket")
    fields = {**form.sent, f"setup-{row}": ["Gas torch out"], "row": [row]}
    answer = shop.client.post("/builds/the-heron/task-row", data=fields)
    assert answer.status_code == 422
    assert f'data-wrong="setup-{row}"' in answer.text
    found = re.search(r'name="(make_setup-[0-9]+)" value="Gas torch out"', answer.text)
    assert found
    ticked = {**fields, found[1]: ["Gas torch out"]}
    answer = shop.client.post("/builds/the-heron/task-row", data=ticked)
    assert answer.status_code == 200
    assert "Make the setup" not in answer.text
    build = shop.stored()
    made = build.shop.setups[-1]
    assert (made.name, get_by_key(build.tasks, "rad_bracket").setup) == ("Gas torch out", made.key)


@pytest.mark.parametrize("row", ["", "x", "-1", "999999999", "7"])
def test_a_row_that_is_not_there_changes_nothing(shop: Shop, row: str) -> None:
    before = shop.stored()
    answer = shop.client.post("/builds/the-heron/task-row", data={"row": row, "key-7": "gone"})
    assert answer.status_code in (200, 422)
    assert shop.stored().tasks == before.tasks


def test_ticked_tasks_are_asked_about_and_then_dropped(shop: Shop) -> None:
    form = table_page(shop, "drop", query="?find=bracket")
    row = row_about(form, "rad_bracket")
    status, text, url = post(shop, form, **{f"pick-{row}": "on", f"likely-{row}": "3.5"})
    assert status == 200
    assert "Drop this task?" in text
    assert "Comes before" in text
    task = get_by_key(shop.stored().tasks, "rad_bracket")
    assert task.hours.most_likely == 3.5  # what was typed beside the tick is not lost
    asked = next(form for form in forms_of(shop.client, url) if "drop-tasks" in form.action)
    status, _, url = post(shop, asked)
    assert status == 200
    assert "find=bracket" in url
    assert all(task.key != "rad_bracket" for task in shop.stored().tasks)


def test_a_task_changed_since_the_question_is_asked_about_again(shop: Shop) -> None:
    address = "/builds/the-heron/drop-tasks?task=turbo_oil&task=fuel_flex"
    question = next(f for f in forms_of(shop.client, address) if "drop-tasks" in f.action)
    assert shop.post("bench/begin", task="turbo_oil")[0] == 200
    before = shop.stored()
    status, text, _ = post(shop, question)
    assert status == 422
    assert "It is on the bench" in text
    shop.post("bench/stop", task="turbo_oil", worked="1", left="1", outcome="left", sure="on")
    status, text, _ = post(shop, question)
    assert status == 422
    assert "changed elsewhere since you were asked. “Turbo oil feed and drain lines”: " in text
    assert [task.key for task in shop.stored().tasks] == [task.key for task in before.tasks]


def test_nothing_ticked_is_said_and_what_was_typed_is_kept(shop: Shop) -> None:
    form = table_page(shop, "drop", query="?find=bracket")
    row = row_about(form, "rad_bracket")
    status, text, _ = post(shop, form, **{f"likely-{row}": "3.5"})
    assert status == 422
    assert "No task is ticked." in text
    assert f'name="likely-{row}" value="3.5"' in text


def test_two_thousand_tasks_are_shown_forty_at_a_time(shop: Shop) -> None:
    with shop.database.writing() as session:
        slug = create_build(session, replace(many(2_000), name="The Crane", now=NOW))
    answer = shop.client.get(f"/builds/{slug}/tasks")
    assert answer.text.count('class="c-pick"') == ROWS_AT_ONCE + table_form.NEW_ROWS
    assert f"Next {ROWS_AT_ONCE}" in answer.text
    assert shop.client.get(f"/builds/{slug}/tasks?only=unseen&after=t1").status_code == 200

"""Lists pasted or uploaded into a build: looked at, faults by row, taken whole or not at all."""

import html
import re
import time

import pytest

from tests.pages.conftest import Shop
from tests.pages.form_build import small_build
from webapp.build.build_input import Dependency
from webapp.build.by_key import get_by_key
from webapp.build.limits import MOST_TASKS
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.lists.forms import faults_of_columns, sent_list, take_list

LIST = (
    "Task;Hours;Min;Max;Subsystem;After task;Wait;Notes\n"
    "Bend the tubes;2,5;1;6;Air;Make the br;24;two of them\n"
    "Fit the tubes;3;;;Air;Bend the tubes;;\n"
)


def test_a_list_becomes_tasks_with_ranges_links_and_notes() -> None:
    build, form = small_build(), TypedForm()
    sent = sent_list(form, LIST)
    assert sent.columns == (
        *("name", "likely", "well", "fights", "subsystem", "before", "wait", "notes"),
    )
    after = take_list(sent)(form, build).build
    assert form.faults == ()
    bend, fit = after.tasks[-2:]
    assert bend.hours == ThreePoint(optimistic=1, most_likely=2.5, pessimistic=6)
    assert (bend.subsystem, bend.notes, bend.spread_assumed) == ("air", "two of them", False)
    assert fit.spread_assumed
    assert after.dependencies[2:] == (
        Dependency(before="bracket", after="bend-the-tubes", wait_hours=24),
        Dependency(before="bend-the-tubes", after="fit-the-tubes"),
        Dependency(before="fit-the-tubes", after="start"),
    )


def test_parts_that_rows_name_are_made_once_or_are_those_there_are() -> None:
    build, form = small_build(), TypedForm()
    known = build.parts[0]
    text = (
        "Task\tHours\tParts\n"
        f"Bend the tubes\t2\tTube 63 mm; clamps;;  {known.name.upper()}\n"
        "Fit the tubes\t1\tClamps ; tube 63  mm; clamps\n"
        "Look at them\t1\t\n"
    )
    after = take_list(sent_list(form, text))(form, build).build
    assert form.faults == ()
    assert [(part.name, part.serves) for part in after.parts[len(build.parts) :]] == [
        ("Tube 63 mm", ("bend-the-tubes", "fit-the-tubes")),
        ("clamps", ("bend-the-tubes", "fit-the-tubes")),
    ]
    assert after.parts[0].serves == (*known.serves, "bend-the-tubes")


def test_every_fault_is_told_with_its_row_and_nothing_is_half_taken() -> None:
    build, form = small_build(), TypedForm()
    text = "Task,Hours,Before\nBend,2,\nFit,a while,\n,3,\nCap,1,Nowhere\n"
    sent = sent_list(form, text)
    take_list(sent)(form, build)
    assert [fault.field for fault in form.faults] == ["line-2", "line-3", "line-4"]
    assert "“a while” can not be read" in form.faults[0].text


def test_a_subsystem_that_ten_rows_name_is_offered_once() -> None:
    build, form = small_build(), TypedForm()
    text = "Task,Hours,Subsystem\n" + "".join(f"Weld {i},1,Brakes\n" for i in range(10))
    take_list(sent_list(form, text))(form, build)
    assert len(form.faults) == 1
    assert "10 rows name it" in form.faults[0].text
    ticked = TypedForm({form.offers[0].field: ["Brakes"]})
    after = take_list(sent_list(ticked, text))(ticked, build).build
    assert ticked.faults == ()
    assert after.subsystems[-1].name == "Brakes"


def test_columns_are_as_assigned_and_one_that_is_missing_or_twice_is_told() -> None:
    form = TypedForm()
    sent = sent_list(form, "Colour,Weight\nred,2\n")
    assert "No column is the name of the task. Assign one." not in faults_of_columns(sent)
    assigned = TypedForm(
        {"looked": ["Colour|Weight"], "head": ["on"], "column-0": ["name"], "column-1": ["name"]}
    )
    again = sent_list(assigned, "Colour,Weight\nred,2\n")
    assert again.columns == ("name", "name")
    assert faults_of_columns(again) == (
        "No column is the likely hours. Assign one.",
        "Two columns are the name of the task. Assign one of them otherwise.",
    )


# over HTTP ----------------------------------------------------------------------------------
def post(shop: Shop, file: bytes = b"", /, **fields: str) -> "tuple[int, str, str]":
    files = {"file": ("list.csv", file)} if file else {"file": ("", b"")}
    data = {name.replace("__", "-"): text for name, text in fields.items()}
    answer = shop.client.post("/builds/the-heron/list", data=data, files=files)
    return answer.status_code, html.unescape(answer.text), str(answer.url)


def test_a_file_is_looked_at_first_and_then_taken(shop: Shop) -> None:
    before = shop.stored()
    list_ = "Task;Hours;Subsystem\nKühlerhalter löten;2,5;\n".encode("latin-1")
    status, text, _ = post(shop, list_, press="take")
    assert status == 200
    assert "Kühlerhalter löten" in text
    assert "Take the 1 task" in text
    assert shop.stored().tasks == before.tasks
    found = re.search(r'name="looked" value="([^"]*)"', text)
    assert found
    columns = {"column__0": "name", "column__1": "likely", "column__2": ""}
    status, text, url = post(
        shop, text=list_.decode("latin-1"), looked=found[1], head="on", press="take", **columns
    )
    assert status == 200
    assert "/tasks?since=" in url
    assert get_by_key(shop.stored().tasks, "kuhlerhalter-loten").hours.most_likely == 2.5


@pytest.mark.parametrize(
    ("file", "words"),
    [
        (b"PK\x03\x04\0\0", "The file is no text"),
        (b'Task,Hours\n"Bend,2\n', "never closed"),
        (b"Task,Hours\n" + b"Bend,2\n" * 10_000, "10,001 rows, and 2,000 is the most"),
        (b"x" * 3_000_000, "2 MB is the most"),
        (b"x" * 50_000_000, "larger than 5 MB"),
        (b"\n", "There is no list"),
    ],
)
def test_what_can_not_be_read_is_one_sentence_and_changes_nothing(
    shop: Shop, file: bytes, words: str
) -> None:
    before = shop.stored()
    status, text, _ = post(shop, file, press="take")
    assert status in (413, 422)
    assert words in text
    assert shop.stored().tasks == before.tasks


def test_a_list_as_long_as_a_build_may_hold_is_taken_and_one_longer_is_kept_as_typed(
    shop: Shop,
) -> None:
    room = MOST_TASKS - len(shop.stored().tasks)
    rows = [f"Bend tube {i}\t1\t{f'Bend tube {i - 1}' if i % 3 else ''}" for i in range(room)]
    looked = {"looked": "Task|Hours|After", "head": "on", "press": "take"}
    columns = {"column__0": "name", "column__1": "likely", "column__2": "before"}
    longer = "\n".join(["Task\tHours\tAfter", *rows, "One more\t1\t"])
    status, text, _ = post(shop, text=longer, **looked, **columns)
    assert status == 422
    assert f"it has {MOST_TASKS + 1:,} tasks, and {MOST_TASKS:,} is the most" in text
    assert longer in text.replace("\r\n", "\n")
    data = {name.replace("__", "-"): given for name, given in {**looked, **columns}.items()}
    data["text"] = "\n".join(["Task\tHours\tAfter", *rows])
    begun = time.process_time()
    taken = shop.client.post("/builds/the-heron/list", data=data, follow_redirects=False)
    took_seconds = time.process_time() - begun
    assert taken.status_code == 303
    assert len(shop.stored().tasks) == MOST_TASKS
    assert took_seconds < 6  # 1.5 s of processor; looking at every pair of rows takes 15


def test_thousands_of_faults_are_counted_the_first_of_them_told(shop: Shop) -> None:
    rows = "".join(f"Bend {i}\tx{i}\tnowhere {i}\n" for i in range(1_900))
    status, text, _ = post(shop, ("Task\tHours\tNeeds\n" + rows).encode(), press="look")
    assert status == 422
    assert "3,800 things to mend" in text  # each row has hours and a name that can not be read
    assert "The other 3,770 are told once these are mended." in text
    assert len(text) < 250_000

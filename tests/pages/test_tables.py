"""Tables out and in again: every kind of text, every number, nothing worked out as a formula."""

import csv
import datetime as dt
import html
import io
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.pages.conftest import HERON, NOW, Shop
from webapp.__main__ import main
from webapp.build.build_input import (
    BuildInput,
    Dependency,
    LogEntry,
    Part,
    StationNeed,
    Subsystem,
    Task,
)
from webapp.build.shop import Setup, Station
from webapp.build.shop import Shop as ShopOfBuild
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish, WishDecision, WishPart
from webapp.exchange.build_document import read_document
from webapp.exchange.csv_cells import guarded
from webapp.exchange.tables_out import TABLES_OUT
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.lists.forms import KINDS, kind_called, sent_list, take_list
from webapp.pages.lists.kinds import ListKind

TABLES = {table.name: table for table in TABLES_OUT}
NAMES = (
    "plain",
    "Commas, semicolons; and both;, a",
    "He said \"no\" 'twice' and \\ no more",
    '"quoted from the start" to here',
    "=1+1",
    "'=1",
    "-5 mm shim",
    "+ terminal",
    "@home",
    "emoji 🔧🛠️🇩🇪",
    "Ångström naïve ß",
    "מנוע חדש, ברכב; ישן",
    "محرك جديد",
    "x" * 300,
    "1:30",
    "2,5",
)
NOTES = (
    "two\nlines, and a last\n\nafter a blank one",
    "- a list\n- of two",
    '=HYPERLINK("http://x")',
    'tab\there; there, and "quotes"',
    "\u202eturned\u202c",
)


def rich() -> BuildInput:
    """A build with every kind of text wherever one can stand, and two things of one name."""
    tasks = tuple(
        Task(
            key=f"t{i}",
            name=name,
            hours=ThreePoint(optimistic=1, most_likely=2.25 + i, pessimistic=7.1 + 2 * i),
            subsystem=("air", "water; hot")[i % 2],
            setup="tig" if i % 3 == 0 else None,
            stations=(StationNeed(station="lift", count=1 + i % 2),) if i % 4 == 0 else (),
            people=i % 3 + 1,
            helper=i % 5 == 1,
            in_one_go=i % 7 == 2,
            outside_days=1.5 if i == 3 else None,
            space_litres=40.0 if i == 4 else 0.0,
            caution=NOTES[i % len(NOTES)],
            notes=NOTES[(i + 1) % len(NOTES)],
        )
        for i, name in enumerate((*NAMES, "twice", "Twice"))
    )
    links = tuple(
        Dependency(before=f"t{i}", after=f"t{j}", wait_hours=wait)
        for i, j, wait in ((0, 3, 0), (1, 3, 24), (2, 3, 0.5), (1, 4, 12), (2, 4, 12), (16, 5, 0))
    )
    parts = tuple(
        Part(
            key=f"p{i}",
            name=name,
            serves=("t1", "t2") if i % 2 else (),
            supplier=NAMES[-i - 1],
            cost=12.34 + i,
            lead_days=7.5 if i % 3 else None,
            ordered_on=dt.date(2026, 1, 5) if i % 2 else None,
            promised_on=dt.date(2026, 3, 5) if i % 4 == 1 else None,
            arrives_on=dt.date(2026, 2, 1) if i == 3 else None,
            arrived=i == 3,
        )
        for i, name in enumerate(NAMES)
    )
    wishes = tuple(
        Wish(
            key=f"w{i}",
            text=name,
            logged_on=dt.date(2026, 1, 1 + i),
            subsystem="air" if i % 2 else None,
            size="evening" if i % 3 == 0 else None,
            hours=ThreePoint(optimistic=1, most_likely=3, pessimistic=9) if i % 3 else None,
            rough_in_hours=ThreePoint.certain(0.75) if i % 4 == 0 else None,
            later_extra_hours=1.25 if i % 4 == 1 else None,
            setup="tig" if i % 5 == 0 else None,
            after="t1" if i == 2 else None,
            before="t3" if i == 2 else None,
            cost=99.99 if i % 2 else None,
            parts=(
                WishPart(name=name, lead_days=3, cost=4.5),
                WishPart(name="a; b", lead_days=0.5, cost=0),
            )
            if i % 2
            else (),
        )
        for i, name in enumerate(NAMES)
    )
    log = tuple(
        LogEntry(
            task=f"t{i % 4}",
            on=dt.date(2026, 1, 6 + i),
            hours=1.5 + i / 8,
            setup_hours=0.25 * (i % 2),
        )
        for i in range(12)
    )
    shop = ShopOfBuild(
        setups=(Setup(key="tig", name="TIG; welder, out", hours=0.75),),
        stations=(Station(key="lift", name='Lift "A"; left', count=2),),
    )
    subsystems = (
        Subsystem(key="air", name="Air"),
        Subsystem(key="water; hot", name="Water; hot, =1"),
    )
    return BuildInput(
        name="Rich",
        now=NOW,
        first_start=None,
        shop=shop,
        subsystems=subsystems,
        tasks=tasks,
        dependencies=links,
        parts=parts,
        wishes=wishes,
        log=log,
    )


def taken(name: str, text: str, build: BuildInput, **typed: str) -> BuildInput:
    """The build after a list was taken into it, without a fault."""
    form = TypedForm({field: [value] for field, value in typed.items()})
    sent = sent_list(form, text, kind_called(name))
    after = take_list(sent)(form, build).build
    assert [fault.text for fault in form.faults] == []
    return after


def empty_of(build: BuildInput, *fields: str) -> BuildInput:
    return replace(build, **dict.fromkeys(fields, ()))  # type: ignore[arg-type]


def test_tasks_come_back_as_they_went() -> None:
    build = rich()
    after = taken(
        "tasks", TABLES["tasks"].csv(build), empty_of(build, "tasks", "dependencies", "parts")
    )
    assert after.tasks == build.tasks
    assert set(after.dependencies) == set(build.dependencies)
    served = {(part.name, key) for part in build.parts for key in part.serves}
    assert {(part.name, key) for part in after.parts for key in part.serves} == served


def test_parts_come_back_as_they_went() -> None:
    build = rich()
    after = taken("parts", TABLES["parts"].csv(build), empty_of(build, "parts"))
    assert [replace(part, key="") for part in after.parts] == [
        replace(part, key="") for part in build.parts
    ]


def test_parts_that_the_tasks_named_are_filled_in_and_not_made_twice() -> None:
    build = rich()
    bare = empty_of(build, "tasks", "dependencies", "parts")
    with_tasks = taken("tasks", TABLES["tasks"].csv(build), bare)
    after = taken("parts", TABLES["parts"].csv(build), with_tasks)
    by_name = {part.name: part for part in after.parts}
    assert len(by_name) == len(after.parts) == len(build.parts)
    for part in build.parts:
        assert replace(by_name[part.name], key="") == replace(part, key="")


def test_wishes_come_back_as_they_went() -> None:
    build = rich()
    after = taken("wishes", TABLES["wishes"].csv(build), empty_of(build, "wishes"))
    assert [replace(wish, key="") for wish in after.wishes] == [
        replace(wish, key="") for wish in build.wishes
    ]


def test_the_log_comes_back_as_it_went() -> None:
    build = rich()
    after = taken("log", TABLES["log"].csv(build), empty_of(build, "log"), sure="on")
    assert after.log == build.log


TEXT = (
    st.text(
        alphabet=st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp", "Zs")) | st.just(" "),
        min_size=1,
        max_size=40,
    )
    .map(lambda text: " ".join(text.split()))
    .filter(bool)
)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(TEXT, min_size=1, max_size=8), st.text(alphabet="ab,;\"'=\n\t -", max_size=60))
def test_any_names_and_notes_come_back(names: list[str], note: str) -> None:
    note = note.strip()
    tasks = tuple(
        Task(key=f"k{i}", name=name, hours=ThreePoint.certain(1 + i), notes=note)
        for i, name in enumerate(names)
    )
    links = tuple(Dependency(before="k0", after=task.key) for task in tasks[1:])
    build = BuildInput(name="B", now=NOW, first_start=None, tasks=tasks, dependencies=links)
    after = taken("tasks", TABLES["tasks"].csv(build), empty_of(build, "tasks", "dependencies"))
    assert after.tasks == tasks
    assert after.dependencies == links


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_heads_that_go_out_are_known_when_they_come_in(kind: ListKind) -> None:
    table = TABLES[kind.name]
    text = table.csv(rich())
    fields = tuple(kind.columns.said)
    columns = sent_list(TypedForm(), text, kind).columns
    assert columns == (*fields, *[""] * (len(table.head) - len(fields)))


@pytest.mark.parametrize("name", TABLES)
def test_no_cell_that_goes_out_is_worked_out(name: str) -> None:
    for row in csv.reader(io.StringIO(TABLES[name].csv(rich()), newline="")):
        for cell in row:
            assert not re.match(r"[=+\-@\t\r]", cell), cell


def test_a_part_or_a_wish_that_is_there_is_asked_about() -> None:
    build = rich()
    for name in ("parts", "wishes"):
        form = TypedForm()
        take_list(sent_list(form, TABLES[name].csv(build), kind_called(name)))(form, build)
        assert {fault.field for fault in form.faults} >= {"sure", "line-1"}
        assert "already" in form.faults_at("line-1")[0]
        again = taken(name, TABLES[name].csv(build), build, sure="on")
        assert len(getattr(again, name)) == 2 * len(NAMES)


def test_hours_of_a_finished_task_are_asked_about_once() -> None:
    build = rich()
    done = tuple(
        replace(task, begun_on=dt.date(2026, 1, 2), finished_on=dt.date(2026, 1, 3))
        if task.key == "t0"
        else task
        for task in build.tasks
    )
    build = replace(build, tasks=done, log=())
    text = "Task,Day,Hours\nplain,2026-01-02,2\nplain,2026-01-03,1\n"
    form = TypedForm({"sure": ["on"]})
    take_list(sent_list(form, text, kind_called("log")))(form, build)
    assert len(form.faults_at("finished")) == 1
    assert "is finished" in form.faults_at("line-1")[0]
    after = taken("log", text, build, sure="on", finished="stays")
    assert [entry.hours for entry in after.log] == [2, 1]
    assert after.tasks == build.tasks


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("parts", "Name,It is here\nHose,perhaps\n", "“perhaps” is neither yes nor no"),
        ("parts", "Name,Ordered on\nHose,soon\n", "“soon” is no date"),
        ("parts", "Name,Tasks\nHose,Nowhere at all\n", "There is no task “Nowhere at all”"),
        ("log", "Task,Day,Hours\nplain,2027-01-01,2\n", "is still to come"),
        ("log", "Task,Day,Hours\nplain,2026-01-05,\n", "Hours worked"),
        ("log", "Task,Hours\nplain,2\n", "No column is the day. Assign one."),
        ("wishes", "Wish,Subsystem\nA lamp,Lights\n", "There is no subsystem “Lights”"),
        ("wishes", "Wish,Parts,Their costs\nA lamp,bulb; wire,3\n", "1 numbers for 2 parts"),
        ("wishes", "Wish,Logged on\nA lamp,2027-01-01\n", "still to come"),
        ("tasks", "Task,Hours,With the helper\nBend,2,perhaps\n", "neither yes nor no"),
        ("tasks", "Task,Hours,Before,Wait\nBend,2,plain,1; 2\n", "2 numbers for 1 tasks"),
    ],
)
def test_what_can_not_be_read_is_told_and_nothing_is_half_taken(
    name: str, text: str, said: str
) -> None:
    form = TypedForm()
    take_list(sent_list(form, text, kind_called(name)))(form, rich())
    assert any(said in fault.text for fault in form.faults), form.faults


# over HTTP ----------------------------------------------------------------------------------
@pytest.mark.parametrize("name", TABLES)
def test_each_table_is_a_file_that_spreadsheets_read(shop: Shop, name: str) -> None:
    answer = shop.client.get(f"/builds/the-heron/tables/{name}.csv")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    assert f'filename="the-heron-{name}.csv"' in answer.headers["content-disposition"]
    assert answer.content.startswith("\ufeff".encode())
    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"), newline="")))
    assert tuple(rows[0]) == TABLES[name].head
    assert {len(row) for row in rows} == {len(rows[0])}
    assert len(rows) > 5
    assert shop.client.get("/builds/the-heron/tables").text.count(f"tables/{name}.csv") == 1
    assert shop.client.get("/builds/the-heron/tables/nothing.csv").status_code == 404
    assert shop.client.get(f"/builds/no-such/tables/{name}.csv").status_code == 404


@pytest.mark.parametrize(
    ("name", "asked"), [("parts", "sure"), ("wishes", "sure"), ("log", "finished")]
)
def test_a_table_is_looked_at_asked_about_and_taken(shop: Shop, name: str, asked: str) -> None:
    before = shop.stored()
    file = shop.client.get(f"/builds/the-heron/tables/{name}.csv").content
    address = f"/builds/the-heron/list?of={name}"
    shown = shop.client.post(address, files={"file": ("x.csv", file)}, data={"press": "look"})
    assert shown.status_code == 422
    page = html.unescape(shown.text)
    assert f'name="{asked}"' in page
    assert shop.stored() == before
    text = re.search(r'<textarea id="text"[^>]*>\n(.*?)</textarea>', shown.text, re.S)
    looked = re.search(r'name="looked" value="([^"]*)"', page)
    assert text is not None
    assert looked is not None
    fields = {
        "text": html.unescape(text[1]).replace("\n", "\r\n"),  # as a browser sends it
        "looked": looked[1],
        "head": "on",
        "sure": "on",
        "finished": "stays",
        "press": "take",
    }
    fields |= {f"column-{i}": field for i, field in enumerate(kind_called(name).columns.said)}
    # what a wish came after is finished by now, and says so: those two columns are left out
    fields = {field: "" if text in ("after", "before") else text for field, text in fields.items()}
    done = shop.client.post(address, data=fields, files={"file": ("", b"")})
    assert done.status_code == 200, re.findall(r'class="mend">([^<]*)', done.text)[:5]
    assert f"/{name}?since=" in str(done.url)
    after = shop.stored()
    assert len(getattr(after, name)) == 2 * len(getattr(before, name))


# the command --------------------------------------------------------------------------------
def test_the_command_prints_a_table_of_a_document(capsys: pytest.CaptureFixture[str]) -> None:
    build, _ = read_document(HERON.read_bytes(), now=NOW)
    assert build is not None
    assert main(["table", str(HERON), "--of", "parts"]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[0] == ",".join(TABLES["parts"].head)
    assert len(list(csv.reader(io.StringIO(out)))) == 1 + len(build.parts)


def test_the_command_refuses_what_is_no_document(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "x.json").write_text("{}")
    assert main(["table", str(tmp_path / "x.json"), "--of", "tasks"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err


def test_a_decision_goes_out_and_is_not_taken_in() -> None:
    build = rich()
    decided = replace(
        build.wishes[0],
        decision=WishDecision(way="let go", decided_on=dt.date(2026, 2, 1), why="=no, never"),
    )
    text = TABLES["wishes"].csv(replace(build, wishes=(decided,)))
    assert text.rstrip().endswith(f'let go,2026-02-01,"{guarded("=no, never")}"')
    after = taken("wishes", text, empty_of(build, "wishes"))
    assert after.wishes[0].decision is None

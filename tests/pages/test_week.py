"""Week: the sheet of any week, closing it once, the bridge, two weeks compared."""

import datetime as dt
import html
import re
import time
from dataclasses import replace

from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import Task
from webapp.exchange.build_document import read_document, write_document
from webapp.pages.words.earned import FIGURE_WORDS
from webapp.planning.record.calibration import calibration_of
from webapp.storage.database import Database
from webapp.storage.snapshots import save_snapshot, snapshot_headings, snapshots_of

STANDARD_NAMES = (
    *("PV", "EV", "AC", "BAC", "CV", "SV", "CPI", "SPI", "EAC", "EAC (bottom-up)", "VAC"),
    *("TCPI", "ES", "SV(t)", "SPI(t)", "IEAC(t)"),
)


def task_of(shop: Shop, key: str) -> Task:
    return next(task for task in shop.stored().tasks if task.key == key)


def settled(shop: Shop, name: str) -> str:
    """The page once its bridge is worked out."""
    for _ in range(100):
        text = shop.page(name)
        if "being worked out." not in text.split("went-title")[-1]:
            return text
        time.sleep(0.1)
    raise TimeoutError(name)


def keep(shop: Shop, document: str, *, kind: str = "week", label: str = "2026-W05") -> int:
    """Put a snapshot in by hand; its number."""
    with shop.database.writing() as session:
        return save_snapshot(
            session,
            "the-heron",
            kind="week" if kind == "week" else "baseline",
            label=label,
            taken_at=dt.datetime(2026, 2, 1, 20),
            document=document,
            plan="null",
            forecast="null",
        )


def cells(text: str) -> str:
    """The text of a page without its marks, on one line."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text))


# --- the sheet ------------------------------------------------------------------------------


def test_a_week_is_named_with_its_days_and_leads_to_its_neighbours(shop: Shop) -> None:
    text = shop.page("week")
    # 10 February 2026 lies in ISO week 7: Monday 9 to Sunday 15.
    assert "Week 7, 9 to 15 February" in text
    assert "/builds/the-heron/week/2026-W06" in text
    assert "week/2026-W08" not in text
    text = shop.page("week/2026-W06")
    assert "Week 6, 2 to 8 February" in text
    assert "week/2026-W05" in text
    assert "week/2026-W07" in text


def test_hours_promised_worked_and_lost_are_those_of_the_week(shop: Shop) -> None:
    # Tue and Thu 18:30 to 21:30 and Sat 9:00 to 17:00 promise 14 h in week 6; the log has, getting
    # out among it, 3 h on Tuesday 3, 3 h on Thursday 5 and 5.25 h on Saturday 7 February.
    text = cells(shop.page("week/2026-W06"))
    assert "The shop week promised 14 h ; 14 h could be worked, 11 h 15 min were, 2.75 h" in text
    assert "(Sat 2.75 h)" in text


def test_what_was_finished_says_how_far_off_its_estimate_was(shop: Shop) -> None:
    # The housing was expected to take (2 + 4 x 2.5 + 4) / 6 = 2.67 h and took 2.25, and 0.75 h
    # of getting the welder out: 2.25 / 2.667 - 1 = -0.156.
    task = task_of(shop, "meter_weld")
    assert round(task.hours.expected, 2) == 2.67
    text = cells(shop.page("week/2026-W06")).split("Finished this week")[1]
    assert "took 2.2 h of 2.7 h estimated: \N{MINUS SIGN}16 %" in text


def test_wishes_logged_in_the_week_stand_on_its_sheet(shop: Shop) -> None:
    logged = [w for w in shop.stored().wishes if dt.date(2026, 2, 2) <= w.logged_on <= NOW.date()]
    assert logged
    assert all(wish.text in shop.page("week/2026-W06") for wish in logged[:1])


def test_tasks_beyond_the_baseline_are_counted(shop: Shop) -> None:
    shop.post("week")
    assert "Every task stands in the baseline." in shop.page("week")
    shop.post("tasks/new", **{"name-0": "Hang the tray", "likely-0": "1", "needed-0": "on"})
    assert "1 task is not in the baseline." in shop.page("week")


def test_weeks_to_come_and_before_the_build_say_so(shop: Shop) -> None:
    assert "This week has not begun yet." in shop.page("week/2026-W20")
    assert "The build had not begun then." in shop.page("week/2025-W02")


def test_a_week_that_the_calendar_has_not_is_named(shop: Shop) -> None:
    # 2026 has 53 ISO weeks (its 1 January is a Thursday), 2025 has 52.
    assert shop.client.get("/builds/the-heron/week/2026-W53").status_code == 200
    for label in ("2025-W53", "2026-W00", "2026-W54", "week-7", "9999-W01", "2026-7"):
        answer = shop.client.get(f"/builds/the-heron/week/{label}")
        assert answer.status_code == 404, label
        assert label in answer.text


def test_earned_value_stands_by_its_standard_names_each_with_a_sentence(shop: Shop) -> None:
    assert "There is no baseline" in shop.page("week")
    shop.post("week")
    text = shop.page("week").split("Baseline against today")[1]
    for name in STANDARD_NAMES:
        assert f"<dt>{name}</dt>" in text, name
        assert FIGURE_WORDS[name] in text, name


def test_an_empty_build_has_a_week_too(bare: Shop) -> None:
    bare.client.post("/builds/new", data={"name": "Nothing yet"})
    answer = bare.client.get("/builds/nothing-yet/week")
    assert answer.status_code == 200
    assert "There is nothing yet to hold this week against" in answer.text


# --- closing --------------------------------------------------------------------------------


def test_a_week_is_closed_once_and_the_first_close_stays(shop: Shop) -> None:
    status, text = shop.post("close-week?week=2026-W07")
    assert status == 200
    assert "As it was closed today 18:30." in text
    before = shop.stored()
    shop.post("log", task="Radiator lower bracket", on="2026-02-10", hours="1")
    status, text = shop.post("close-week?week=2026-W07")
    assert status == 409
    assert "a week is closed once" in html.unescape(text)
    database = Database.open(shop.data_file)
    with database.reading() as session:
        (kept,) = snapshots_of(session, "the-heron", "week")
    database.close()
    assert kept.label == "2026-W07"
    assert read_document(kept.document, now=NOW) == (before, ())
    assert kept.plan != "null"
    assert '"p80"' in kept.forecast


def test_a_closed_week_is_shown_as_it_was_and_as_it_is(shop: Shop) -> None:
    shop.post("close-week?week=2026-W06")
    shop.post("log", task="Radiator lower bracket", on="2026-02-08", hours="2")
    assert "11 h 15 min were," in cells(shop.page("week/2026-W06"))
    assert "13 h 15 min were," in cells(shop.page("week/2026-W06?today=1"))


def test_only_this_week_and_the_last_one_can_be_closed(shop: Shop) -> None:
    for label in ("2026-W05", "2026-W08"):
        status, text = shop.post(f"close-week?week={label}")
        assert status == 409
        assert "Only this week and the last one can be closed" in text
    assert "Close the week" not in shop.page("week/2026-W05")
    assert "Close the week" in shop.page("week/2026-W06")


def test_a_task_on_the_bench_is_named_beside_the_closing(shop: Shop) -> None:
    shop.post("bench/begin", task="rad_bracket")
    assert "is on the bench: stop it first" in shop.page("week")


def test_a_snapshot_of_another_version_is_kept_and_said_to_be_unreadable(shop: Shop) -> None:
    document = write_document(shop.stored()).replace('"version": 1', '"version": 99')
    assert '"version": 99' in document
    number = keep(shop, document)
    text = shop.page("week/2026-W05")
    assert "was written by another version of the program" in text
    assert "nothing is lost" in text
    assert "Hours" in text
    assert "was written by another version" in shop.page(f"week/compare?from={number}&to=today")
    assert shop.page("week")
    database = Database.open(shop.data_file)
    with database.reading() as session:
        assert snapshots_of(session, "the-heron")[0].document == document
    database.close()


def test_rubbish_in_a_snapshot_breaks_no_page(shop: Shop) -> None:
    number = keep(shop, "not a document")
    keep(shop, "{}", kind="baseline", label="1")
    for name in ("week", "week/2026-W05", f"week/compare?from={number}&to=today", "soundness"):
        assert shop.page(name), name


def test_a_snapshot_with_faults_is_shown_but_nothing_is_replayed_from_it(shop: Shop) -> None:
    build = shop.stored()
    faulty = replace(build, tasks=(replace(build.tasks[0], setup="gone"), *build.tasks[1:]))
    number = keep(shop, write_document(faulty))
    assert "nothing can be replayed from it" in shop.page(f"week/compare?from={number}&to=today")
    assert shop.page("week/2026-W05")


def test_headings_list_the_snapshots_without_what_they_hold(shop: Shop) -> None:
    shop.post("week")
    shop.post("close-week?week=2026-W07")
    database = Database.open(shop.data_file)
    with database.reading() as session:
        headings = snapshot_headings(session, "the-heron")
    database.close()
    assert [(one.kind, one.label) for one in headings] == [("baseline", "1"), ("week", "2026-W07")]


def test_a_close_is_not_held_against_a_baseline_that_was_taken_after_it(shop: Shop) -> None:
    keep(shop, write_document(shop.stored()), label="2026-W05")
    shop.post("week")
    text = shop.page("week/2026-W05")
    assert "As it was closed" in text
    assert "There is no baseline" in text
    assert "There is nothing yet to hold this week against" in text
    # The week that runs has one.
    assert "There is no baseline" not in shop.page("week")


# --- the bridge -----------------------------------------------------------------------------


def test_without_anything_to_hold_it_against_the_week_says_so(shop: Shop) -> None:
    assert "There is nothing yet to hold this week against" in shop.page("week")


def test_the_bridge_names_the_estimate_that_grew(shop: Shop) -> None:
    shop.post("close-week?week=2026-W06")
    assert "stays on" in settled(shop, "week")
    shop.post("log", task="Radiator lower bracket", on="2026-02-10", hours="0:30", left="14")
    text = settled(shop, "week").split("Where the time went")[1].split("Hours</h2>")[0]
    assert re.search(r"First start moved from \d+ \w+ to \d+ \w+: \d+ days for estimates", text)
    assert "Radiator lower bracket" in text
    assert "bridge-pic" in text
    assert "From week 6, closed Tue 10 February to today" in text


def test_where_nothing_moved_since_the_close_the_way_is_told_from_the_baseline(shop: Shop) -> None:
    shop.post("week")
    shop.post("log", task="Radiator lower bracket", on="2026-02-10", hours="0:30", left="14")
    shop.post("close-week?week=2026-W06")
    text = settled(shop, "week").split("Where the time went")[1].split("Hours</h2>")[0]
    assert "Nothing has moved first start since week 6, closed Tue 10 February." in text
    assert "From baseline 1, Tue 10 February to today" in text
    assert "Radiator lower bracket" in text
    alone = shop.page("bridge?from=2&to=today&start=1")
    assert "From baseline 1, Tue 10 February to today" in alone
    assert "Nothing moved it" in shop.page("bridge?from=2&to=today")


def test_two_snapshots_are_compared_and_the_other_way_round(shop: Shop) -> None:
    shop.post("week")
    shop.post("log", task="Radiator lower bracket", on="2026-02-10", hours="0:30", left="14")
    shop.post("close-week?week=2026-W07")
    there, back = (
        settled(shop, "week/compare?from=1&to=2"),
        settled(shop, "week/compare?from=2&to=1"),
    )
    total = re.compile(r"The move of first start</th><td class=\"n\"></td><td class=\"n\">([^<]+)<")
    forth, away = total.findall(there), total.findall(back)
    assert forth[0].startswith("+")
    assert away == [forth[0].replace("+", "\N{MINUS SIGN}")]


def test_comparing_with_what_is_not_there_is_a_sentence(shop: Shop) -> None:
    assert "Nothing is kept yet to compare with" in shop.page("week/compare")
    shop.post("week")
    assert "is not kept here" in shop.page("week/compare?from=77&to=today")
    assert shop.client.get("/builds/the-heron/bridge?from=77&to=today").status_code == 404


def test_the_hours_of_a_running_clock_are_no_lost_shop_time(shop: Shop) -> None:
    shop.post("close-week?week=2026-W06")
    shop.post("bench/begin", task="rad_bracket")
    assert "stays on" in settled(shop, "week")


def test_the_week_is_within_reach_on_every_page(shop: Shop) -> None:
    assert shop.page("bench").count("Week</a>") == 2


# --- record, soundness ----------------------------------------------------------------------


def test_the_record_shows_n_and_each_half_can_be_switched_off(shop: Shop) -> None:
    text = cells(shop.page("record"))
    assert "n = 12 full weeks" in text
    assert "TIG welder" in text
    page = shop.client.get("/builds/the-heron/record").text
    shown = re.search(r'name="shown" value="([^"]*)"', page)
    assert shown is not None
    status, _ = shop.post("record", calibrated="on", shown=html.unescape(shown[1]))
    assert status == 200
    assert (shop.stored().calibrated, shop.stored().attended) == (True, False)
    assert "Switched off" in shop.page("record")


def test_the_record_says_what_it_takes_of_kinds_without_one(shop: Shop) -> None:
    level, kinds = calibration_of(shop.stored())
    text = cells(shop.page("record"))
    line = f"kinds without a record {level.count} tasks \N{MULTIPLICATION SIGN} {level.factor:.2f}"
    assert level.count == sum(kind.count for kind in kinds) > 1
    assert line in text


def test_what_is_weak_in_the_plan_comes_with_a_remedy_and_links(shop: Shop) -> None:
    text = shop.page("soundness")
    assert "Due and not here" in text
    assert "Mark it as arrived" in text
    assert "/builds/the-heron/parts/" in text

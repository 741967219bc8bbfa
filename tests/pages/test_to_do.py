"""The Sunday half hour on Week: each line answered right there, and gone once it is done."""

import datetime as dt
import html
import re
from dataclasses import replace

import pytest

from tests.benchmarks.forms_found import Form, forms_in, forms_of
from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import BuildInput, LogEntry, LookedAt, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.plumbing import NOTHING_PLUMBED
from webapp.build.three_point import ThreePoint
from webapp.pages.addresses import to_do as address_of
from webapp.pages.week.to_do_forms import ANSWERS
from webapp.planning.chances.factors import Attendance
from webapp.planning.record.attendance import attendance_of
from webapp.planning.record.to_do import evenings_without_hours
from webapp.storage.builds import create_build

EVENINGS = ("Thu 27 November 2025", "Thu 11 December 2025", "Thu 8 January", "Thu 29 January")
"""Of The Heron on Tue 10 February: promised 18:30 to 21:30, with work there and nothing logged."""
LAST = "2026-01-29"
UNIONS = "Bulkhead unions for heater and A/C"
"""A part that was promised for Wed 4 February and is not here."""


def names(text: str) -> list[str]:
    """The lines of the list as they stand on a page."""
    found = re.findall(r'<span class="sort">([^<]*)</span> <b>([^<]*)</b>', text)
    return [html.unescape(name) for _, name in found]


def opened(text: str) -> list[str]:
    """The ids of the lines that are open."""
    return re.findall(r'<details class="more line" id="([\w-]+)" open>', text)


def where(about: str, key: str, answer: str, **more: str) -> str:
    """The address a line is answered at, below the build."""
    return address_of("the-heron", about, key, answer, **more).removeprefix("/builds/the-heron/")


def form_of(shop: Shop, about: str, key: str, answer: str) -> Form:
    """A form of the list as it is opened."""
    action = address_of("the-heron", about, key, answer)
    return next(f for f in forms_of(shop.client, "/builds/the-heron/week") if f.action == action)


def sent(shop: Shop, form: Form, **typed: str) -> tuple[int, str]:
    """A form sent with some fields typed over."""
    answer = shop.client.post(
        form.action, data={**form.sent, **{name: [text] for name, text in typed.items()}}
    )
    return answer.status_code, html.unescape(answer.text)


def with_build(shop: Shop, build: BuildInput) -> str:
    """One more build beside The Heron; its slug."""
    with shop.database.writing() as session:
        return create_build(session, build)


# the list -----------------------------------------------------------------------------------
def test_the_list_has_its_order_and_the_first_line_is_open(shop: Shop) -> None:
    text = shop.page("week")
    assert names(text) == [
        *EVENINGS,
        UNIONS,
        "A tap in the heater pipe, to shut the heater off in summer",
        "A gauge for the heat of the exhaust, boss welded into the downpipe",
        "A lamp under the bonnet",
    ]
    assert len(opened(text)) == 1
    assert opened(text)[0].startswith("evening-")
    assert "1 of 8" in text
    assert "8 of 8" in text
    assert text.index('id="to-do"') < text.index("Where the time went") < text.index("Next: Week 8")
    assert text.index("Next: Week 8") < text.index("The close of the week")
    assert text.index("The close of the week") < text.index("The week sheet")


def test_the_list_becomes_empty_and_says_so(shop: Shop) -> None:
    days = " ".join(day.date.isoformat() for day in evenings_without_hours(shop.stored()))
    assert shop.post(where("evening", "", "away"), evenings=days)[0] == 200
    assert shop.post(where("part", "unions", "here"))[0] in (200, 404)
    part = next(part for part in shop.stored().parts if part.name == UNIONS)
    shop.post(where("part", part.key, "here"))
    for wish in shop.stored().wishes:
        if wish.decision is None:
            shop.post(where("wish", wish.key, "later"))
    text = shop.page("week")
    assert names(text) == []
    assert "Nothing is left to do" in text
    assert '<button class="do">Close the week</button>' in text


def test_a_closed_week_keeps_older_evenings_off_the_list(shop: Shop) -> None:
    assert shop.post("close-week?week=2026-W06")[0] == 200
    text = shop.page("week")
    assert not set(EVENINGS) & set(names(text))
    assert UNIONS in names(text)
    # A closed week is shown as it was closed, with its sheet and without a list.
    assert 'id="to-do"' not in shop.page("week/2026-W06")


def test_the_last_week_is_looked_at_as_long_as_it_is_not_closed_and_led_to(shop: Shop) -> None:
    text = shop.page("week")
    assert "Week 6 is not closed yet" in text
    text = shop.page("week/2026-W06")
    assert names(text)[0] == EVENINGS[0]
    assert "Next: Week 7" in text
    status, text = shop.post(where("evening", LAST, "away", label="2026-W06"))
    assert status == 200
    assert "Week 6, 2 to 8 February" in text
    assert EVENINGS[-1] not in names(html.unescape(text))
    assert 'id="to-do"' not in shop.page("week/2026-W05")


# evenings -----------------------------------------------------------------------------------
def test_an_evening_on_which_nobody_was_in_goes_and_attendance_stays(shop: Shop) -> None:
    before = shop.stored()
    status, text = sent(shop, form_of(shop, "evening", LAST, "away"))
    assert status == 200
    assert EVENINGS[-1] not in names(text)
    assert "No date hangs on it." in text
    assert "<button>Undo</button>" in text
    after = shop.stored()
    assert after.looked_at == (LookedAt(on=NOW.date(), evening=dt.date(2026, 1, 29)),)
    assert after.shop == before.shop
    assert attendance_of(after) == attendance_of(before) != Attendance()


def test_the_answer_is_taken_back_from_its_notice(shop: Shop) -> None:
    _, text = sent(shop, form_of(shop, "evening", LAST, "away"))
    undo = next(f for f in forms_in(text) if f.action.endswith("/take-back"))
    status, text = sent(shop, undo)
    assert status == 200
    assert EVENINGS[-1] in names(text)
    assert shop.stored().looked_at == ()


def test_hours_of_an_evening_are_an_entry_of_the_log(shop: Shop) -> None:
    form = form_of(shop, "evening", LAST, "hours")
    (task,) = form.sent["task"]
    status, text = sent(shop, form, hours="2:30", left="4")
    assert status == 200, text
    entry = shop.stored().log[-1]
    assert (entry.on, entry.hours) == (dt.date(2026, 1, 29), 2.5)
    assert get_by_key(shop.stored().tasks, entry.task).name == task
    assert EVENINGS[-1] not in names(text)


def test_hours_written_down_in_the_log_take_the_evening_off_as_well(shop: Shop) -> None:
    shop.post("log", task="Radiator lower bracket", on=LAST, hours="1", sure="on")
    assert EVENINGS[-1] not in names(shop.page("week"))


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        ("", "nothing is typed"),
        ("some", "can not be read"),
        ("0", "No hours"),
        ("25", "and a day has 24"),
        ("9", "when the shop was open for 3 h. Is it right?"),
    ],
)
def test_hours_that_can_not_be_are_refused_in_their_line_and_kept(
    shop: Shop, hours: str, said: str
) -> None:
    status, text = sent(shop, form_of(shop, "evening", LAST, "hours"), hours=hours)
    assert status == 422
    assert said in text
    assert f'name="hours" value="{hours}"' in text
    (line,) = opened(text)
    assert f'id="{line}-hours-hours"' in text
    assert not any(entry.on.isoformat() == LAST for entry in shop.stored().log)


def test_odd_hours_are_taken_once_they_are_said_to_be_right(shop: Shop) -> None:
    status, _ = sent(shop, form_of(shop, "evening", LAST, "hours"), hours="9", sure="on")
    assert status == 200
    assert shop.stored().log[-1].hours == 9


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("2026-02-12", "is still to come"),  # Thursday, the day after tomorrow
        ("2026-02-04", "is no evening without hours"),  # a Wednesday: closed
        ("2026-02-03", "in the time log by now"),  # worked
        ("2025-01-09", "is no evening without hours"),  # before the build
        ("yesterday", "Nothing was stored by this press"),
        ("", "Nothing was stored by this press"),
    ],
)
@pytest.mark.parametrize("answer", ["away", "hours"])
def test_a_typed_address_of_what_is_no_evening_stores_nothing(
    shop: Shop, key: str, said: str, answer: str
) -> None:
    before = shop.stored()
    status, text = shop.post(
        where("evening", key, answer), task="Radiator lower bracket", hours="2"
    )
    assert status == 422
    assert said in html.unescape(text)
    assert shop.stored() == before


@pytest.mark.parametrize(
    ("about", "answer"),
    [("evening", "here"), ("part", "away"), ("", ""), ("moon", "away"), ("wish", "left")],
)
def test_a_line_that_there_is_not_says_so(shop: Shop, about: str, answer: str) -> None:
    before = shop.stored()
    status, text = shop.post(where(about, LAST, answer))
    assert status == 404
    assert "There is no such line" in text
    assert shop.stored() == before


def test_a_reload_of_a_refusal_leads_back_to_the_week(shop: Shop) -> None:
    answer = shop.client.get(f"/builds/the-heron/{where('evening', LAST, 'hours')}")
    assert answer.status_code == 200
    assert "What there is to do" in answer.text


@pytest.mark.parametrize(("about", "answer"), sorted(ANSWERS))
def test_rubbish_in_a_line_gets_an_answer_below_500(shop: Shop, about: str, answer: str) -> None:
    part = next(part for part in shop.stored().parts if part.name == UNIONS)
    before = shop.stored()
    for key, text in ((LAST, "x" * 10_000), (part.key, "9999-12-31"), ("\x00", "-1"), ("", "25")):
        fields = dict.fromkeys(("task", "hours", "left", "on", "evenings", "shown"), text)
        answered = shop.client.post(address_of("the-heron", about, key, answer), data=fields)
        assert answered.status_code < 500, (key, text)
    # what can be answered without a field may have been
    if answer not in ("away", "here", "later", "back", "done"):
        assert shop.stored().log == before.log


# two windows --------------------------------------------------------------------------------
def test_hours_of_an_evening_answered_elsewhere_are_not_logged_twice_and_said_again(
    shop: Shop,
) -> None:
    here, there = (form_of(shop, "evening", LAST, "hours") for _ in range(2))
    assert sent(shop, there, hours="2", left="3")[0] == 200
    before = shop.stored()
    status, text = sent(shop, here, hours="1:30")
    assert status == 422
    assert "Thu 29 January is answered: 2 h on" in text
    assert "You typed 1:30 h on" in text
    assert shop.stored() == before


def test_hours_of_an_evening_that_nobody_was_in_by_now_are_asked_about(shop: Shop) -> None:
    here = form_of(shop, "evening", LAST, "hours")
    sent(shop, form_of(shop, "evening", LAST, "away"))
    before = shop.stored()
    status, text = sent(shop, here, hours="1:30")
    assert status == 422
    assert "it was said meanwhile that nobody was in the shop" in text
    assert "You typed 1:30 h" in text
    assert shop.stored() == before
    # and the other way round: hours that are there are not called away
    shop.post("log", task="Radiator lower bracket", on=LAST, hours="1", sure="on")
    assert shop.post(where("evening", LAST, "away"))[0] == 200  # said already
    sent(shop, form_of(shop, "evening", "2026-01-08", "hours"), hours="1")
    status, text = shop.post(where("evening", "2026-01-08", "away"))
    assert status == 422
    assert "Thu 8 January is answered: 1 h on" in html.unescape(text)


@pytest.mark.parametrize("about", ["evening", "part", "wish"])
def test_the_same_answer_from_two_windows_is_one(shop: Shop, about: str) -> None:
    part = next(part for part in shop.stored().parts if part.name == UNIONS)
    wish = next(wish for wish in shop.stored().wishes if wish.decision is None)
    key, answer = {
        "evening": (LAST, "away"),
        "part": (part.key, "here"),
        "wish": (wish.key, "later"),
    }[about]
    here, there = (form_of(shop, about, key, answer) for _ in range(2))
    assert sent(shop, here)[0] == 200
    before = shop.stored()
    assert sent(shop, there)[0] == 200
    assert shop.stored() == before


def test_a_double_tap_writes_the_hours_down_once(shop: Shop) -> None:
    form = form_of(shop, "evening", LAST, "hours")
    typed = {**form.sent, "hours": ["1"]}
    assert "once" in typed
    before = len(shop.stored().log)
    for _ in range(2):
        answer = shop.client.post(form.action, data=typed, follow_redirects=False)
        assert answer.status_code == 303
    assert len(shop.stored().log) == before + 1


def test_the_day_of_a_part_changed_elsewhere_meanwhile_is_asked_about(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if part.name == UNIONS)
    here, there = (form_of(shop, "part", part.key, "day") for _ in range(2))
    assert sent(shop, there, on="2026-02-20")[0] == 200
    status, text = sent(shop, here, on="2026-02-27")
    assert status == 422
    assert "Fri 20 February" in text
    assert "Fri 27 February" in text


def test_a_part_that_came_elsewhere_takes_no_new_day(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if part.name == UNIONS)
    here = form_of(shop, "part", part.key, "day")
    shop.post("part-here", key=part.key)
    before = shop.stored()
    status, text = sent(shop, here, on="2026-02-27")
    assert status == 422
    assert "is here since Tue 10 February: it was said meanwhile" in text
    assert shop.stored() == before


def test_a_window_that_looks_again_gets_the_list_only_where_it_is_another(shop: Shop) -> None:
    text = shop.page("week")
    again = re.search(r'hx-get="(/builds/the-heron/to-do-lines[^"]*)"', text)
    assert again is not None
    assert shop.client.get(again[1]).status_code == 204
    shop.post("wishes", wish="A step")  # one more line
    answer = shop.client.get(again[1])
    assert answer.status_code == 200
    assert "A step" in answer.text
    shop.post("log", task="Radiator lower bracket", on="2026-02-09", hours="1", sure="on")
    now = re.search(r'hx-get="(/builds/the-heron/to-do-lines[^"]*)"', html.unescape(answer.text))
    assert now is not None
    assert shop.client.get(now[1]).status_code == 204  # changed, and the same lines


# parts, wishes, outside work, what is left --------------------------------------------------
def test_a_part_is_here_or_gets_a_day_that_is_to_come(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if part.name == UNIONS)
    form = form_of(shop, "part", part.key, "day")
    for typed, said in (
        ("2026-02-10", "Tue 10 February is today"),
        (form.sent["on"][0], "has gone by"),
        ("", "no date is given"),
        ("soon", "is no date"),
    ):
        status, text = sent(shop, form, on=typed)
        assert (status, said in text) == (422, True), typed
    assert sent(shop, form, on="2026-02-20")[0] == 200
    assert UNIONS not in names(shop.page("week"))


def test_a_wish_shows_its_price_and_is_asked_about_again_on_a_sunday(shop: Shop) -> None:
    wish = next(wish for wish in shop.stored().wishes if wish.decision is None)
    text = shop.settled("week")
    assert re.search(r'<p class="price">Fit now: [^;]*; rough in: [^;]*; fit later: ', text)
    assert "Ask again on Sun 15 February" in text  # the next one after Tuesday
    status, text = sent(shop, form_of(shop, "wish", wish.key, "later"))
    assert status == 200
    assert wish.text not in names(text)
    assert shop.stored().looked_at == (LookedAt(on=NOW.date(), wish=wish.key),)


def test_a_wish_decided_elsewhere_is_not_put_off(shop: Shop) -> None:
    wish = next(wish for wish in shop.stored().wishes if wish.decision is None)
    shop.settled("wishes")
    deciding = next(
        form
        for form in forms_of(shop.client, "/builds/the-heron/wishes")
        if "decide" in form.action and wish.key in form.action and ("way", "let go") in form.fields
    )
    assert shop.client.post(deciding.action, data=deciding.sent).status_code == 200
    assert wish.text not in names(shop.page("week"))
    status, text = shop.post(where("wish", wish.key, "later"))
    assert status == 422
    assert "let go" in text


def test_a_wish_that_goes_takes_its_putting_off_along(shop: Shop) -> None:
    wish = next(wish for wish in shop.stored().wishes if wish.decision is None)
    shop.post(where("wish", wish.key, "later"))
    assert len(shop.stored().looked_at) == 1
    shop.removed(f"remove-wish?key={wish.key}")
    assert shop.stored().looked_at == ()


def late_build(shop: Shop) -> str:
    """A build with work sent out that is due, and a task that outran its estimate."""
    heron = shop.stored()
    ways = ThreePoint(optimistic=2, most_likely=3, pessimistic=4)
    sent_out = Task(
        key="plate",
        name="Plate the fittings",
        hours=ThreePoint.certain(0),
        outside_days=5,
        begun_on=dt.date(2026, 2, 2),
    )
    loom = Task(key="loom", name="Make the loom", hours=ways, begun_on=dt.date(2026, 2, 9))
    start = Task(key="start", name="First start", hours=ThreePoint.certain(1))
    return with_build(
        shop,
        replace(
            heron,
            name="The Crane",
            starts_on=dt.date(2026, 2, 9),
            first_start="start",
            tasks=(sent_out, loom, start),
            dependencies=(),
            parts=(),
            plumbing=NOTHING_PLUMBED,
            wishes=(),
            kept_order=(),
            shop=replace(heron.shop, setups_out=()),
            log=(LogEntry(task="loom", on=dt.date(2026, 2, 10), hours=3),),
        ),
    )


def crane(
    shop: Shop, slug: str, about: str, key: str, answer: str, **typed: str
) -> tuple[int, str]:
    """A line of the Crane answered in its form."""
    action = address_of(slug, about, key, answer)
    form = next(f for f in forms_of(shop.client, f"/builds/{slug}/week") if f.action == action)
    return sent(shop, form, **typed)


def test_outside_work_that_is_due_is_back_or_comes_on_another_day(shop: Shop) -> None:
    slug = late_build(shop)
    text = html.unescape(shop.client.get(f"/builds/{slug}/week").text)
    # Sent out on Mon 2 February for 5 days: due on Sat 7 February. 3 h of (2 + 4 x 3 + 4) / 6 = 3.
    assert names(text) == ["Plate the fittings", "Make the loom"]
    assert "It should have come back on Sat 7 February" in text
    assert "3 h are worked on it, and 3 h were expected in all" in text
    assert crane(shop, slug, "outside", "plate", "day", on="2026-02-07")[0] == 422
    status, text = crane(shop, slug, "outside", "plate", "day", on="2026-02-12")
    assert (status, names(text)) == (200, ["Make the loom"])
    # from Mon 2 to Thu 12 February
    assert get_by_key(shop.stored(slug).tasks, "plate").outside_days == 10


def test_outside_work_that_is_back_is_finished(shop: Shop) -> None:
    slug = late_build(shop)
    assert crane(shop, slug, "outside", "plate", "back")[0] == 200
    assert get_by_key(shop.stored(slug).tasks, "plate").finished_on == NOW


def test_what_is_left_of_a_task_is_stored_and_asked_no_more(shop: Shop) -> None:
    slug = late_build(shop)
    for typed, said in (
        ("", "nothing is typed"),
        ("0", "it is finished: say so below"),
        ("40", "is far more than the 4 h"),
        ("20000", "is too much"),
    ):
        status, text = crane(shop, slug, "outrun", "loom", "left", left=typed)
        assert (status, said in text) == (422, True), typed
    assert crane(shop, slug, "outrun", "loom", "left", left="1:30")[0] == 200
    assert get_by_key(shop.stored(slug).tasks, "loom").hours_left == 1.5
    assert names(html.unescape(shop.client.get(f"/builds/{slug}/week").text)) == [
        "Plate the fittings"
    ]


def test_a_quarter_of_an_hour_left_is_an_answer_as_well(shop: Shop) -> None:
    slug = late_build(shop)
    status, text = crane(shop, slug, "outrun", "loom", "left", left="0:15")
    assert (status, names(text)) == (200, ["Plate the fittings"])


def test_hours_left_of_a_task_finished_elsewhere_are_said_again(shop: Shop) -> None:
    slug = late_build(shop)
    action = address_of(slug, "outrun", "loom", "left")
    form = next(f for f in forms_of(shop.client, f"/builds/{slug}/week") if f.action == action)
    assert crane(shop, slug, "outrun", "loom", "done")[0] == 200
    assert get_by_key(shop.stored(slug).tasks, "loom").finished_on == NOW
    status, text = sent(shop, form, left="2")
    assert status == 422
    assert "“Make the loom” is finished by now. The 2 h you typed were not stored." in text


# next week ----------------------------------------------------------------------------------
def test_the_sessions_of_next_week_hold_what_order_says_of_it(shop: Shop) -> None:
    text = shop.page("week").split("Next: Week 8, 16 to 22 February")[1].split("</section>")[0]
    said = re.search(r'<span class="aside">([\d.]+) h of work', text)
    order = shop.page("order")
    of_week = order.split("Week 8, 16 to 22 February")[1][:300]
    assert said is not None
    assert f"{said[1]} h of work" in of_week
    shares = re.findall(r">([^<>]+)</a>, ([\d.]+) h", text)
    assert len(re.findall(r"<li>", text)) == 4  # Tue, Wed, Thu, Sat
    # each share is told to a tenth of an hour
    in_all = sum(float(hours) for _, hours in shares)
    assert abs(in_all - float(said[1])) <= 0.05 * len(shares) + 0.05
    of_order = order.split("Week 8, 16 to 22 February")[1].split("Week 9,")[0]
    assert all(name in of_order for name, _ in shares)


def test_a_build_with_faults_has_its_list_and_no_sessions(shop: Shop) -> None:
    build = shop.stored()
    broken = replace(get_by_key(build.tasks, "rad_bracket"), setup=None, people=30)
    slug = with_build(
        shop, replace(build, name="Crane", tasks=replaced_by_key(build.tasks, broken))
    )
    answer = shop.client.get(f"/builds/{slug}/week")
    assert answer.status_code == 200
    assert "Nothing is planned while the build has faults." in answer.text


def test_hours_of_an_evening_on_work_that_was_finished_later_leave_it_finished(shop: Shop) -> None:
    form = form_of(shop, "evening", "2025-11-27", "hours")
    build = shop.stored()
    (name,) = form.sent["task"]
    task = next(task for task in build.tasks if task.name == name)
    assert task.finished_on is not None  # it was finished since
    assert sent(shop, form, hours="1")[0] == 200
    assert get_by_key(shop.stored().tasks, task.key).finished_on == task.finished_on

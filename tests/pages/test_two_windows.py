"""Two windows on one build: nobody's change is overwritten unseen, and no list is cut short."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.benchmarks.forms_found import Form, forms_found, forms_in, forms_of
from tests.pages.conftest import NOW, Shop
from tests.pages.test_bad_requests import plain_routes
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part, Subsystem, Task
from webapp.build.by_key import get_by_key
from webapp.build.three_point import ThreePoint
from webapp.build.wish import WishPart
from webapp.pages import routers
from webapp.storage.builds import create_build

MANY = 250
BLANK = ("/shop/day", "/parts/new", "/new-on-shelf", "/new-port")
NEW_WITHOUT_KEY = ("/wire", "/belt")


def opened(shop: Shop, address: str, action: str = "") -> Form:
    """A form of a page of The Heron as it is opened: the one that posts to `action`."""
    address = f"/builds/the-heron/{address}"
    wanted = f"/builds/the-heron/{action}" if action else address
    return saving(forms_of(shop.client, address), wanted)


def saving(forms: list[Form], action: str) -> Form:
    """The form that posts to `action`, its button for saving pressed."""
    return next(
        form
        for form in forms
        if form.action == action and not any(name == "more" for name, _ in form.fields)
    )


def saved(shop: Shop, form: Form, **typed: str) -> tuple[int, str]:
    """The form sent with some fields typed over, "__" for the dash before a row."""
    changes = {name.replace("__", "-"): [text] for name, text in typed.items()}
    answer = shop.client.post(form.action, data={**form.sent, **changes})
    return answer.status_code, answer.text


def replaced(shop: Shop, build: BuildInput) -> str:
    """Store one more build beside The Heron; its slug."""
    with shop.database.writing() as session:
        return create_build(session, build)


# a stale form -------------------------------------------------------------------------------
def test_an_old_page_of_a_task_does_not_undo_what_the_bench_did(shop: Shop) -> None:
    old_page = opened(shop, "tasks/rad_bracket")
    shop.post("bench/begin", task="rad_bracket")
    shop.post(
        "bench/stop",
        task="rad_bracket",
        worked="2",
        outcome="finished",
        sure="on",
        confirmed="finished",
    )
    status, _ = saved(shop, old_page, name="Radiator bracket, lower")
    assert status == 200
    task = get_by_key(shop.stored().tasks, "rad_bracket")
    assert task.name == "Radiator bracket, lower"
    assert task.finished_on == NOW
    assert task.hours_left is None
    assert LogEntry(task="rad_bracket", on=NOW.date(), hours=2, left=0) in shop.stored().log


def test_a_field_changed_in_both_windows_is_asked_about_and_written_when_saved_again(
    shop: Shop,
) -> None:
    here, there = opened(shop, "tasks/rad_bracket"), opened(shop, "tasks/rad_bracket")
    assert saved(shop, there, notes="6 mm plate", likely="5")[0] == 200
    status, text = saved(shop, here, notes="8 mm plate", caution="Sharp edges.")
    assert status == 422
    assert "it says “6 mm plate” now, and you typed “8 mm plate”" in text
    assert "8 mm plate</textarea>" in text
    task = get_by_key(shop.stored().tasks, "rad_bracket")
    assert (task.notes, task.hours.most_likely) == ("6 mm plate", 5)
    again = saving(forms_in(text), here.action)
    assert saved(shop, again)[0] == 200
    task = get_by_key(shop.stored().tasks, "rad_bracket")
    assert (task.notes, task.caution) == ("8 mm plate", "Sharp edges.")
    assert task.hours.most_likely == 5


def test_a_form_that_was_cut_off_empties_nothing(shop: Shop) -> None:
    page = opened(shop, "tasks/rad_bracket")
    assert saved(shop, page, notes="6 mm plate", caution="Sharp edges.")[0] == 200
    sent = opened(shop, "tasks/rad_bracket").sent
    lost = {name: text for name, text in sent.items() if name not in ("notes", "caution")}
    assert shop.post("tasks/rad_bracket", **lost | {"name": "Bracket"})[0] == 200  # type: ignore[arg-type]
    task = get_by_key(shop.stored().tasks, "rad_bracket")
    assert (task.name, task.notes, task.caution) == ("Bracket", "6 mm plate", "Sharp edges.")


def test_two_windows_that_link_different_tasks_both_succeed(shop: Shop) -> None:
    here, there = opened(shop, "tasks/rad_bracket"), opened(shop, "tasks/rad_bracket")
    tasks = shop.stored().tasks
    first = sum(link.after == "rad_bracket" for link in shop.stored().dependencies)
    free = [t for t in tasks if t.is_open and t.outside_days is not None]
    row = f"before__{first}"
    names = [t.name for t in tasks if t.finished_on is not None][:2]
    assert len(names) == 2, free
    for form, name in ((here, names[0]), (there, names[1])):
        status, text = saved(shop, form, **{row: name})
        assert status == 200, text
    keys = {link.before for link in shop.stored().dependencies if link.after == "rad_bracket"}
    assert {task.key for task in tasks if task.name in names} <= keys


def test_a_part_that_came_meanwhile_stays_here_when_an_old_page_is_saved(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if not part.arrived)
    old_page = opened(shop, f"parts/{part.key}")
    shop.post("part-here", key=part.key)
    assert saved(shop, old_page, supplier="Hobbs")[0] == 200
    stored = get_by_key(shop.stored().parts, part.key)
    assert (stored.arrived, stored.supplier) == (True, "Hobbs")


def test_hours_left_typed_for_a_task_finished_elsewhere_are_refused_with_the_day(
    shop: Shop,
) -> None:
    old_page = opened(shop, "tasks/rad_bracket")
    assert (
        saved(
            shop,
            opened(shop, "tasks/rad_bracket"),
            finished_on="2026-02-09",
            hours_left="",
            sure="on",
        )[0]
        == 200
    )
    status, text = saved(shop, old_page, hours_left="2")
    assert status == 422
    assert "is finished since Mon 9 Feb, so no hours are left of it" in text
    assert "Save again" not in text
    status, text = saved(shop, opened(shop, "tasks/rad_bracket"), hours_left="2")  # a fresh one
    assert status == 422
    assert "empty “Finished on”" in text
    assert get_by_key(shop.stored().tasks, "rad_bracket").hours_left is None


def test_a_part_that_came_elsewhere_gets_no_day_to_come(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if not part.arrived)
    old_page = opened(shop, f"parts/{part.key}")
    shop.post("part-here", key=part.key)
    stored = get_by_key(shop.stored().parts, part.key)
    assert (stored.arrived, stored.arrives_on) == (True, NOW.date())
    status, text = saved(shop, old_page, arrives_on="2026-03-02")
    assert status == 422
    assert "is here, and Mon 2 March is still to come" in text
    assert get_by_key(shop.stored().parts, part.key) == stored


def test_a_wish_decided_elsewhere_says_since_when_and_leads_to_its_card(shop: Shop) -> None:
    decided = next(wish for wish in shop.stored().wishes if wish.decision is not None)
    status, text = shop.post(f"wishes/{decided.key}", likely="3")
    assert status == 422
    assert "is decided since" in text
    assert "“Take the decision back” on its card" in text
    assert 'href="/builds/the-heron/wishes#' in text
    assert 'value="3"' in text


def test_a_wish_sized_in_one_window_keeps_its_place_typed_in_the_other(shop: Shop) -> None:
    shop.post("wishes", wish="A step")
    here, there = opened(shop, "wishes/a-step"), opened(shop, "wishes/a-step")
    assert saved(shop, there, likely="3")[0] == 200
    assert saved(shop, here, later_extra="2")[0] == 200
    wish = get_by_key(shop.stored().wishes, "a-step")
    assert wish.hours == ThreePoint.certain(3)
    assert wish.later_extra_hours == 2


def test_an_entry_of_the_log_that_was_corrected_elsewhere_is_not_written_over(shop: Shop) -> None:
    shop.post("log", task="Radiator lower bracket", on="2026-02-09", hours="1", sure="on")
    page = shop.page("log?all=1")
    place = len(shop.stored().log) - 1
    address = page[page.index("/builds/the-heron/log-entry") :].split('"')[0]
    old_page = opened(shop, address.removeprefix("/builds/the-heron/"))
    assert saved(shop, old_page, hours="2", sure="on")[0] == 200
    status, text = saved(shop, old_page, hours="3", sure="on")
    assert status == 422
    assert "it says “2:00” now, and you typed “3”" in text
    assert shop.stored().log[place].hours == 2
    found = (form for form in forms_in(text) if "log-entry" in form.action)
    again = next(form for form in found if "remove" not in form.action)
    assert saved(shop, again, sure="on")[0] == 200
    assert shop.stored().log[place].hours == 3


def test_an_entry_that_was_taken_out_elsewhere_is_not_lost_with_what_was_typed(
    shop: Shop,
) -> None:
    shop.post("log", task="Radiator lower bracket", on="2026-02-09", hours="1", sure="on")
    page = shop.page("log?all=1")
    address = page[page.index("/builds/the-heron/log-entry") :].split('"')[0]
    old_page = opened(shop, address.removeprefix("/builds/the-heron/"))
    shop.post(address.removeprefix("/builds/the-heron/").replace("log-entry", "remove-log-entry"))
    before = shop.stored().log
    status, text = saved(shop, old_page, hours="3")
    assert status == 409
    assert "was taken out elsewhere meanwhile" in text
    assert 'value="3"' in text
    assert shop.stored().log == before


def test_a_stop_that_comes_too_late_says_what_was_typed(shop: Shop) -> None:
    shop.post("bench/begin", task="rad_bracket")
    late = next(
        form
        for form in forms_of(shop.client, "/builds/the-heron/bench?stop=1")
        if form.action.endswith("/bench/stop")
    )
    shop.post("bench/stop", task="rad_bracket", worked="1", left="1", sure="on")
    before = shop.stored().log
    status, text = saved(shop, late, worked="1:30", left="2")
    assert status == 409
    assert "The 1:30 hours that you typed were not logged once more" in text
    shop.post("bench/begin", task="rad_bracket")  # in the same minute
    status, text = saved(shop, late, worked="1:30", left="2")
    assert status == 422  # asked, and what was typed stands there
    assert "stopped and begun again elsewhere meanwhile" in text
    assert 'value="1:30"' in text
    assert shop.stored().log == before


def test_likely_hours_alone_stay_alone_and_can_be_changed(shop: Shop) -> None:
    shop.post("wishes", wish="A step")
    assert saved(shop, opened(shop, "wishes/a-step"), likely="3")[0] == 200
    form = opened(shop, "wishes/a-step")
    assert (form.sent["well"], form.sent["fights"]) == ([""], [""])
    assert saved(shop, form, likely="5")[0] == 200
    assert get_by_key(shop.stored().wishes, "a-step").hours == ThreePoint.certain(5)


def test_the_shop_week_and_setups_of_two_windows_come_together(shop: Shop) -> None:
    here, there = (opened(shop, "shop/setups", "shop/setups") for _ in range(2))
    new = len(shop.stored().shop.setups)
    assert saved(shop, here, **{f"name__{new}": "Lathe", f"hours__{new}": "1"})[0] == 200
    assert saved(shop, there, **{f"name__{new}": "Press", f"hours__{new}": "2"})[0] == 200
    assert [s.name for s in shop.stored().shop.setups][new:] == ["Lathe", "Press"]
    here, there = (opened(shop, "shop", "shop/week") for _ in range(2))
    assert saved(shop, here, opens__0__1="9", closes__0__1="10")[0] == 200
    assert saved(shop, there, opens__2__1="9", closes__2__1="11")[0] == 200
    week = {(s.weekday, s.hours.closes_minute) for s in shop.stored().shop.week}
    assert {(0, 600), (2, 660)} <= week


def test_saving_the_subsystems_adds_none_from_the_rows_left_blank(shop: Shop) -> None:
    before = shop.stored().subsystems
    assert (
        saved(shop, opened(shop, "shop/subsystems", "shop/subsystems"), name__0="Mounts")[0] == 200
    )
    after = shop.stored().subsystems
    assert [each.name for each in after] == ["Mounts", *(each.name for each in before[1:])]


def test_a_subsystem_typed_into_a_blank_row_is_entered_without_a_question(shop: Shop) -> None:
    new = len(shop.stored().subsystems)
    form = opened(shop, "shop/subsystems", "shop/subsystems")
    status, text = saved(shop, form, **{f"name__{new}": "Clutch", f"medium__{new}": "oil"})
    assert status == 200, text
    added = shop.stored().subsystems[new:]
    assert [(each.name, each.medium) for each in added] == [("Clutch", "oil")]


def test_a_closing_time_changed_in_both_windows_is_asked_about_and_saved_again(shop: Shop) -> None:
    here, there = (opened(shop, "shop", "shop/week") for _ in range(2))
    assert saved(shop, there, closes__1__0="21:00")[0] == 200
    status, text = saved(shop, here, closes__1__0="22:00")
    assert status == 422
    assert "it says “21:00” now, and you typed “22:00”" in text
    assert saved(shop, saving(forms_in(text), here.action))[0] == 200
    tuesday = [each.hours for each in shop.stored().shop.week if each.weekday == 1]
    assert [each.closes_minute for each in tuesday] == [22 * 60]


def test_the_price_of_a_part_of_a_wish_changed_in_both_windows_is_asked_about(shop: Shop) -> None:
    wish = next(each for each in shop.stored().wishes if each.decision is None and each.parts)
    here, there = opened(shop, f"wishes/{wish.key}"), opened(shop, f"wishes/{wish.key}")
    assert saved(shop, there, part_cost__0="91")[0] == 200
    status, text = saved(shop, here, part_cost__0="92")
    assert status == 422
    assert "it says “91” now, and you typed “92”" in text
    assert saved(shop, saving(forms_in(text), here.action))[0] == 200
    parts = get_by_key(shop.stored().wishes, wish.key).parts
    assert [each.cost for each in parts] == [92, *(each.cost for each in wish.parts[1:])]


# long lists ---------------------------------------------------------------------------------
def big_build() -> BuildInput:
    """250 tasks before one, a part that serves them all, a wish with 60 parts; odd numbers."""
    tasks = tuple(
        Task(key=f"t{i}", name=f"Task {i}", hours=ThreePoint.certain(1 / 3)) for i in range(MANY)
    )
    start = Task(key="start", name="First  start", hours=ThreePoint.certain(0), notes=" a\n\n b ")
    wish = next(wish for wish in RICH_BUILD.wishes if wish.decision is None)
    return BuildInput(
        name="The Crane",
        now=NOW,
        first_start="start",
        confidence=2 / 3,
        shop=replace(RICH_BUILD.shop, setups_out=()),
        subsystems=(
            Subsystem(key="a", name="A", order=-1_000_000),
            Subsystem(key="b", name="B", order=1_000_000),
        ),
        tasks=(*tasks, start),
        dependencies=tuple(
            Dependency(before=task.key, after="start", wait_hours=i / 7, why=f"why {i}")
            for i, task in enumerate(tasks)
        ),
        parts=(
            Part(
                key="bolts",
                name="Bolts",
                serves=tuple(task.key for task in tasks),
                arrives_on=dt.datetime(2026, 3, 1, 12, 30),
                lead_days=1 / 3,
                cost=1e-7,
            ),
        ),
        wishes=(
            replace(
                wish,
                key="lamp",
                text="A lamp",
                subsystem=None,
                after=None,
                before=None,
                setup=None,
                size=None,
                parts=tuple(WishPart(name=f"P{i}", lead_days=i / 3, cost=i / 3) for i in range(60)),
            ),
        ),
    )


@pytest.mark.parametrize(
    ("address", "typed"),
    [
        ("tasks/start", {"caution": "Stand clear."}),
        ("parts/bolts", {"supplier": "Hobbs"}),
        ("wishes/lamp", {"cost": "5"}),
    ],
)
def test_no_row_is_lost_when_a_long_form_is_saved(
    shop: Shop, address: str, typed: dict[str, str]
) -> None:
    slug = replaced(shop, big_build())
    before = shop.stored(slug)
    address = f"/builds/{slug}/{address}"
    form = saving(forms_of(shop.client, address), address)
    assert saved(shop, form)[0] == 200
    assert shop.stored(slug) == before
    status, text = saved(shop, form, **typed)
    assert status == 200, text[text.index("things to mend") - 200 :][:900]
    after = shop.stored(slug)
    assert after != before
    assert after.dependencies == before.dependencies
    assert [part.serves for part in after.parts] == [part.serves for part in before.parts]
    assert after.wishes[0].parts == before.wishes[0].parts


def is_blank(form: Form) -> bool:
    """Whether a form shows nothing that is stored."""
    without_key = form.action.endswith(NEW_WITHOUT_KEY)
    return form.action.partition("?")[0].endswith(BLANK) or without_key or ("of", "") in form.fields


# every form ---------------------------------------------------------------------------------
@pytest.mark.parametrize("build", [RICH_BUILD, big_build()], ids=["rich", "big"])
def test_every_form_that_shows_something_stored_changes_nothing_when_sent_unchanged(
    shop: Shop, build: BuildInput
) -> None:
    slug = replaced(shop, build)
    its = f"/builds/{slug}/"
    found = [
        form
        for form in forms_found(
            shop.client, plain_routes(routers()), [f"{its}shop"], within=(its,), of_a_kind=2
        )
        if form.action.startswith(its)
        and any(name == "shown" for name, _ in form.fields)
        and not any(name == "more" for name, _ in form.fields)
        and "/remove-" not in form.action
    ]
    kinds = {form.action.removeprefix(its).split("/")[0] for form in found}
    assert kinds >= {"tasks", "parts", "shop", "wanted-by", "wish-sizes", "record"}
    before = shop.stored(slug)
    for form in found:
        if is_blank(form):
            continue  # it asks for what is to be entered
        answer = shop.client.post(form.action, data=form.sent, follow_redirects=False)
        assert answer.status_code == 303, (form.action, answer.text[-3000:])
        assert shop.stored(slug) == before, form.action

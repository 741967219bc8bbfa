"""Wishes: logged in a line, priced four ways in the background, decided on what was shown."""

import html
import re
import threading
import time
from dataclasses import replace

import pytest

from tests.benchmarks.forms_found import forms_in
from tests.pages.conftest import NOW, Shop
from tests.pages.form_build import small_build
from tests.pages.test_two_windows import opened, saved, saving
from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_decisions import accept
from webapp.build.wish import Wish, WishDecision
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame import context
from webapp.pages.wishes.attachment import attachment_faults
from webapp.pages.wishes.forms import (
    Logged,
    edit_headroom,
    edit_sizes,
    log_wish,
    size_wish,
    sizes_shown,
)
from webapp.pages.wishes.headroom_view import accepted_hours
from webapp.pages.wishes.prices import digest_of, worked_out
from webapp.pages.wishes.views import UNDECIDED_SHOWN, range_words
from webapp.planning.bridge.wish_took import real_days
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.wish_prices import price_wish
from webapp.services.just_logged import JustLogged
from webapp.services.planned_build import PlannedBuild

LAMP = "a-lamp-behind-the-seat"
BUILD = small_build()


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """The Heron with one more wish, of which nothing but its line is known.

    The page that the browser would go on to is not asked for: it begins to price every wish.
    """
    fields = {"wish": "A lamp behind the seat"}
    answer = shop.client.post("/builds/the-heron/wishes", data=fields, follow_redirects=False)
    assert answer.status_code == 303
    return shop


def typed(**fields: str) -> TypedForm:
    return TypedForm({name.replace("__", "-"): [text] for name, text in fields.items()})


def a_wish(**of: object) -> Wish:
    wish = Wish(key="lamp", text="A lamp", logged_on=BUILD.now.date())
    return replace(wish, **of)  # type: ignore[arg-type]


def with_wishes(*wishes: Wish) -> BuildInput:
    return replace(BUILD, wishes=wishes)


def logged(build: BuildInput, text: str, lately: JustLogged | None = None) -> Edited[Logged]:
    return log_wish(lately or JustLogged(), "the-heron")(typed(wish=text), build)


def faults(form: TypedForm) -> dict[str, str]:
    return {fault.field: fault.text for fault in form.faults}


# logging ------------------------------------------------------------------------------------
def test_one_line_is_all_a_wish_needs() -> None:
    edited = logged(BUILD, "  Second   battery ")
    assert edited.made == Logged(key="second-battery")
    assert edited.build.wishes == (
        Wish(key="second-battery", text="Second battery", logged_on=BUILD.now.date()),
    )


def test_a_wish_gets_a_key_unlike_those_of_the_tasks() -> None:
    assert logged(BUILD, "Bracket").made.key == "bracket-2"  # "bracket" is a task


def test_the_same_words_within_a_minute_are_the_same_wish() -> None:
    """At 0 s, at 60 s (a minute, still the same) and at 60.5 s after that."""
    seconds = [0.0]
    lately = JustLogged(clock=lambda: seconds[0])
    first = logged(BUILD, "A horn", lately)
    seconds[0] = 60.0
    again = logged(first.build, " A  horn", lately)
    assert again.made == Logged(key="a-horn", again=True)
    assert again.build == first.build
    assert not logged(first.build, "A louder horn", lately).made.again
    seconds[0] = 60.5
    assert logged(first.build, "A horn", lately).made == Logged(key="a-horn-2")


def test_a_wish_that_was_removed_within_the_minute_can_be_logged_anew() -> None:
    lately = JustLogged()
    logged(BUILD, "A horn", lately)
    assert logged(BUILD, "A horn", lately).made == Logged(key="a-horn")


def test_what_a_browser_kept_while_nobody_answered_is_taken_once_however_late() -> None:
    """It was stored, its answer was lost, and the program was started anew meanwhile."""
    stored = logged(BUILD, "A horn").build
    late = log_wish(JustLogged(), "the-heron")(typed(wish="A horn", kept="1"), stored)
    assert late.made == Logged(key="a-horn", again=True)
    assert late.build == stored


def test_the_same_wish_posted_twice_stands_once_and_both_pages_say_so(shop: Shop) -> None:
    shop.post("bench/wish", wish="A loud horn")
    _, text = shop.post("bench/wish", wish="A loud horn")
    assert "“A loud horn” was logged a moment ago already: it stands once." in text
    _, text = shop.post("wishes", wish="A loud horn")
    assert "“A loud horn” was logged a moment ago already: it stands once." in text
    assert [wish.text for wish in shop.stored().wishes].count("A loud horn") == 1


def test_logging_on_the_bench_says_so_and_leads_to_the_price(shop: Shop) -> None:
    status, text = shop.post("bench/wish", wish="A <b>loud</b> horn")
    assert status == 200
    assert "Logged: A &lt;b&gt;loud&lt;/b&gt; horn." in text
    assert 'href="/builds/the-heron/wishes#wish-a-b-loud-b-horn"' in text
    assert shop.stored().wishes[-1].logged_on == NOW.date()


def test_an_empty_wish_is_answered_beside_its_line(shop: Shop) -> None:
    before = len(shop.stored().wishes)
    for address in ("bench/wish", "wishes"):
        status, text = shop.post(address, wish="  ")
        assert status == 422
        assert "The wish is missing. Type it in." in text
    assert len(shop.stored().wishes) == before


# sizing -------------------------------------------------------------------------------------
def test_a_wish_is_sized_by_hours_place_and_parts() -> None:
    form = typed(
        text="A lamp", size="evening", well="1", likely="2:30", fights="4", subsystem="air",
        after="Make the bracket", before="First start", setup="tig", rough_likely="0,5",
        later_extra="1.5", part__0="Lamp", part_days__0="9", part_cost__0="35", cost="12",
    )  # fmt: skip
    after = size_wish(a_wish().key)(form, with_wishes(a_wish())).build
    assert not form.faults
    wish = after.wishes[0]
    assert wish.hours == ThreePoint(optimistic=1, most_likely=2.5, pessimistic=4)
    assert wish.rough_in_hours == ThreePoint.certain(0.5)
    assert (wish.after, wish.before, wish.setup, wish.later_extra_hours) == (
        *("bracket", "start", "tig"),
        1.5,
    )
    assert (wish.parts[0].name, wish.parts[0].lead_days, wish.parts[0].cost) == ("Lamp", 9, 35)
    assert wish.cost == 12


@pytest.mark.parametrize(
    ("fields", "field", "words"),
    [
        ({"well": "3", "likely": "2"}, "well", "more than the likely 2 h"),
        ({"likely": "2", "fights": "1"}, "fights", "less than the likely 2 h"),
        ({"well": "2"}, "likely", "the likely hours are missing"),
        ({"rough_likely": "soon"}, "rough_likely", "can not be read"),
        ({"after": "gearbox"}, "after", "There is no task “gearbox”"),
        ({"size": "month"}, "size", "is not in the list"),
        ({"part_days-0": "3", "part-0": ""}, "part-0", "its name is missing"),
        ({"cost": "-1"}, "cost", "less than nothing"),
    ],
)
def test_what_can_not_be_is_told_beside_its_field(
    fields: dict[str, str], field: str, words: str
) -> None:
    form = TypedForm({name: [text] for name, text in {"text": "A lamp", **fields}.items()})
    size_wish(a_wish().key)(form, with_wishes(a_wish()))
    assert words in faults(form)[field]


def test_an_attachment_that_would_go_round_in_a_circle_is_named() -> None:
    # bracket -> weld: after the weld and before the bracket is a circle
    found = attachment_faults(with_wishes(), a_wish(after="weld", before="bracket"))
    assert [fault.field for fault in found] == ["after"]
    assert "round in a circle" in found[0].text
    assert "“Weld the bracket”" in found[0].text


def test_a_finished_task_can_not_be_attached_to() -> None:
    done = replace(BUILD.tasks[0], begun_on=BUILD.now, finished_on=BUILD.now)
    build = replace(BUILD, tasks=(done, *BUILD.tasks[1:]))
    for field in ("after", "before"):
        found = attachment_faults(build, a_wish(**{field: "bracket"}))
        assert [fault.field for fault in found] == [field]
        assert "“Make the bracket”, which is finished" in found[0].text


def test_an_attachment_is_refused_over_http_with_what_was_typed(shop: Shop) -> None:
    status, text = shop.post(
        f"wishes/{LAMP}",
        text="A lamp behind the seat",
        after="First start",
        before="Crank with the injectors unplugged until there is oil pressure",
        likely="2.75",
    )
    assert status == 422
    assert "round in a circle" in text
    assert 'value="2.75"' in text
    assert next(w for w in shop.stored().wishes if w.key == LAMP).hours is None


def test_a_task_that_is_removed_leaves_the_wish_that_pointed_at_it(shop: Shop) -> None:
    shop.post("wishes", wish="A step")
    shop.post("tasks/new", **{"name-0": "Cut the sill", "likely-0": "2"})
    shop.post("wishes/a-step", text="A step", after="Cut the sill")
    assert shop.stored().wishes[-1].after == "cut-the-sill"
    status, _ = shop.removed("remove-task?key=cut-the-sill")
    assert status == 200
    assert shop.stored().wishes[-1].after is None


# quick sizes, the wanted-by date ------------------------------------------------------------
def test_an_own_quick_size_is_added_and_another_goes() -> None:
    opened = TypedForm.opened(sizes_shown(BUILD))
    new = len(BUILD.wish_sizes)
    more = {"remove-0": ["on"], f"name-{new}": ["half a day"], f"likely-{new}": ["4"]}
    more |= {f"well-{new}": ["3"], f"fights-{new}": ["6"]}
    form = TypedForm({**opened.values, **more}, carried=opened.carried)
    after = edit_sizes(form, BUILD).build.wish_sizes
    assert after[:-1] == BUILD.wish_sizes[1:]
    assert (after[-1].key, after[-1].hours.pessimistic) == ("half-a-day", 6)


def test_the_last_quick_size_stays() -> None:
    build = replace(BUILD, wish_sizes=BUILD.wish_sizes[:1])
    form = typed(name__0="an hour", key__0="hour", likely__0="1", remove__0="on")
    assert edit_sizes(form, build).build.wish_sizes == build.wish_sizes
    assert "must stay" in form.faults[0].text


@pytest.mark.parametrize("percent", ["49", "99.5", "", "often"])
def test_a_confidence_out_of_range_is_refused(percent: str) -> None:
    form = typed(wanted_by="2026-04-25", confidence=percent)
    assert edit_headroom(form, BUILD).build.confidence == BUILD.confidence
    assert "confidence" in faults(form)


def test_a_wanted_by_date_in_the_past_is_refused() -> None:
    form = typed(wanted_by="2026-02-01", confidence="80")
    edit_headroom(form, BUILD)
    assert "is past" in faults(form)["wanted_by"]


def test_a_build_without_a_date_is_told_why_it_drifts_and_offered_one(shop: Shop) -> None:
    shop.post("wanted-by", wanted_by="", confidence="90")
    assert shop.stored().confidence == 0.9
    text = until(shop, "wishes", "Want it by Sat")
    assert "A build without a date drifts" in text
    offered = re.search(r'name="wanted_by" value="([\d-]+)"', text)
    assert offered
    shop.post("wanted-by", wanted_by=offered[1], confidence="90")
    assert str(shop.stored().wanted_by) == offered[1]
    # proposed with a tenth to spare after the firm date, so that something is left
    text = until(shop, "wishes", " h left of")
    assert re.search(r"[\d.]+ h left of [\d.]+ h, at 9 in 10\.", text)


# four ways ----------------------------------------------------------------------------------
def until(shop: Shop, page: str, words: str) -> str:
    """The page as soon as it says something: it is worked out beside it."""
    for _ in range(200):
        text = shop.page(page)
        if words in text:
            return text
        time.sleep(0.05)
    raise AssertionError(f"{words!r} never came: {text[-3000:]}")


def shown_of(shop: Shop, key: str) -> str:
    """The digest of the figures that stand on the page of one wish."""
    text = until(shop, f"wishes/{key}", 'name="figures"')
    found = re.search(r'name="figures" value="(\w+)"', text)
    assert found
    return found[1]


def test_the_page_does_not_wait_for_the_figures_but_asks_again(shop: Shop) -> None:
    text = shop.page("wishes")
    assert "Working it out" in text
    assert f'hx-get="/builds/the-heron/wish-ways?key={LAMP}"' in text
    alone = until(shop, f"wish-ways?key={LAMP}", 'name="figures"')
    for words in (
        "Moves first start",
        "likely",
        "firm, 8 in 10",
        "Headroom left",
        "Hours in all",
        "Money",
    ):
        assert words in alone
    for way in ("fit now", "rough in", "fit later", "let go"):
        assert f'value="{way}"' in alone
    assert "No hours are named: an evening is assumed." in alone


def test_letting_go_changes_nothing_and_costs_nothing() -> None:
    price = worked_out(PlannedBuild(with_wishes(a_wish())), a_wish())
    assert price.priced is not None
    let_go = price.priced.way("let go")
    assert (let_go.move_days, let_go.moved_share, let_go.hours, let_go.cost) == (0, 0, 0, 0)


def test_the_digest_changes_with_what_is_shown_and_with_nothing_else() -> None:
    price = worked_out(PlannedBuild(with_wishes(a_wish())), a_wish())
    assert price.priced is not None
    ways = price.priced.ways
    fit_now = ways[0]
    same = replace(fit_now, hours=fit_now.hours + 0.001)  # below a tenth
    other = replace(fit_now, hours=fit_now.hours + 0.5)
    assert digest_of((same, *ways[1:])) == digest_of(ways)
    assert digest_of((other, *ways[1:])) != digest_of(ways)


def test_a_wish_that_can_not_stand_any_more_gets_a_sentence_in_place_of_figures() -> None:
    price = worked_out(PlannedBuild(with_wishes()), a_wish(after="weld", before="bracket"))
    assert price.priced is None
    assert "round in a circle" in price.obstacles[0]


# deciding -----------------------------------------------------------------------------------
def test_one_press_makes_the_tasks_and_freezes_the_figures(shop: Shop) -> None:
    shown = shown_of(shop, LAMP)
    status, text = shop.post(f"decide-wish?key={LAMP}", way="rough in", figures=shown, why="dark")
    assert status == 200
    build = shop.stored()
    decision = next(w for w in build.wishes if w.key == LAMP).decision
    assert decision is not None
    assert (decision.way, decision.why, decision.decided_on) == ("rough in", "dark", NOW.date())
    assert [way.way for way in decision.figures] == ["fit now", "rough in", "fit later", "let go"]
    made = [task.name for task in build.tasks if task.wish == LAMP]
    assert made == ["Rough in: A lamp behind the seat", "Finish: A lamp behind the seat"]
    assert "First start" in text


def test_figures_that_were_outgrown_accept_nothing_and_are_shown_anew(shop: Shop) -> None:
    shown = shown_of(shop, LAMP)
    # Ten hours more before first start: the dates and the headroom shown no longer hold.
    shop.post("tasks/new", **{"name-0": "Shim the mounts", "likely-0": "10", "needed-0": "on"})
    status, text = shop.post(f"decide-wish?key={LAMP}", way="fit now", figures=shown, why="dark")
    assert status == 409
    assert "the build has moved on" in text
    assert 'value="dark"' in text
    assert not any(task.wish == LAMP for task in shop.stored().tasks)
    again = re.search(r'name="figures" value="(\w+)"', text[text.index("moved on") :])
    assert again
    assert again[1] != shown
    status, _ = shop.post(f"decide-wish?key={LAMP}", way="fit now", figures=again[1], why="dark")
    assert status == 200
    assert any(task.wish == LAMP for task in shop.stored().tasks)


def test_another_wish_logged_meanwhile_outgrows_nothing(shop: Shop) -> None:
    shown = shown_of(shop, LAMP)
    shop.post("bench/wish", wish="Mirrors")
    status, _ = shop.post(f"decide-wish?key={LAMP}", way="let go", figures=shown)
    assert status == 200


def test_of_two_who_decide_at_once_the_second_gets_a_sentence(shop: Shop) -> None:
    shown = shown_of(shop, LAMP)
    answers: list[tuple[int, str]] = []
    ready = threading.Barrier(2)

    def press(way: str) -> None:
        ready.wait()
        answers.append(shop.post(f"decide-wish?key={LAMP}", way=way, figures=shown))

    presses = [threading.Thread(target=press, args=(way,)) for way in ("fit now", "let go")]
    for thread in presses:
        thread.start()
    for thread in presses:
        thread.join()
    assert sorted(status for status, _ in answers) == [200, 409]
    refused = next(text for status, text in answers if status == 409)
    said = re.search(r'role="alert"><p>(.*?)</p>', html.unescape(refused))
    assert said, refused[refused.index("<main") :][:1500]
    assert said
    assert "is decided already" in said[1]
    decision = next(w for w in shop.stored().wishes if w.key == LAMP).decision
    assert decision is not None
    made = sum(task.wish == LAMP for task in shop.stored().tasks)
    assert made == (1 if decision.way == "fit now" else 0)


def test_a_way_that_is_none_is_refused(shop: Shop) -> None:
    shown = shown_of(shop, LAMP)
    status, text = shop.post(f"decide-wish?key={LAMP}", way="some day", figures=shown)
    assert status == 409
    assert "none of the four ways" in text


def test_a_decision_is_taken_back_until_its_work_is_begun(shop: Shop) -> None:
    before = shop.stored()
    shop.post(f"decide-wish?key={LAMP}", way="fit now", figures=shown_of(shop, LAMP))
    status, _ = saved(shop, opened(shop, "wishes", f"take-back-wish?key={LAMP}"))
    assert status == 200
    assert shop.stored().tasks == before.tasks
    shop.post(f"decide-wish?key={LAMP}", way="fit now", figures=shown_of(shop, LAMP))
    shop.post("bench/begin", task=LAMP)
    status, text = shop.post(f"take-back-wish?key={LAMP}")
    assert status == 409
    assert "can not be taken back: work on it is begun" in text
    assert next(w for w in shop.stored().wishes if w.key == LAMP).decision is not None


@pytest.mark.parametrize(
    ("decided", "meanwhile"), [("let go", "was decided anew"), ("fit now", "was changed")]
)
def test_a_decision_that_is_another_by_now_is_not_taken_back_unseen(
    shop: Shop, decided: str, meanwhile: str
) -> None:
    shop.post(f"decide-wish?key={LAMP}", way=decided, figures=shown_of(shop, LAMP))
    old = opened(shop, "wishes", f"take-back-wish?key={LAMP}")
    if decided == "let go":
        assert saved(shop, opened(shop, "wishes", f"take-back-wish?key={LAMP}"))[0] == 200
        shop.post(f"decide-wish?key={LAMP}", way="fit now", figures=shown_of(shop, LAMP))
    else:
        assert saved(shop, opened(shop, f"tasks/{LAMP}"), name="A brighter lamp")[0] == 200
    there = shop.stored()
    status, page = saved(shop, old)
    assert status == 409
    assert "Nothing has gone: it was changed elsewhere since you were asked." in page
    assert meanwhile in html.unescape(page)
    assert shop.stored() == there
    status, _ = saved(shop, saving(forms_in(page), old.action))
    assert status == 200
    assert not any(task.wish == LAMP for task in shop.stored().tasks)


def test_only_an_undecided_wish_is_removed_and_only_after_asking(shop: Shop) -> None:
    assert "Remove the wish “A lamp behind the seat”?" in shop.page(f"remove-wish?key={LAMP}")
    assert any(w.key == LAMP for w in shop.stored().wishes)
    shop.removed(f"remove-wish?key={LAMP}")
    assert not any(w.key == LAMP for w in shop.stored().wishes)
    decided = next(w for w in shop.stored().wishes if w.decision is not None)
    status, text = shop.post(f"remove-wish?key={decided.key}")
    assert status == 409
    assert "a decision is kept" in text


def test_of_many_ideas_those_logged_long_ago_are_folded(shop: Shop) -> None:
    waiting = sum(wish.decision is None for wish in shop.stored().wishes)
    ideas = [f"Idea number {number}" for number in range(UNDECIDED_SHOWN)]
    for idea in ideas:
        shop.post("bench/wish", wish=idea)
    open_ones, _, folded = shop.page("wishes").partition('id="undecided-before"')
    assert all(f">{idea}</a>" in open_ones for idea in ideas)
    assert f"{waiting} logged before" in folded
    assert "A lamp behind the seat</a>" in folded


def test_a_wish_that_is_gone_gets_a_page_that_says_so(shop: Shop) -> None:
    status, text = shop.post("decide-wish?key=gone", way="fit now", figures="x")
    assert status == 404
    assert "There is no wish “gone” in this build." in html.unescape(text)


# what it really took ------------------------------------------------------------------------
def test_really_taken_is_what_was_said_on_the_day_it_is_decided() -> None:
    wish = a_wish(hours=ThreePoint.certain(8), before="start")
    decision = WishDecision(way="fit now", decided_on=BUILD.now.date())
    build = accept(with_wishes(wish), wish, decision)
    said = price_wish(with_wishes(wish), wish).way("fit now")
    assert real_days(build, Factors())["lamp"].days == said.move_days
    assert said.move_days is not None
    assert said.move_days > 0


def test_only_hours_before_first_start_are_taken_off_the_dipstick() -> None:
    hours_now = ThreePoint(optimistic=7, most_likely=8, pessimistic=9)
    rough_in = ThreePoint(optimistic=1, most_likely=2, pessimistic=3)
    wish = a_wish(hours=hours_now, rough_in_hours=rough_in)  # expected 8 h and 2 h
    for way, hours in (("fit now", 8.0), ("rough in", 2.0), ("fit later", None), ("let go", None)):
        decision = WishDecision(way=way, decided_on=BUILD.now.date())  # type: ignore[arg-type]
        build = accept(with_wishes(wish), wish, decision)
        taken = [taken for _, taken in accepted_hours(build)]
        assert taken == ([] if hours is None else [hours]), way


def test_the_dipstick_tells_what_estimates_and_lost_hours_took_since_the_baseline(
    shop: Shop,
) -> None:
    shop.post("wanted-by", wanted_by="2026-09-26", confidence="80")
    assert "Estimates <b>" not in until(shop, "wishes", ", at 8 in 10")
    shop.post("week")
    shop.post("log", task="Radiator lower bracket", on="2026-02-10", hours="0:30", left="14")
    text = until(shop, "wishes", "Estimates <b>")
    took = float(re.findall(r"Estimates <b>([\d.]+) h</b>", text)[0])
    bridge = until(shop, "week", "The move of first start")
    days = float(re.findall(r"Estimates <small>.*?\+([\d.]+) days", bridge, re.DOTALL)[0])
    a_day = float(re.findall(r"as Week has them, at ([\d.]+) h of shop a day", text)[0])
    assert took == pytest.approx(days * a_day, abs=0.05 * (days + a_day) + 0.05)
    left, full = re.findall(r"([\d.]+) h left of ([\d.]+) h, at 8 in 10", text)[0]
    accepted = sum(hours for _, hours in accepted_hours(shop.stored()))
    assert float(full) - float(left) == pytest.approx(took + accepted, abs=0.15)


# the frame ----------------------------------------------------------------------------------
def test_the_frame_shows_the_plan_at_once_and_the_forecast_when_it_is_ready(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(context, "FORECAST_SECONDS", 0.0)
    first = shop.page("bench")
    assert "First start, likely" in first
    assert "firm, 8 in 10" not in first
    assert 'hx-get="/builds/the-heron/gauges"' in first
    # what tells times of the plan is asked for again until they are those of its forecast
    assert '<section id="next-tasks" hx-get="/builds/the-heron/bench"' in first
    ready = until(shop, "bench", "firm, 8 in 10")
    assert 'id="headroom"' in ready
    assert '<section id="next-tasks">' in ready
    assert "hx-get" not in ready[: ready.index("<main")]


# notices ------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("address", "fields"),
    [
        ("wishes", {"wish": "A second horn"}),
        (f"wishes/{LAMP}", {"text": "A lamp", "likely": "3"}),
        ("wanted-by", {"wanted_by": "2026-09-01", "confidence": "80"}),
        ("wish-sizes", {"name-0": "A week", "likely-0": "40"}),
        (f"remove-wish?key={LAMP}", {}),
    ],
)
def test_every_change_of_wishes_says_that_it_is_saved(
    shop: Shop, address: str, fields: dict[str, str]
) -> None:
    if address.startswith("remove"):
        fields = {"seen": shop.seen(address)}
    answer = shop.client.post(f"/builds/the-heron/{address}", data=fields, follow_redirects=False)
    assert answer.status_code == 303
    text = shop.client.get(answer.headers["location"]).text
    assert re.search(r'id="notice"[^>]*>\s*<p role="status"[^>]*>Saved\.', text)


@pytest.mark.parametrize(
    ("hours", "assumed", "said"),
    [
        ((1.5, 3, 5), False, "1.5 to 5 h, likely 3 h"),
        ((3.58, 4.7, 9.4), True, "about 3.5 to 9.5 h, assumed, likely 4.7 h"),
        ((0.38, 0.5, 1), True, "0.38 to 1 h, assumed, likely 0.5 h"),
        ((2, 2, 2), True, "2 h"),
    ],
)
def test_a_range_that_is_assumed_claims_no_minutes(
    hours: tuple[float, float, float], assumed: bool, said: str
) -> None:
    low, likely, high = hours
    of = ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)
    assert range_words(of, assumed=assumed) == said

"""The day's screens: one at a time, the stop first, and no way round a cause or a rest."""

import datetime as dt
import re

import pytest

from tests.first_start.lists import BOAT, ELECTRIC, ENGINE, LISTS
from tests.first_start.walker import (
    Walker,
    still,
    to_it_ran,
    to_priming,
    to_the_hot_stop,
    to_the_key,
)
from tests.pages.first_start.conftest import Bay, BayOf
from webapp.first_start.attempts import last_stop
from webapp.first_start.check_list import CheckList
from webapp.first_start.list_facts import facts_of

DAY = "first-start/day"


def screen(page: str) -> str:
    found = re.search(r'data-screen="([^"]*)"', page)
    assert found, page
    return found[1]


def asked(page: str) -> str:
    """The check that a form of the day is about."""
    found = re.search(r'name="check" value="([^"]*)"', page)
    assert found, page
    return found[1]


def sign_here(bay: Bay, page: str) -> str:
    """Sign what the screen asks, as a person types it."""
    key = asked(page)
    bay.wait(seconds=9)
    fields = {**bay.filled(key), "check": key}
    way = "/figures" if f"{DAY}/figures" in page else ""
    status, after = bay.post(f"{DAY}{way}", **fields)
    assert status == 200, after
    return after


def press(bay: Bay, way: str, **fields: str) -> str:
    status, page = bay.post(f"{DAY}/{way}", **fields)
    assert status == 200, page
    return page


def begin(bay: Bay, kind: str) -> str:
    return press(bay, "begin", kind=kind, version=bay.version)


def at_the_key(walker: Walker) -> None:
    to_the_key(walker)
    walker.wait(seconds=70)


def to_crank(bay: Bay) -> str:
    """Sign all that is asked until the crank is offered."""
    page = bay.get(DAY)
    for _ in range(20):
        if screen(page) != "sign":
            return page
        page = sign_here(bay, page)
    raise AssertionError("no crank is offered")


def running(bay: Bay) -> str:
    assert screen(to_crank(bay)) == "turn"
    assert screen(begin(bay, "start")) == "cranking"
    bay.wait(seconds=3)
    return press(bay, "fired")


def tap(bay: Bay, page: str) -> str:
    bay.wait(seconds=4)
    return press(bay, "stands", check=asked(page), version=bay.version)


def test_from_the_key_to_it_ran_one_screen_at_a_time(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    page = running(bay)
    seen = []
    while "Normal stop worked" not in page:
        assert screen(page) == "running"
        seen.append(asked(page))
        page = tap(bay, page)
    assert seen == ["oil_pressure", "settles", "looked_under"]
    bay.wait(seconds=10)
    page = press(bay, "over")
    typed = []
    while screen(page) == "figures":
        typed.append(asked(page))
        page = sign_here(bay, page)
    assert typed == ["cranked", "oil_pressure", "settles"]
    assert (screen(page), asked(page)) == ("sign", "normal_stop")
    page = sign_here(bay, page)
    assert screen(page) == "it ran"
    page = press(bay, "it-ran", version=bay.version)
    ran = bay.standing.ran_at
    assert ran is not None
    assert f"It ran: {ran:%H:%M:%S}. Stay thirty minutes" in page
    assert "Second look at" in page
    assert "Not on a road before the inspection" in page
    assert screen(page) == "sign"


def test_the_stop_lines_stand_before_everything_on_every_screen(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    pages = [bay.get(DAY), to_crank(bay), begin(bay, "start")]
    bay.wait(seconds=3)
    pages += [press(bay, "fired"), press(bay, "stopped")]
    screens = [screen(page) for page in pages]
    assert screens == ["sign", "turn", "cranking", "running", "stopped"]
    for page in pages:
        body = page.split("<body", 1)[1]
        stop = body.index("STOP: key off. Still running: AIR. there")
        assert stop < body.index("<form")
        assert stop < body.index("<h1" if "<h1" in body else "<form")
        assert "AIR FAILS: everybody out and away." in page
        assert "Way out: there." in page


def test_a_running_screen_has_one_short_sentence_and_nothing_to_type(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    page = running(bay)
    while True:
        live = page.split('data-screen="running"', 1)[1]
        found = re.search(r'<p class="now".*?</p>', live, re.DOTALL)
        assert found
        said = re.sub(r"<[^>]*>", " ", found[0]).split()
        assert len(said) <= 15, said
        assert not re.search(r'type="(?:text|number)"|<textarea|<select|<ul|<li|<img|<svg', live)
        assert not re.search(r'<input (?!type="hidden")', live)
        buttons = re.findall(r'<button class="([a-z]+)">', live)
        assert buttons == ["stopped", "stands"]
        if "Normal stop worked" in page:
            break
        page = tap(bay, page)


def test_the_cautions_of_a_run_are_read_before_it_is_turned_and_what_is_done_after_a_stop(
    bay_of: BayOf,
) -> None:
    bay = bay_of(at_the_key)
    page = to_crank(bay)
    turned = page.index(f"{DAY}/begin")
    cautions = [
        one.caution
        for one in ENGINE.checks
        if one.stage == "start" and one.engine_running and one.caution
    ]
    assert len(cautions) >= 2
    for caution in cautions:
        assert page.index(caution) < turned
    begin(bay, "start")
    page = press(bay, "stopped")
    for abort in ENGINE.aborts_for(bay.standing.answers):
        assert abort.action in page


def test_a_tap_is_taken_back_for_five_seconds_and_writes_both_moments(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    page = tap(bay, running(bay))
    assert "signed: take back" in page
    signed = bay.build.start.signatures[-1]
    assert signed.check == "oil_pressure"
    bay.wait(seconds=6)
    assert "take back" not in bay.get(f"{DAY}?signed={signed.key}")
    bay.wait(seconds=-2)
    status, page = bay.post("first-start/take-back", signature=signed.key, on="day")
    assert status == 200
    assert asked(page) == "oil_pressure"
    taken = next(one for one in bay.build.start.signatures if one.key == signed.key)
    assert taken.taken_back_at is not None
    assert taken.taken_back_at > taken.at


def test_what_is_set_aside_is_named_on_the_day_on_the_sheet_and_on_the_first_page(
    bay_of: BayOf,
) -> None:
    bay = bay_of()
    key = "fuses_in"
    one = bay.standing.of(key)
    assert one is not None
    fields = {"name": "A. Builder", "reason": "the meter is broken", "version": bay.version}
    status, page = bay.post(f"first-start/check/set-aside?key={key}", **fields)
    assert status == 200, page
    for name in ("first-start", DAY, "first-start/sheet", "first-start/sheet?whole=1"):
        page = bay.get(name)
        assert "set aside by A. Builder" in page
        assert "the meter is broken" in page
        assert one.check.text.rstrip(".") in page


def test_no_sentence_of_any_running_screen_is_longer_than_fifteen_words_with_its_clock() -> None:
    for checks in LISTS:
        for check in checks.checks:
            if check.engine_running:
                assert len(check.text.split()) + 1 <= 15, check.key


def test_stopped_is_taken_without_body_or_token_and_asks_what_it_was(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    running(bay)
    bay.wait(seconds=2)
    assert bay.client.post(f"/builds/{bay.slug}/{DAY}/stopped").status_code == 200
    page = bay.get(DAY)
    assert screen(page) == "stopped"
    assert f"{DAY}/begin" not in page
    assert page.count('type="radio"') == len(ENGINE.aborts_for(bay.standing.answers))


def test_no_path_from_a_stop_to_a_crank_without_its_cause(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    running(bay)
    press(bay, "stopped")
    bay.wait(minutes=2)
    status, _ = bay.post(f"{DAY}/begin", kind="start", version=bay.version)
    assert status == 422
    run = bay.build.start.runs[-1].key
    for typed in ({"abort": "", "cause": "a bolt was loose"}, {"abort": "knock", "cause": "bolt"}):
        status, page = bay.post(f"{DAY}/cause", run=run, **typed)
        assert status == 422
        assert f'value="{typed["cause"]}"' in page
    page = press(bay, "cause", run=run, abort="knock", cause="a bolt was loose, tightened")
    assert screen(page) == "not yet" or screen(page) == "sign"
    status, _ = bay.post(f"{DAY}/begin", kind="start", version=bay.version)
    assert status == 422
    assert "made it fall after a stop" in bay.get("first-start")


def test_two_stops_of_one_kind_end_the_day(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    for _ in range(2):
        running(bay)
        bay.wait(seconds=5)
        press(bay, "stopped")
        run = bay.build.start.runs[-1].key
        bay.wait(minutes=3)
        page = press(bay, "cause", run=run, abort="smoke_black", cause="a rag in the intake")
        if screen(page) != "enough":
            assert bay.sign("intake_empty")[0] == 200 if _is_open(bay, "intake_empty") else True
            bay.wait(seconds=9)
    assert screen(page) == "enough"
    assert "Enough for today: find it cold." in page
    bay.wait(days=1)
    assert screen(bay.get(DAY)) != "enough"


def _is_open(bay: Bay, key: str) -> bool:
    one = bay.standing.of(key)
    return one is not None and one.can_be_signed


def test_the_rest_between_cranks_shows_the_same_second_after_a_reload(bay_of: BayOf) -> None:
    bay = bay_of(to_priming)
    assert screen(to_crank(bay)) == "turn"
    begin(bay, "prime")
    bay.wait(seconds=10)
    page = press(bay, "over")
    assert "0:60 left" not in page
    assert "1:00 left" in page
    bay.wait(seconds=23)
    assert "0:37 left" in bay.get(DAY)
    assert "0:37 left" in bay.get(DAY)
    assert f"{DAY}/begin" not in bay.get(DAY)
    status, _ = bay.post(f"{DAY}/begin", kind="prime", version=bay.version)
    assert status == 422
    bay.wait(seconds=38)
    assert f"{DAY}/begin" in bay.get(DAY)
    assert "<noscript><meta http-equiv" not in bay.get(DAY)


def test_a_clock_that_is_set_back_does_not_make_a_rest_longer_on_the_screen(bay_of: BayOf) -> None:
    bay = bay_of(to_priming)
    assert screen(to_crank(bay)) == "turn"
    begin(bay, "prime")
    bay.wait(seconds=10)
    press(bay, "over")
    behind = bay.at.utcoffset()
    assert behind is not None
    bay.at = bay.at.astimezone(dt.timezone(behind - dt.timedelta(hours=1)))
    bay.wait(seconds=23)
    assert "0:37 left" in bay.get(DAY)  # 60 s less 23
    assert bay.post(f"{DAY}/begin", kind="prime", version=bay.version)[0] == 422
    bay.wait(seconds=37)
    assert f"{DAY}/begin" in bay.get(DAY)


def test_the_rest_stands_above_the_cautions_and_the_press_below_them(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    to_crank(bay)
    begin(bay, "start")
    bay.wait(seconds=10)
    page = press(bay, "over")
    main = page.split("<h1", 1)[1]
    assert main.index("Rest until") < main.index('class="caution"')
    assert "Crank it" not in main
    bay.wait(seconds=61)
    main = bay.get(DAY).split("<h1", 1)[1]
    assert "Rest until" not in main
    assert main.rindex('class="caution"') < main.index("Crank it")
    assert "hx-get" not in main.split('id="rest"', 1)[1].split(">", 1)[0]


def test_a_press_sent_twice_writes_one_row(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    to_crank(bay)
    before = len(bay.build.start.runs)
    fields = {"kind": "start", "version": bay.version, "once": "a-token-of-16-ch"}
    for _ in range(2):
        bay.post(f"{DAY}/begin", **fields)
    assert len(bay.build.start.runs) == before + 1
    for _ in range(2):
        press(bay, "fired")
    page = bay.get(DAY)
    tapped = asked(page)
    fields = {"check": tapped, "version": bay.version}
    for _ in range(2):
        bay.post(f"{DAY}/stands", **fields)
    assert [one.check for one in bay.build.start.signatures].count(tapped) == 1
    for _ in range(2):
        press(bay, "stopped")
    assert len(bay.build.start.runs) == before + 1


def test_the_day_does_not_crank_without_a_helper_of_the_same_date(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    bay.wait(days=1)
    for kind in ("prime", "start"):
        status, _ = bay.post(f"{DAY}/begin", kind=kind, version=bay.version)
        assert status == 422
    assert bay.sign("helper_here", helper="à. Builder")[0] == 422
    assert bay.build.start.runs[-1].kind == "prime"


def test_the_day_is_not_opened_without_saying_what_was_opened_since(bay_of: BayOf) -> None:
    def dry(walker: Walker) -> None:
        walker.sign_all("dry", "fluids")

    bay = bay_of(dry)
    bay.wait(seconds=9)
    page = bay.get(DAY)
    while asked(page) != "opened_since":
        page = sign_here(bay, page)
    fields = {**bay.filled("opened_since"), "check": "opened_since"}
    for said in ([], ["nothing", "coolant"]):
        bay.wait(seconds=9)
        assert bay.post(DAY, **{**fields, "opened": said})[0] == 422
    bay.wait(seconds=9)
    status, page = bay.post(DAY, **{**fields, "opened": ["coolant"]})
    assert status == 200
    assert screen(page) == "not yet"
    one = bay.standing.of("coolant_in")
    assert one is not None
    assert one.state == "fallen"
    assert "coolant was opened" in bay.get("first-start/check?key=coolant_in")


def test_the_fire_watch_waits_for_the_clock_and_is_looked_at_twice(bay_of: BayOf) -> None:
    def heated(walker: Walker) -> None:
        to_it_ran(walker)
        for _ in range(2):
            walker.wait(seconds=70)
            walker.sign_all("start", "heat", only=still)
            if walker.begin("start"):
                walker.wait(seconds=3)
                walker.fire()
                walker.sign_all("start", "heat", only=lambda one: one.key not in STOPPED)
                walker.wait(seconds=60)
                walker.end()
                for one in walker.standing.all:
                    if one.state == "figures missing" and one.check.key != "fire_watch":
                        walker.figures(one.check.key)
        walker.wait(minutes=10)
        walker.sign_all("heat", only=lambda one: one.key == "hot_stop")
        walker.sign_all("heat", only=lambda one: one.key == "hot_spots")

    bay = bay_of(heated)
    page = bay.get(DAY)
    assert screen(page) == "watch", page
    assert "First look from" in page
    assert 'name="signer"' not in page.split("<main")[1]
    bay.wait(minutes=31)
    page = sign_here(bay, bay.get(DAY))
    assert "Second look from" in page
    assert screen(page) == "watch"
    bay.wait(minutes=31)
    page = sign_here(bay, bay.get(DAY))
    watch = bay.standing.of("fire_watch")
    assert watch is not None
    assert watch.state == "stands"
    assert 'class="watch"' not in page
    assert "Not on a road before" in page


STOPPED = frozenset(("normal_stop", "hot_stop"))


def test_who_ends_after_the_first_minute_is_led_to_the_watch_and_may_go_on(bay_of: BayOf) -> None:
    bay = bay_of(to_it_ran)
    page = bay.get(DAY)
    assert screen(page) not in ("watch", "wait")
    assert "No more runs today" in page
    page = bay.get(f"{DAY}?watch=yes")
    assert screen(page) == "watch"
    assert "First look from" in page
    assert f"{DAY}?watch=yes" in page  # it asks for itself again, not for the next run
    bay.wait(minutes=31)
    page = bay.get(f"{DAY}?watch=yes")
    bay.wait(seconds=9)
    empty = {"check": "fire_watch", "watch": "yes", "version": bay.version}
    status, refused = bay.post(DAY, **empty)
    assert (status, screen(refused)) == (422, "watch")  # nobody signed: the same screen, with why
    page = sign_here(bay, page)
    assert screen(page) == "watch"
    assert "Second look from" in page
    assert screen(bay.get(f"{DAY}?watch=no")) != "watch"
    bay.wait(minutes=31)
    page = sign_here(bay, bay.get(DAY))
    assert bay.standing.of("fire_watch").state == "stands"  # type: ignore[union-attr]
    assert screen(page) != "watch"
    assert "No more runs today" not in page
    assert not bay.standing.stage_of("heat").stands


def hot(walker: Walker) -> None:
    to_it_ran(walker)
    to_the_hot_stop(walker, signed=False)


def test_the_ten_minutes_of_heat_have_a_clock_from_the_stop(bay_of: BayOf) -> None:
    bay = bay_of(hot)
    stopped = last_stop(bay.build.start, bay.at)
    assert stopped is not None
    bay.at = stopped + dt.timedelta(minutes=4, seconds=23)
    page = bay.get(DAY)
    assert screen(page) == "wait"
    assert "5:37 left" in page  # 10:00 less 4:23
    assert 'name="signer"' not in page.split("<main")[1]
    assert "5:37 left" in bay.get(DAY)
    assert bay.post(DAY, **{**bay.filled("hot_stop"), "check": "hot_stop"})[0] == 422
    bay.at = stopped + dt.timedelta(minutes=10)
    page = bay.get(DAY)
    assert (screen(page), asked(page)) == ("sign", "hot_stop")
    sign_here(bay, page)
    assert bay.standing.of("hot_stop").state == "stands"  # type: ignore[union-attr]


# two devices while it runs -----------------------------------------------------------------------
def test_a_tap_that_comes_second_is_told_so_on_the_screen_that_runs(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    page = running(bay)
    stale = {"check": asked(page), "version": bay.version}
    tap(bay, page)
    status, page = bay.post(f"{DAY}/stands", **stale)
    assert (status, screen(page)) == (422, "running")
    assert "Signed already: the other device pressed first." in page
    assert asked(page) != stale["check"]
    status, page = bay.post(f"{DAY}/begin", kind="start", version=bay.version)
    assert (status, screen(page)) == (422, "running")
    assert "Not taken: another device pressed first." in page
    assert "Not taken" not in bay.get(DAY)


def test_crank_over_on_one_device_does_not_stop_what_fires_on_the_other(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    running(bay)
    status, page = bay.post(f"{DAY}/over", was="cranking")
    assert (status, screen(page)) == (422, "running")
    assert "Not taken: another device pressed first." in page
    assert bay.build.start.runs[-1].ended_at is None


def test_it_fires_after_the_crank_was_ended_is_an_answer_of_the_day(bay_of: BayOf) -> None:
    bay = bay_of(at_the_key)
    running(bay)
    press(bay, "stopped")
    status, page = bay.post(f"{DAY}/fired")
    assert (status, screen(page)) == (422, "stopped")
    assert "The crank was over already. If it runs, press Stopped" in page


@pytest.mark.parametrize("checks", [ELECTRIC, BOAT], ids=lambda one: one.key)
def test_other_kinds_have_their_own_stop_lines_and_their_day(
    bay_of: BayOf, checks: CheckList
) -> None:
    bay = bay_of(checks=checks)
    page = bay.get(DAY)
    assert screen(page) == "not yet"
    assert checks.stop_words_for({}).lines[-1] in page
    assert facts_of(checks).place_stage

"""Ten ways in which the page could hurt somebody: the rule against each, as the core keeps it."""

import datetime as dt
import unicodedata
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.first_start.lists import BOAT, DAY, ENGINE, LISTS, start_build
from tests.first_start.walker import (
    Walker,
    still,
    to_it_ran,
    to_priming,
    to_the_hot_stop,
    to_the_key,
    typed_readings,
)
from webapp.build.first_start import LicensedPaper, Opening
from webapp.build.openings import with_openings
from webapp.build.plumbing import Circuit
from webapp.first_start import signing
from webapp.first_start.check_list import CheckList
from webapp.first_start.desk import desk_of
from webapp.first_start.names import same_person
from webapp.first_start.typed_readings import TypedReading, reading_faults
from webapp.first_start.who_signs import Signing, helper_faults, paper_faults

EACH = pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)


def walker(checks: CheckList = ENGINE, **said: str) -> Walker:
    return Walker(start_build(checks, **said), checks)


def fields(one: Walker) -> set[str]:
    assert one.last is not None
    return {fault.field for fault in one.last.faults}


def texts(one: Walker) -> str:
    assert one.last is not None
    return " ".join(fault.text for fault in one.last.faults)


# 1, 2: looked at, one by one -------------------------------------------------------------------
def test_way_2_twenty_posts_within_two_seconds_give_one_signature() -> None:
    one = walker()
    version = one.standing.version
    for _ in range(20):
        one.wait(seconds=0.1)
        one.sign("battery_off", version)
    assert len(one.build.start.signatures) == 1


def test_way_2_a_second_signature_waits_eight_seconds_and_says_how_long_it_was() -> None:
    one = walker()
    assert one.sign("battery_off")
    one.wait(seconds=3)
    assert not one.sign("turned_by_hand")
    assert "3 seconds after the last one: look first, then sign." in texts(one)
    one.wait(seconds=4.9)
    assert not one.sign("turned_by_hand", signer="a.  BUILDER")
    one.wait(seconds=0.1)
    assert one.sign("turned_by_hand")


@EACH
def test_way_2_a_reading_that_is_empty_or_no_number_is_refused(checks: CheckList) -> None:
    answers = {"volts": "12"}
    for check in checks.checks:
        whole = typed_readings(check)
        assert not tuple(reading_faults(check, whole, answers)), check.key
        for place, wanted in enumerate(check.readings):
            for value in (None, "", "  ", *(() if wanted.is_words else ("near MAX", float("nan")))):
                empty = replace(whole[place], value=value)
                said = (*whole[:place], empty, *whole[place + 1 :])
                (fault,) = reading_faults(check, said, answers)
                assert fault.field == f"reading:{wanted.name}"


@pytest.mark.parametrize("seen", ["", " ", "x", "yes", "OK.", "done!"])
def test_way_2_a_never_check_asks_what_was_seen_not_for_yes(seen: str) -> None:
    one = walker()
    assert not one.sign("battery_off", seen=seen)
    assert fields(one) == {"seen"}


def test_a_figure_outside_its_range_is_signed_with_the_makers_figure_alone_and_shows_both() -> None:
    one = walker()
    to_key = ["dry", "fluids"]
    one.sign_all(*to_key, only=lambda check: check.key != "belt_right")
    one.wait(seconds=9)
    wide = (TypedReading(name="out of line", value=3.5),)
    assert not one.sign("belt_right", readings=wide)
    assert "above the usual 3" in texts(one)
    assert one.sign("belt_right", readings=(replace(wide[0], makers="up to 4 mm"),))
    (reading,) = one.build.start.signatures[-1].readings
    assert (reading.value, reading.makers, reading.unit) == (3.5, "up to 4 mm", "mm")


@pytest.mark.parametrize(
    ("key", "name", "value", "asked"),
    [
        ("oil_pressure", "cold idle", 40.0, "psi"),  # 40 psi / 14.5 = 2.8 bar
        ("oil_pressure", "cold idle", 300.0, "kPa"),  # 3 bar
        ("oil_pressure", "cold idle", 1.1, "absolute"),  # 1.013 bar of air, give or take 0.2
        ("gauge_round", "coolant", 185.0, "°F"),  # 85 °C
        ("oil_pressure", "cold idle", 3.0, ""),
        ("gauge_round", "coolant", 104.0, ""),
    ],
)
def test_an_unlikely_unit_is_asked_about_and_not_signed(
    key: str, name: str, value: float, asked: str
) -> None:
    check = next(one for one in ENGINE.checks if one.key == key)
    said = tuple(
        replace(one, value=value, is_sure=False, makers="as it is") if one.name == name else one
        for one in typed_readings(check)
    )
    found = " ".join(fault.text for fault in reading_faults(check, said, {}))
    assert (asked in found) if asked else not found
    sure = tuple(replace(one, is_sure=True) for one in said)
    assert not tuple(reading_faults(check, sure, {}))


# 3: order --------------------------------------------------------------------------------------
def test_way_3_a_stale_version_writes_nothing() -> None:
    one = walker()
    old = one.standing.version
    assert one.sign("battery_off")
    one.wait(seconds=20)
    assert not one.sign("turned_by_hand", old)
    assert fields(one) == {"version"}
    assert one.last is not None
    assert one.last.build is one.build


@EACH
def test_way_3_no_check_of_a_later_stage_is_signed_whatever_is_posted(checks: CheckList) -> None:
    one = walker(checks)
    for check in checks.checks:
        if check.stage != checks.stages[0].key:
            assert not one.sign(check.key), check.key
    assert one.build.start.signatures == ()


def test_way_3_injectors_unplugged_an_hour_ago_do_not_count_for_a_second_priming() -> None:
    one = walker()
    to_the_key(one)
    one.sign_all("start", only=lambda check: check.key == "rearmed")
    assert one.standing.of("disarm_mechanical").state == "spent"  # type: ignore[union-attr]
    opened = Opening(
        what="circuit:oil", name="oil", how="said", at=one.at, reaches=("circuit:oil",)
    )
    one.build = replace(one.build, start=replace(one.build.start, openings=(opened,)))
    one.wait(hours=1)
    found = one.standing
    assert found.of("oil_cranked").state == "fallen"  # type: ignore[union-attr]
    assert found.of("rearmed").state == "fallen"  # type: ignore[union-attr]
    disarm = found.of("disarm_mechanical")
    assert disarm is not None
    assert (disarm.state, disarm.is_met) == ("spent", False)


def test_way_3_the_battery_comes_off_before_what_fell_is_signed_again() -> None:
    one = walker()
    to_the_key(one)
    opened = Opening(
        what="circuit:belt", name="belt", how="said", at=one.at, reaches=("circuit:belt",)
    )
    one.build = replace(one.build, start=replace(one.build.start, openings=(opened,)))
    one.wait(seconds=9)
    assert one.standing.of("battery_on").state == "fallen"  # type: ignore[union-attr]
    assert not one.sign("belt_right")
    one.wait(seconds=9)
    assert one.sign("battery_off"), one.last
    one.wait(seconds=9)
    assert one.sign("belt_right"), one.last
    assert one.standing.of("battery_on").state == "fallen"  # type: ignore[union-attr]


# 4: the phone goes dark ------------------------------------------------------------------------
def test_way_4_a_rest_is_worked_out_from_the_stored_moment() -> None:
    one = walker()
    to_priming(one)
    assert one.begin("prime")
    one.wait(seconds=10)
    assert one.end()
    ended = one.at
    one.wait(seconds=59)
    shut = one.standing.shut
    assert shut is not None
    assert (shut.why, shut.until) == ("rest", ended + dt.timedelta(seconds=60))
    assert not one.begin("prime")
    one.wait(seconds=1)
    assert one.standing.shut is None
    assert one.begin("prime")


def at_the_first_crank() -> Walker:
    one = walker()
    to_the_key(one)
    one.wait(seconds=60)
    one.sign_all("start", only=lambda check: still(check) and check.key != "cranked")
    assert one.begin("start")
    return one


def at_the_first_run() -> Walker:
    one = at_the_first_crank()
    one.wait(seconds=3)
    assert one.fire()
    return one


def test_way_4_a_repeated_post_of_a_run_writes_once() -> None:
    one = at_the_first_crank()
    assert not one.begin("start")
    for verb in (one.fire, one.fire, one.end, one.end):
        one.wait(seconds=2)
        verb()
    (run,) = (each for each in one.build.start.runs if each.kind == "start")
    assert run.fired_at is not None
    assert run.ended_at is not None
    assert (run.ended_at - run.fired_at).total_seconds() == 4


def test_way_5_while_it_runs_no_figure_is_taken_and_the_stage_does_not_close_without_them() -> None:
    one = at_the_first_run()
    one.sign_all("start", only=lambda check: check.key in ("cranked", "oil_pressure"))
    assert all(not each.readings for each in one.build.start.signatures[-2:])
    assert not one.figures("oil_pressure")
    one.wait(seconds=20)
    one.end()
    assert one.standing.of("oil_pressure").state == "figures missing"  # type: ignore[union-attr]
    assert not one.standing.stage_of("start").stands
    assert one.figures("oil_pressure")
    assert one.standing.of("oil_pressure").state == "stands"  # type: ignore[union-attr]


# 6: the wrong button ---------------------------------------------------------------------------
def test_way_6_after_stopped_nothing_is_cranked_until_the_cause_is_written() -> None:
    one = at_the_first_run()
    one.wait(seconds=8)
    assert one.abort()
    one.wait(hours=1)
    assert one.standing.shut.why == "abort to name"  # type: ignore[union-attr]
    assert not one.begin("start")
    assert not one.write_cause("", "it was loose")
    assert not one.write_cause("knock", "loose")
    assert one.write_cause("knock")
    assert one.standing.shut is None
    states = {each.check.key: each.state for each in one.standing.all}
    assert states["turned_by_hand"] == "fallen"  # of the abort's own list
    assert states["battery_on"] == "fallen"  # rule 9
    assert states["posts_taken"] == "lapsed"  # the attempt
    assert not one.begin("start")


def test_way_6_two_aborts_of_one_kind_end_the_day_and_not_the_next() -> None:
    one = at_the_first_run()
    for _ in range(2):
        one.wait(minutes=5)
        one.abort()
        one.wait(minutes=1)
        assert one.write_cause("creeps")
    assert one.standing.shut.why == "enough for today"  # type: ignore[union-attr]
    one.wait(days=1)
    assert one.standing.shut is None


def test_way_6_stopped_is_written_even_where_no_crank_was_and_twice_is_once() -> None:
    one = walker(BOAT)
    assert one.abort()
    assert one.abort()
    (run,) = one.build.start.runs
    assert run.ending == "aborted"


@pytest.mark.parametrize(("seconds", "works"), [(0, True), (5, True), (5.1, False), (-1, False)])
def test_way_6_a_signature_is_taken_back_within_five_seconds_and_both_stay_written(
    seconds: float, works: bool
) -> None:
    one = walker()
    assert one.sign("battery_off")
    signed = one.build.start.signatures[0]
    one.wait(seconds=seconds)
    assert one.take(signing.take_back(one.build, signed.key, at=one.at)) is works
    (kept,) = one.build.start.signatures
    assert (kept.taken_back_at is not None) is works
    state = one.standing.of("battery_off").state  # type: ignore[union-attr]
    assert state == ("not signed" if works or seconds < 0 else "stands")


# 7: waived until it is empty -------------------------------------------------------------------
@EACH
def test_way_7_no_never_check_is_set_aside_and_none_is_left_out(checks: CheckList) -> None:
    from webapp.first_start.list_changes import leave_out

    one = walker(checks)
    count = 0
    for check in checks.checks:
        if check.waive != "never":
            continue
        edited = signing.set_aside(
            one.build,
            checks,
            check.key,
            name="A. Builder",
            reason="done at the shop",
            at=one.at,
            version=one.standing.version,
        )
        assert edited.is_refused, check.key
        assert leave_out(one.build, checks, check.key, name="A. B", at=one.at).is_refused
        count += 1
    assert count >= 39


@pytest.mark.parametrize("reason", ["", "x", "no", "not now", "a b c d", "- - -", "no. no"])
def test_way_7_a_reason_has_three_words(reason: str) -> None:
    one = walker()
    one.sign("battery_off")
    one.wait(seconds=9)
    assert not aside(one, "turned_by_hand", reason)
    assert fields(one) == {"reason"}
    assert aside(one, "turned_by_hand", "turned at the machine shop")


def aside(one: Walker, key: str, reason: str) -> bool:
    return one.take(
        signing.set_aside(
            one.build,
            one.checks,
            key,
            name="A. Builder",
            reason=reason,
            at=one.at,
            version=one.standing.version,
        )
    )


def test_way_7_opening_its_circuit_brings_back_what_was_set_aside() -> None:
    one = walker()
    one.sign("battery_off")
    one.wait(seconds=9)
    assert aside(one, "turned_by_hand", "turned at the machine shop")
    assert [each.check.key for each in one.standing.set_aside] == ["turned_by_hand"]
    one.wait(seconds=9)
    opened = Opening(
        what="circuit:rotation", name="r", how="said", at=one.at, reaches=("circuit:rotation",)
    )
    one.build = replace(one.build, start=replace(one.build.start, openings=(opened,)))
    assert one.standing.of("turned_by_hand").state == "fallen"  # type: ignore[union-attr]
    assert one.standing.set_aside == ()


# 8: opened since -------------------------------------------------------------------------------
def test_way_8_the_day_does_not_open_until_it_is_said_what_was_opened_since() -> None:
    one = walker()
    one.sign_all("dry", "fluids")
    one.wait(seconds=9)
    assert not one.sign("gas_out")
    one.wait(seconds=9)
    assert not one.sign("opened_since", opened=None)
    assert not one.sign("opened_since", opened=("the moon",))
    assert one.sign("opened_since", opened=("coolant", "gearbox taken off"))
    found = {each.check.key: each.state for each in one.standing.all}
    assert found["coolant_in"] == "fallen"
    assert found["opened_since"] == "stands"


# 9: who may sign -------------------------------------------------------------------------------
@st.composite
def other_ways_of_typing(draw: st.DrawFn) -> tuple[str, str]:
    """A name, and the same with case, blanks and accents changed."""
    letters = st.sampled_from("abcdefghijklmnopqrstuvwxyzåäöéèñçü")
    first, last = (draw(st.text(letters, min_size=2, max_size=8)) for _ in range(2))
    name = f"{first} {last}"
    bare = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
    other = draw(st.sampled_from([name, bare, unicodedata.normalize("NFD", name)]))
    other = draw(st.sampled_from([other, other.upper(), other.title(), other.swapcase()]))
    blank = draw(st.sampled_from([" ", "  ", ". ", "\N{NO-BREAK SPACE}", ""]))
    return name, draw(st.sampled_from(["", " "])) + other.replace(" ", blank)


@given(other_ways_of_typing())
def test_way_9_one_name_typed_in_two_ways_is_one_person(names: tuple[str, str]) -> None:
    assert same_person(*names)
    assert not same_person(names[0], names[0] + "son")


@settings(max_examples=30)
@given(other_ways_of_typing())
def test_way_9_the_helper_is_not_the_signer_and_the_paper_not_the_owners(
    names: tuple[str, str],
) -> None:
    name, other = names
    helper = next(check for check in ENGINE.checks if check.key == "helper_here")
    said = Signing(signer=name, helper=other)
    assert [one.field for one in helper_faults(helper, said)] == ["helper"]
    one = walker()
    desk = desk_of(one.build, ENGINE, one.at, None)
    licensed = next(check for check in ENGINE.checks if check.key == "papers")
    paper = LicensedPaper(name=other, firm="F", number="1", on=DAY.date())
    faults = paper_faults(desk, licensed, Signing(signer=name, paper=paper, saw_paper=True))
    assert [fault.field for fault in faults] == ["paper_name"]


@pytest.mark.parametrize(
    ("paper", "field"),
    [
        ({}, ""),
        ({"number": " "}, "paper_number"),
        ({"firm": ""}, "paper_firm"),
        ({"name": "a builder"}, "paper_name"),
        ({"on": DAY.date() + dt.timedelta(days=1)}, "paper_on"),
        ({"on": DAY.date() - dt.timedelta(days=3)}, "paper_on"),
    ],
)
def test_way_9_a_paper_takes_four_fields_and_is_no_older_than_the_last_opening(
    paper: dict[str, object], field: str
) -> None:
    one = walker(gearbox="automatic")
    opened = Opening(
        what="circuit:brakes",
        name="brakes",
        how="begun",
        at=DAY - dt.timedelta(days=2),
        reaches=("circuit:brakes",),
    )
    one.build = replace(one.build, start=replace(one.build.start, openings=(opened,)))
    base = LicensedPaper(name="J. Ferro", firm="Ferro", number="118", on=DAY.date())
    said = replace(base, **paper)  # type: ignore[arg-type]
    assert one.sign("brakes_automatic", paper=said) is (not field)
    assert fields(one) == ({field} if field else set())


def test_way_9_not_alone_a_lone_builder_comes_to_current_on_and_no_further() -> None:
    one = walker()
    stages = [stage.key for stage in ENGINE.stages]
    one.sign_all(*stages, only=lambda check: still(check) and check.who != "helper")
    found = one.standing
    assert found.stage_of("current").stands
    assert not found.stage_of("start").is_open
    for kind in ("prime", "start"):
        assert not one.begin(kind)


def test_way_9_the_helper_is_named_anew_each_day() -> None:
    one = walker()
    to_it_ran(one)
    one.wait(days=1)
    helper = one.standing.of("helper_here")
    assert helper is not None
    assert (helper.state, helper.is_met) == ("lapsed", False)
    assert not one.begin("start")


# 10: it ran ------------------------------------------------------------------------------------
def test_way_10_the_fire_watch_waits_thirty_minutes_and_its_second_look_sixty() -> None:
    one = walker()
    to_it_ran(one)
    to_the_hot_stop(one)
    stopped = max(run.ended_at for run in one.build.start.runs if run.ended_at)
    one.sign_all("heat", only=still)
    one.at = stopped + dt.timedelta(minutes=29, seconds=59)
    assert not one.sign("fire_watch")
    one.at = stopped + dt.timedelta(minutes=30)
    assert one.sign("fire_watch"), one.last
    assert one.standing.of("fire_watch").state == "figures missing"  # type: ignore[union-attr]
    one.at = stopped + dt.timedelta(minutes=59, seconds=59)
    assert not one.figures("fire_watch")
    one.at = stopped + dt.timedelta(minutes=60)
    assert one.figures("fire_watch"), one.last
    watch = one.standing.of("fire_watch")
    assert watch is not None
    assert watch.state == "stands"
    assert watch.signature is not None
    assert [each.value for each in watch.signature.readings] == [30.0, 60.0]


def test_way_10_a_run_in_between_starts_the_clock_of_the_fire_watch_anew() -> None:
    one = walker()
    to_it_ran(one)
    to_the_hot_stop(one)
    one.sign_all("heat", only=still)
    one.wait(minutes=31)
    assert one.sign("fire_watch"), one.last
    one.wait(minutes=1)
    one.sign_all("start", "heat", only=lambda check: still(check) and check.every_run)
    assert one.begin("start"), one.last
    one.wait(seconds=2)
    one.fire()
    one.wait(minutes=1)
    one.end()
    assert one.standing.of("fire_watch").state == "lapsed"  # type: ignore[union-attr]
    one.wait(minutes=28)
    assert not one.sign("fire_watch")
    assert "Not before" in texts(one)


def test_way_10_each_later_run_asks_what_is_of_every_run() -> None:
    one = walker()
    to_it_ran(one)
    one.wait(minutes=2)
    posts = one.standing.of("posts_taken")
    assert posts is not None
    assert posts.asks_again
    assert not one.begin("start")
    assert "This is asked before every run" in texts(one)


def test_after_it_ran_what_falls_shuts_the_next_run_and_not_the_record_of_the_first() -> None:
    one = walker()
    to_it_ran(one)
    ran = one.standing.ran_at
    opened = Opening(what="circuit:oil", name="o", how="said", at=one.at, reaches=("circuit:oil",))
    one.build = replace(one.build, start=replace(one.build.start, openings=(opened,)))
    one.wait(minutes=2)
    assert not one.begin("start")
    assert one.standing.ran_at == ran


def test_a_priming_that_gives_no_pressure_ends_after_five_cranks() -> None:
    one = walker()
    to_priming(one)
    for _ in range(5):
        assert one.begin("prime"), one.last
        one.wait(seconds=10)
        one.end()
        one.wait(seconds=60)
    assert not one.begin("prime")
    assert one.standing.shut.why == "cause to write"  # type: ignore[union-attr]
    assert one.write_cause("", "the pick-up sucked air")
    one.wait(minutes=10)
    assert one.standing.of("posts_for_turning").state == "lapsed"  # type: ignore[union-attr]
    assert not one.begin("prime")


@pytest.mark.parametrize(("system", "tries"), [("mechanical injection", 3), ("common rail", 6)])
def test_so_many_tries_and_then_find_out(system: str, tries: int) -> None:
    one = walker(fuel_system=system)
    to_the_key(one)
    one.wait(minutes=1)
    for number in range(tries):
        one.sign_all("prime", "start", only=lambda check: still(check) and check.key != "cranked")
        assert one.begin("start"), (number, one.last)
        one.wait(seconds=10)
        one.end()
        one.wait(minutes=10 if number % 3 == 2 else 1)
    assert one.standing.shut.why == "cause to write"  # type: ignore[union-attr]


def test_what_is_done_by_the_build_itself_opens_too() -> None:
    """A circuit that is drawn while its checks stand makes them fall."""
    one = walker()
    one.sign_all("dry", "fluids")
    drawn = Circuit(key="coolant", name="Coolant", medium="water", from_port="a.b", to_port="c.d")
    after = replace(one.build, plumbing=replace(one.build.plumbing, circuits=(drawn,)))
    one.wait(seconds=9)
    one.build = replace(with_openings(one.build, after, at=one.at), plumbing=one.build.plumbing)
    assert one.standing.of("coolant_in").state == "fallen"  # type: ignore[union-attr]


def test_way_10_who_ends_after_the_first_minute_watches_from_that_stop() -> None:
    one = walker()
    to_it_ran(one)
    stopped = one.build.start.runs[-1].ended_at
    assert stopped is not None
    one.at = stopped + dt.timedelta(minutes=29, seconds=59)
    assert not one.sign("fire_watch")
    one.at = stopped + dt.timedelta(minutes=30)
    assert one.sign("fire_watch"), one.last
    one.at = stopped + dt.timedelta(minutes=60)
    assert one.figures("fire_watch"), one.last
    # watched, and the heat cycle is as open as before: what comes cold stays shut behind it
    assert not one.standing.stage_of("heat").stands
    one.wait(hours=9)
    assert not one.sign("cold_now")
    # the run with the heat cycle asks the watch anew
    one.at = stopped + dt.timedelta(minutes=70)
    to_the_hot_stop(one)
    assert one.standing.of("fire_watch").state == "lapsed"  # type: ignore[union-attr]


def test_way_10_who_stopped_it_for_a_cause_watches_as_well_whatever_is_shut() -> None:
    one = at_the_first_run()
    assert not one.sign("fire_watch")  # it runs
    one.wait(seconds=20)
    assert one.abort()
    one.wait(minutes=30)
    assert one.sign("fire_watch"), one.last
    assert one.standing.shut.why == "abort to name"  # type: ignore[union-attr]


def test_way_10_what_nobody_watched_is_not_signed_the_next_morning_and_the_next_run_asks_it() -> (
    None
):
    one = walker()
    to_it_ran(one)
    assert one.standing.of("fire_watch").can_be_signed  # type: ignore[union-attr]
    one.wait(hours=23)
    assert not one.sign("fire_watch")
    assert "Nothing was stopped within the last 12 hours" in texts(one)
    one.sign_all("place", only=still)
    one.sign_all("prime", "start", only=lambda check: check.key in ("helper_here", "posts_taken"))
    assert one.begin("start"), one.last
    one.wait(seconds=3)
    one.fire()
    one.wait(seconds=40)
    one.end()
    one.wait(minutes=30)
    assert one.sign("fire_watch"), one.last

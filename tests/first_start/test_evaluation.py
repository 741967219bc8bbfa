"""What stands at a moment: stages in their order, days and attempts, what is spent and dropped."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.first_start.lists import (
    DAY,
    ENGINE,
    LISTS,
    before_key,
    signature,
    signed,
    standing,
    start_build,
)
from webapp.build.build_input import StarterAnswer
from webapp.build.first_start import CheckChange, OwnCheck, SetAside, StartAnswer
from webapp.first_start.check_list import CheckList

EACH = pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)
HOUR = dt.timedelta(hours=1)


@EACH
def test_nothing_known_is_open_when_every_stage_before_the_key_stands(checks: CheckList) -> None:
    build = signed(start_build(checks), checks, *before_key(checks), at=DAY)
    found = standing(build, checks, at=DAY + HOUR)
    assert found.holes == ()
    assert found.is_nothing_known_open


@EACH
def test_one_missing_signature_is_the_one_hole(checks: CheckList) -> None:
    build = signed(start_build(checks), checks, *before_key(checks), at=DAY)
    first = build.start.signatures[0]
    for gone in build.start.signatures[1::7]:
        left = tuple(one for one in build.start.signatures if one is not gone)
        found = standing(
            replace(build, start=replace(build.start, signatures=left)), checks, at=DAY + HOUR
        )
        assert gone.check in {hole.key for hole in found.holes}
        assert not found.is_nothing_known_open
    assert first.check in {check.key for check in checks.checks}


@EACH
def test_a_stage_opens_when_all_before_it_stand(checks: CheckList) -> None:
    build = start_build(checks)
    keys = [stage.key for stage in checks.stages]
    for place, stage in enumerate(before_key(checks)):
        found = standing(build, checks, at=DAY + HOUR)
        assert [one.is_open for one in found.stages] == [True] * (place + 1) + [False] * (
            len(keys) - place - 1
        )
        build = signed(build, checks, stage, at=DAY + place * dt.timedelta(minutes=10))


def test_the_place_lapses_at_the_end_of_the_day_and_the_hoses_do_not() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    found = standing(build, ENGINE, at=DAY + dt.timedelta(days=1))
    states = {one.check.key: one.state for one in found.all}
    assert states["gas_out"] == states["extinguisher_out"] == "lapsed"
    assert states["fuel_closed"] == "stands"
    assert not found.is_nothing_known_open


def test_the_battery_that_was_off_is_spent_once_it_is_on() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    off = standing(build, ENGINE, at=DAY + HOUR).of("battery_off")
    assert off is not None
    assert (off.state, off.is_met) == ("spent", True)


def test_current_that_is_taken_away_again_is_signed_anew() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    off = next(check for check in ENGINE.checks if check.key == "battery_off")
    again = (*build.start.signatures, signature(off, DAY + HOUR, 999))
    found = standing(
        replace(build, start=replace(build.start, signatures=again)), ENGINE, at=DAY + 2 * HOUR
    )
    assert found.of("battery_off").state == "stands"  # type: ignore[union-attr]
    assert found.of("battery_on").state == "fallen"  # type: ignore[union-attr]


def test_nothing_of_the_first_two_stages_is_signed_while_the_current_is_on() -> None:
    """Rule 9: the battery is taken off before what fell is signed anew."""
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    left = tuple(one for one in build.start.signatures if one.check != "turned_by_hand")
    found = standing(
        replace(build, start=replace(build.start, signatures=left)), ENGINE, at=DAY + HOUR
    )
    blocked = found.of("turned_by_hand").blocked_by  # type: ignore[union-attr]
    assert [one.kind for one in blocked] == ["current on"]


def test_an_answer_drops_a_check_and_is_named() -> None:
    found = standing(start_build(ENGINE, turbo="no"), ENGINE, at=DAY)
    assert found.of("cooler_dry").dropped_by == "turbo"  # type: ignore[union-attr]


def test_a_question_without_an_answer_keeps_its_checks_and_none_that_decides_is_signed() -> None:
    build = start_build(ENGINE)
    answers = tuple(one for one in build.start.answers if one.question != "gearbox")
    found = standing(replace(build, start=replace(build.start, answers=answers)), ENGINE, at=DAY)
    automatic, manual = found.of("brakes_automatic"), found.of("clutch_frees")
    assert automatic is not None
    assert manual is not None
    assert automatic.is_kept
    assert manual.is_kept
    for one in (automatic, manual):
        assert "gearbox" in {each.key for each in one.blocked_by if each.kind == "answer"}
    assert [one.key for one in found.unanswered] == ["gearbox"]


def test_the_starter_list_answers_what_both_ask() -> None:
    build = replace(
        start_build(ENGINE),
        starter_answers=(
            *(_said("fuel", "carburettor"), _said("turbo", "no"), _said("intercooler", "new")),
        ),
    )
    answers = standing(build, ENGINE, at=DAY).answers
    assert (answers["fuel"], answers["fuel_system"]) == ("petrol", "carburettor")
    assert (answers["turbo"], answers["intercooler"]) == ("no", "none")


def _said(question: str, answer: str) -> StarterAnswer:
    return StarterAnswer(question=question, answer=answer)


def test_what_is_set_aside_counts_as_met_and_is_named_and_a_never_check_cannot_be() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    for key, state in (("turned_by_hand", "set aside"), ("fuel_closed", "not signed")):
        left = tuple(one for one in build.start.signatures if one.check != key)
        aside = SetAside(key="a", check=key, at=DAY, name="A", reason="done at the shop")
        start = replace(build.start, signatures=left, set_asides=(aside,))
        found = standing(replace(build, start=start), ENGINE, at=DAY + HOUR)
        assert found.of(key).state == state  # type: ignore[union-attr]
        assert (key in {one.check.key for one in found.set_aside}) is (state == "set aside")


def test_an_offered_check_is_no_hole_until_it_is_taken_in() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    taken = CheckChange(check="blanket_absorbent", at=DAY, name="A", choice="taken in")
    found = standing(
        replace(build, start=replace(build.start, changes=(taken,))), ENGINE, at=DAY + HOUR
    )
    assert [hole.key for hole in found.holes] == ["blanket_absorbent"]


def test_changed_words_keep_needs_and_caution_and_an_own_check_is_a_hole() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    words = CheckChange(check="fuel_closed", at=DAY, name="A", words="Look at each fuel joint.")
    own = OwnCheck(key="tray", stage="dry", circuit="battery", text="Tray in.")
    found = standing(
        replace(build, start=replace(build.start, changes=(words,), own_checks=(own,))),
        ENGINE,
        at=DAY + HOUR,
    )
    shipped = next(check for check in ENGINE.checks if check.key == "fuel_closed")
    changed = found.of("fuel_closed").check  # type: ignore[union-attr]
    assert changed == replace(shipped, text="Look at each fuel joint.")
    assert [hole.key for hole in found.holes] == ["tray"]


@pytest.mark.parametrize(
    ("days", "fallen"),
    [
        (1, set[str]()),
        (15, {"oil_cranked"}),
        (61, {"oil_cranked", "bores_oiled", "battery_on"}),
        (91, {"oil_cranked", "bores_oiled", "battery_on", "fuel_right"}),
    ],
)
def test_the_clock_moved_on_makes_fall_what_has_a_count_of_days(
    days: int, fallen: set[str]
) -> None:
    """Priming 14 days, bores 60, fuel 90; battery_on falls with what lies before it (rule 9)."""
    taken = CheckChange(check="bores_oiled", at=DAY, name="A", choice="taken in")
    build = start_build(ENGINE)
    build = replace(build, start=replace(build.start, changes=(taken,)))
    build = signed(build, ENGINE, *before_key(ENGINE), at=DAY)
    found = standing(build, ENGINE, at=DAY + dt.timedelta(days=days, hours=1))
    by_time = {one.check.key for one in found.all if one.state == "fallen" and one.fallen} - {
        "fuel_dry_look"
    }
    assert by_time == fallen


def test_readings_double_on_24_volts() -> None:
    full = next(check for check in ENGINE.checks if check.key == "battery_full")
    assert full.readings[0].bounds("12") == (12.6, 13.2)
    assert full.readings[0].bounds("24") == (25.2, 26.4)


def test_the_version_changes_with_answers_and_signatures_and_not_with_a_second() -> None:
    build = signed(start_build(ENGINE), ENGINE, "dry", at=DAY)
    first = standing(build, ENGINE, at=DAY + HOUR).version
    assert standing(build, ENGINE, at=DAY + HOUR + dt.timedelta(seconds=1)).version == first
    more = signed(build, ENGINE, "fluids", at=DAY + HOUR)
    assert standing(more, ENGINE, at=DAY + 2 * HOUR).version != first
    said = StartAnswer(question="stood_long", answer="no")
    answers = (*(one for one in build.start.answers if one.question != "stood_long"), said)
    other = replace(build, start=replace(build.start, answers=answers))
    assert standing(other, ENGINE, at=DAY + HOUR).version != first

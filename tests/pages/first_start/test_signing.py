"""Signing on the page: one check, one form, one signature, and nothing typed is lost."""

import datetime as dt
import html
import re
from dataclasses import replace

import pytest

from tests.first_start.lists import LISTS, start_build
from tests.pages.first_start.conftest import FIELD, BayOf
from webapp.build.first_start import FirstStart
from webapp.first_start.check_list import CheckList


def test_a_check_is_signed_and_says_by_whom_and_when(bay_of: BayOf) -> None:
    bay = bay_of()
    status, page = bay.sign("battery_off")
    assert status == 200
    assert "Signed by A. Builder, 09:00:00" in page
    assert [(s.check, s.signer, s.seen) for s in bay.build.start.signatures] == [
        ("battery_off", "A. Builder", "by the wing, tied away")
    ]
    assert "signed by A. Builder, Sat 2 May 09:00" in bay.get("first-start/stage?key=dry")


def test_twenty_posts_within_two_seconds_give_one_signature_and_the_page_keeps_what_was_typed(
    bay_of: BayOf,
) -> None:
    bay = bay_of()
    keys = [one.check.key for one in bay.standing.all if one.can_be_signed][:10]
    answers = []
    for key in (*keys, *keys):
        bay.wait(seconds=0.1)
        answers.append(bay.sign(key, seen="tied to the wing with a cable"))
    assert [status for status, _ in answers].count(200) == 1
    assert {status for status, _ in answers[1:]} == {422}
    assert len(bay.build.start.signatures) == 1
    assert "1 second after the last one: look first, then sign." in answers[-1][1]
    assert 'value="A. Builder"' in answers[-1][1]


@pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)
def test_none_of_the_forms_holds_a_value_that_nobody_typed(
    bay_of: BayOf, checks: CheckList
) -> None:
    bay = bay_of(checks=checks)
    forms = 0
    for one in bay.standing.all:
        page = bay.get(f"first-start/check?key={one.check.key}").split("<main", 1)[1]
        for field in FIELD.findall(page):
            if 'type="hidden"' in field or 'name="opened"' in field:
                continue
            forms += 1
            value = re.search(r'value="([^"]*)"', field)
            is_tick = 'type="checkbox"' in field
            assert "checked" not in field, field
            assert is_tick or value is None or not value[1], field
    assert forms > 100


def test_no_route_takes_two_keys(bay_of: BayOf) -> None:
    bay = bay_of()
    fields = bay.filled("battery_off")
    bay.client.post(
        f"/builds/{bay.slug}/first-start/check?key=battery_off&key=crankcase_vent",
        data={**fields, "key": ["radiator_path", "intake_empty"]},
    )
    assert len(bay.build.start.signatures) == 1


def test_a_reading_that_is_empty_or_outside_is_refused_and_the_page_keeps_the_rest(
    bay_of: BayOf,
) -> None:
    bay = bay_of()
    bay.sign("battery_off")
    bay.wait(seconds=9)
    key = next(
        one.check.key
        for one in bay.standing.all
        if one.can_be_signed and any(r.high is not None for r in one.check.readings)
    )
    for typed in ("", "many", "99999"):
        status, page = bay.sign(key, **{"reading-0": typed, "signer": "C. Third", "sure-0": ""})
        assert status == 422
        assert 'value="C. Third"' in page
        assert f'value="{typed}"' in page
    assert len(bay.build.start.signatures) == 1
    status, page = bay.sign(key, **{"reading-0": "99999", "makers-0": "100000", "sure-0": "on"})
    assert status == 200, page
    assert "(the maker's figure is 100000)" in bay.get(f"first-start/check?key={key}")


def test_a_stale_form_writes_nothing_and_is_told_what_changed(bay_of: BayOf) -> None:
    bay = bay_of()
    old = bay.filled("battery_off")
    vent = next(o for o in bay.standing.all if o.can_be_signed and o.check.key != "battery_off")
    bay.wait(seconds=20)
    assert bay.sign(vent.check.key)[0] == 200
    bay.wait(seconds=20)
    status, page = bay.post("first-start/check?key=battery_off", **old)
    assert status == 422
    assert "The list is not what this page showed" in page
    assert f"signed: {vent.check.text}" in page
    assert len(bay.build.start.signatures) == 1


def test_it_is_taken_back_within_five_seconds_and_both_moments_stay(bay_of: BayOf) -> None:
    bay = bay_of()
    _, page = bay.sign("battery_off")
    assert "Take it back" in page
    bay.wait(seconds=4)
    key = bay.build.start.signatures[0].key
    assert bay.post("first-start/take-back", signature=key)[0] == 200
    signature = bay.build.start.signatures[0]
    assert signature.taken_back_at == signature.at + dt.timedelta(seconds=4)
    one = bay.standing.of("battery_off")
    assert one is not None
    assert one.state == "not signed"


def test_it_is_not_taken_back_after_that(bay_of: BayOf) -> None:
    bay = bay_of()
    bay.sign("battery_off")
    bay.wait(seconds=6)
    key = bay.build.start.signatures[0].key
    status, page = bay.post("first-start/take-back", signature=key)
    assert status == 422
    assert "more than 5 seconds ago" in page
    assert bay.build.start.signatures[0].taken_back_at is None


@pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)
def test_no_never_check_of_any_list_can_be_set_aside_or_left_out(
    bay_of: BayOf, checks: CheckList
) -> None:
    bay = bay_of(checks=checks)
    never = [one.check.key for one in bay.standing.all if one.check.waive == "never"]
    assert len(never) > 20
    for key in never:
        said = {"name": "A. Builder", "reason": "we do not need this", "version": bay.version}
        status, page = bay.post(f"first-start/check/set-aside?key={key}", **said)
        assert status == 422, key
        assert "never set aside" in page
        assert 'name="reason"' not in page
        status, _ = bay.post(f"first-start/check/leave-out?key={key}", choice_name="A. Builder")
        assert status == 422
    assert bay.build.start.set_asides == ()


def test_a_reason_has_three_words_and_stands_on_every_page_with_name_and_day(
    bay_of: BayOf,
) -> None:
    bay = bay_of()
    key = next(
        one.check.key
        for one in bay.standing.all
        if one.check.waive == "reason" and one.is_kept and not one.blocked_by
    )
    fields = {"name": "A. Builder", "version": bay.version}
    status, _ = bay.post(f"first-start/check/set-aside?key={key}", reason="no need", **fields)
    assert status == 422
    reason = "the shop did it"
    status, _ = bay.post(f"first-start/check/set-aside?key={key}", reason=reason, **fields)
    assert status == 200
    one = bay.standing.of(key)
    assert one is not None
    for page in ("first-start", f"first-start/stage?key={one.check.stage}"):
        known = re.search(r'<p id="known">.*?</p>', bay.get(page), re.DOTALL)
        assert known is not None
        assert one.check.text.rstrip(".") in known[0]
        assert f"({reason}; A. Builder)" in known[0]
    assert f"set aside by A. Builder, Sat 2 May 09:00: {reason}" in bay.get("first-start")


def test_an_answer_there_and_back_leaves_no_signature_on_what_hung_on_it(bay_of: BayOf) -> None:
    bay = bay_of()
    bay.sign("battery_off")
    bay.wait(seconds=9)
    assert bay.sign("turbo_free")[0] == 200
    page = bay.get("first-start/answers")
    shown = re.search(r'name="shown" value="([^"]*)"', page)
    assert shown
    for said in ("no", "yes"):
        bay.wait(seconds=9)
        text = bay.client.get(f"/builds/{bay.slug}/first-start/answers").text
        carried = re.search(r'name="shown" value="([^"]*)"', text)
        assert carried
        fields = {f"answer-{one.question}": one.answer for one in bay.build.start.answers}
        fields["answer-turbo"] = said
        status, page = bay.post("first-start/answers", shown=html.unescape(carried[1]), **fields)
        assert status == 200
        if said == "no":
            assert "Turn the turbo wheel by finger" in page.split("What the answers dropped")[1]
    one = bay.standing.of("turbo_free")
    assert one is not None
    assert one.state == "fallen"
    assert "was answered anew" in bay.get("first-start/check?key=turbo_free")


def test_a_licensed_check_asks_four_fields_and_that_the_paper_was_seen(bay_of: BayOf) -> None:
    build = start_build(LISTS[0], steering="hydraulic")
    bay = bay_of(build=build)
    page = bay.get("first-start/check?key=steering_joined")
    for name in ("paper_name", "paper_firm", "paper_number", "paper_on", "saw_paper"):
        assert f'name="{name}"' in page
    for wrong in (
        {"paper_name": "à. BÚilder"},
        {"paper_number": " "},
        {"paper_on": "2026-05-03"},
        {"paper_on": ""},
        {"saw_paper": ""},
    ):
        assert bay.sign("steering_joined", **wrong)[0] == 422, wrong
    assert bay.build.start.signatures == ()
    assert bay.sign("steering_joined")[0] == 200
    page = bay.get("first-start/check?key=steering_joined")
    assert "paper seen: J. Ferro, Ferro, no. 118" in page
    assert "The paper says so, this page does not" in page


def test_what_is_offered_is_taken_in_and_a_check_of_ones_own_is_added(bay_of: BayOf) -> None:
    bay = bay_of()
    offered = next(one for one in bay.standing.all if one.state == "offered")
    address = f"first-start/check/take-in?key={offered.check.key}"
    assert bay.post(address, choice_name="")[0] == 422
    assert bay.post(address, choice_name="A. Builder")[0] == 200
    now = bay.standing.of(offered.check.key)
    assert now is not None
    assert now.state == "not signed"
    own = {
        "text": "Look at the lamp",
        "stage": "dry",
        "circuit": "electrics",
        "why": "",
        "caution": "",
    }
    assert bay.post("first-start/own-check", **{**own, "stage": ""})[0] == 422
    status, page = bay.post("first-start/own-check", **{**own, "caution": "Hot glass."})
    assert status == 200
    assert "Look at the lamp" in page
    assert "Hot glass. Local codes and licensed practice come first." in page


def test_words_are_changed_and_the_caution_stays(bay_of: BayOf) -> None:
    bay = bay_of()
    one = bay.standing.of("battery_off")
    assert one is not None
    address = "first-start/check/words?key=battery_off"
    status, page = bay.post(address, words="Earth lead off, in the jar", words_name="A. Builder")
    assert status == 200
    assert "Earth lead off, in the jar" in page
    assert one.check.caution in page


def test_stop_lines_are_typed_and_may_not_be_too_long(bay_of: BayOf) -> None:
    build = start_build(LISTS[0])
    bay = bay_of(build=replace(build, start=replace(build.start, stop_lines=())))
    assert bay.post("first-start/stop-lines", **{"line-0": "x" * 61})[0] == 422
    fields = {f"line-{number}": f"there {number}" for number in range(4)}
    assert bay.post("first-start/stop-lines", **fields)[0] == 200
    assert [one.words for one in bay.build.start.stop_lines] == [f"there {n}" for n in range(4)]
    assert FirstStart().stop_lines == ()


def test_what_is_missing_of_a_reading_begins_like_a_sentence(bay_of: BayOf) -> None:
    bay = bay_of()
    for key in ("battery_off", "exhaust_joined"):
        assert bay.sign(key)[0] == 200
        bay.wait(seconds=9)
    status, page = bay.sign("exhaust_distance", **{"reading-0": "abc"})
    assert status == 422
    assert "Nearest unshielded, mm: a number is asked for." in page

"""Each kind of day from its first screen to its last, by what stands on the screens alone."""

import pytest

from tests.first_start.lists import BOAT, ELECTRIC, ENGINE, LISTS
from tests.first_start.walker import Walker, still
from tests.pages.first_start.conftest import BayOf
from tests.pages.first_start.hand import Hand
from webapp.first_start.check_list import CheckList
from webapp.first_start.list_facts import ENDS_THE_DAY, facts_of

EACH = pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)


def before_the_day(walker: Walker) -> None:
    stages = [stage.key for stage in walker.checks.stages]
    place = facts_of(walker.checks).place_stage
    walker.sign_all(*stages[: stages.index(place)], only=still)
    walker.wait(seconds=10)


def at_its_day(bay_of: BayOf, checks: CheckList) -> Hand:
    hand = Hand(bay_of(before_the_day, checks=checks))
    hand.look()
    return hand


def runs(hand: Hand) -> list[tuple[str, str | None]]:
    return [(run.kind, run.ending) for run in hand.bay.build.start.runs]


def unmet(hand: Hand, *, but: str = "after") -> list[str]:
    return [
        one.check.key for one in hand.bay.standing.all if not one.is_met and one.check.stage != but
    ]


def test_the_day_of_an_engine_is_walked_to_its_end(bay_of: BayOf) -> None:
    hand = at_its_day(bay_of, ENGINE)
    hand.to("it ran")
    assert "It ran" in hand.buttons
    hand.to("over")
    assert unmet(hand) == []
    assert runs(hand) == [("prime", "not fired"), ("start", "stopped"), ("start", "stopped")]
    assert ("wait", "") in hand.seen  # the ten minutes of heat


def test_the_day_of_an_electric_conversion_is_walked_to_its_end(bay_of: BayOf) -> None:
    hand = at_its_day(bay_of, ELECTRIC)
    hand.to("it ran")
    assert "Did it drive, and stop the normal way?" in hand.page
    assert "It drove" in hand.buttons
    # powered up, turned by the firm, turned for what is tapped, driven; each stopped by its press
    assert runs(hand) == [(kind, "stopped") for kind in ("power", "spin", "spin", "drive")]
    hand.step()
    assert "It drove: " in hand.page
    assert "Stay thirty minutes" in hand.page
    hand.to("over")
    assert unmet(hand) == []
    assert hand.bay.standing.of("watch_pack").state == "stands"  # type: ignore[union-attr]
    assert "Not on a road before the inspection" in hand.page


def test_the_pack_is_looked_at_an_hour_after_its_first_charge(bay_of: BayOf) -> None:
    hand = at_its_day(bay_of, ELECTRIC)
    hand.to("sign", "first_charge")
    hand.step()
    assert hand.screen == "wait", (hand.screen, hand.asked)
    assert "60:00 left" in hand.page
    typed = {**hand.bay.filled("watched_after_charge"), "check": "watched_after_charge"}
    assert hand.bay.post("first-start/day", **typed)[0] == 422
    hand.bay.wait(minutes=60)
    hand.look()
    assert (hand.screen, hand.asked) == ("sign", "watched_after_charge")


def test_the_day_of_a_boat_is_walked_to_its_end(bay_of: BayOf) -> None:
    hand = at_its_day(bay_of, BOAT)
    assert (hand.screen, hand.asked) == ("sign", "opened_since")  # what all else waits for, first
    hand.to("it ran")
    assert "It ran" in hand.buttons
    hand.to("over")
    assert unmet(hand) == []
    # primed; the first minute; the heat; in gear, each run watched after it
    kinds = [("prime", "not fired"), *[("start", "stopped")] * 3]
    assert runs(hand) == kinds
    signed = [one.check for one in hand.bay.build.start.signatures]
    assert signed.count("fire_watch") == 2
    assert signed.index("gear_berth") > signed.index("fire_watch")
    assert signed[-1] == "bilge_after"


@EACH
def test_every_press_of_a_run_is_a_way_to_its_screen_and_stopped_is_on_each(
    bay_of: BayOf, checks: CheckList
) -> None:
    hand = at_its_day(bay_of, checks)
    turned = next(iter(facts_of(checks).gates)) if checks is ELECTRIC else "start"
    while not [kind for kind, _ in runs(hand) if kind == turned]:
        hand.step()
    while hand.screen != "running":
        hand.step()
    assert hand.buttons[:2] == ["Stopped", "It stands"]
    hand.step()
    assert "signed: take back" in hand.buttons
    hand.press("stopped")
    assert hand.screen == "stopped"
    assert hand.form("begin") is None
    # each cause of the list is one that can be picked; nothing is written without words
    for abort in hand.bay.standing.checks.aborts_for(hand.bay.standing.answers):
        assert f'value="{abort.key}"' in hand.page
    assert hand.send("cause", abort="post_left") == 422
    hand.press("cause", abort="post_left", cause="left for the hose")
    assert hand.screen != "turn"  # the posts are taken anew first


@EACH
@pytest.mark.parametrize("ends", [True, False], ids=["ends the day", "twice of a kind"])
def test_enough_for_today_is_a_screen_of_its_own(
    bay_of: BayOf, checks: CheckList, ends: bool
) -> None:
    hand = at_its_day(bay_of, checks)
    aborts = [one.key for one in checks.aborts_for(hand.bay.standing.answers)]
    key = next(one for one in aborts if (one in ENDS_THE_DAY) is ends)
    for _ in range(1 if ends else 2):
        hand.look()
        hand.press("stopped")
        hand.bay.wait(minutes=1)
        hand.press("cause", abort=key, cause="what it was, mended")
    hand.look()
    assert hand.screen == "enough"
    assert "It opens again in the morning" in hand.page


@EACH
def test_what_a_change_opens_is_asked_again_before_anything_is_turned(
    bay_of: BayOf, checks: CheckList
) -> None:
    hand = at_its_day(bay_of, checks)
    hand.to("turn")
    question = {"engine": "fan", "electric": "servo", "boat": "exhaust"}[checks.key]
    was = hand.bay.standing.answers[question]
    asked = next(one for one in checks.questions if one.key == question)
    other = next(one for one in asked.answers if one != was)
    for answer in (other, was):
        hand.bay.wait(seconds=9)
        said = {f"answer-{question}": answer}
        status, page = hand.bay.post("first-start/answers", **said)
        assert status == 200, page
    fell = [one.check.key for one in hand.bay.standing.all if one.state == "fallen"]
    assert fell
    hand.look()
    assert hand.screen in ("sign", "not yet")
    assert hand.form("begin") is None


def test_who_left_for_an_hour_says_so_on_the_day_and_the_place_is_asked_again(
    bay_of: BayOf,
) -> None:
    hand = at_its_day(bay_of, ENGINE)
    hand.to("turn")
    hand.bay.wait(hours=2)
    hand.look()
    assert "Left it for more than an hour, or opened something? Say so first." in hand.page
    page = hand.bay.get("first-start/check?key=opened_since")
    assert "leaving for more than an hour" in page.partition('class="sign-check"')[2]
    left = {"opened": ["leaving for more than an hour"]}
    assert hand.bay.sign("opened_since", **left)[0] == 200
    standing = hand.bay.standing
    for key in ("gas_out", "nobody_near", "extinguisher_out"):
        assert standing.of(key).state == "fallen"  # type: ignore[union-attr]
    assert standing.of("opened_since").state == "stands"  # type: ignore[union-attr]
    hand.look()
    assert (hand.screen, hand.asked) == ("sign", "gas_out")

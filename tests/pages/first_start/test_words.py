"""What the pages say and never say: the sentence with its counts, and words that are never used."""

import re

import pytest

from tests.first_start.lists import ELECTRIC, ENGINE, LISTS
from tests.first_start.walker import to_it_ran, to_the_key
from tests.pages.first_start.conftest import Bay, BayOf
from webapp.first_start.check_list import CheckList
from webapp.pages.words.start_page import LOCAL_CODES
from webapp.settings import resource_root

NEVER = (
    *("safe", "safely", "safety", "approved", "compliant", "legal", "roadworthy", "passed"),
    *("ok", "okay", "all good", "looks good", "good to go", "ready", "cleared", "go ahead"),
    *("verified", "validated", "guaranteed", "ensured", "confirmed", "risk-free", "no risk"),
    *("harmless", "foolproof", "fail-safe", "simply", "quickly", "easy", "skip", "ignore"),
    *("dismiss", "retry", "try again", "congratulations", "well done", "warning", "danger"),
    *("expert", "professional", "we recommend", "best practice", "invalid", "error"),
    *("should be fine", "sign all", "tick all", "as last time", "complete", "completed"),
)
"""From the list of words that the program never uses; those that name a thing a person owns or
stand in the trade's own sentences ("certified people", "empty tank") are left to the lists."""
ADDRESSES = (
    *("first-start", "first-start/day", "first-start/sheet", "first-start/sheet?whole=1"),
    *("first-start/answers", "first-start/stop-lines", "first-start/own-check"),
    *("first-start/open?kind=check", "first-start/open?kind=task"),
)


def said(page: str) -> str:
    """What stands on a page of First start: without the frame and the way to skip it."""
    page = re.sub(r'<a class="skip".*?</a>', "", page.split("<body", 1)[1], flags=re.DOTALL)
    page = re.sub(r'<p id="(?:unanswered|waiting)".*?</p>', "", page, flags=re.DOTALL)
    page = re.sub(r"<header class=\"frame\">.*?</header>", "", page, flags=re.DOTALL)
    text = re.sub(r"<[^>]*>", " ", page)
    for own in OF_THE_TRADE:
        text = text.replace(own, " ")
    return text


def _sentences() -> set[str]:
    """The lists' own sentences and tasks: "chocks ready" and a warning lamp are no verdicts."""
    checks = [check for each in LISTS for check in each.checks]
    aborts = [abort for each in LISTS for _, found in each.aborts for abort in found]
    stages = [stage for each in LISTS for stage in each.stages]
    found = {text for one in checks for text in (one.text, one.why, one.caution)}
    found |= {text.removesuffix(LOCAL_CODES).strip() for text in found}
    found |= {name for each in LISTS for _, name in each.task_names}
    found |= {wanted.usual for one in checks for wanted in one.readings}
    found |= {text for one in aborts for text in (one.notice, one.action, one.after)}
    found |= {text.rstrip(".") for text in found} | {one.note for one in stages}
    return found - {""}


OF_THE_TRADE = sorted(_sentences(), key=len, reverse=True)


def found_in(text: str) -> list[str]:
    return [one for one in NEVER if re.search(rf"(?<![\w-]){one}(?![\w-])", text, re.IGNORECASE)]


def pages_of(bay: Bay) -> list[str]:
    stages = [f"first-start/stage?key={stage.stage.key}" for stage in bay.standing.stages]
    circuits = [f"first-start/circuit?key={name}" for name, _ in bay.standing.checks.groups]
    checks = [f"first-start/check?key={one.check.key}" for one in bay.standing.all[::4]]
    return [*ADDRESSES, *stages, *circuits, *checks]


@pytest.mark.parametrize("checks", LISTS, ids=lambda one: one.key)
def test_no_page_uses_a_word_that_is_never_used(bay_of: BayOf, checks: CheckList) -> None:
    bay = bay_of(checks=checks)
    wrong = {name: found_in(said(bay.get(name))) for name in pages_of(bay)}
    assert {name: words for name, words in wrong.items() if words} == {}


def test_nor_does_any_state_of_the_day_or_a_refusal(bay_of: BayOf) -> None:
    for walk in (to_the_key, to_it_ran):
        bay = bay_of(walk)
        pages = [bay.get("first-start/day"), bay.get("first-start"), bay.get("first-start/sheet")]
        pages.append(bay.post("first-start/day/begin", kind="start", version="old")[1])
        pages.append(bay.post("first-start/day/stopped")[1])
        pages.append(bay.post("first-start/day/cause", run="", abort="", cause="")[1])
        pages.append(bay.sign("normal_stop", signer="", **{"reading-0": "9000"})[1])
        for page in pages:
            assert found_in(said(page)) == []


def test_nor_does_any_template() -> None:
    for template in (resource_root() / "templates" / "first_start").glob("*.html"):
        text = re.sub(r"\{[{%#].*?[}%#]\}", " ", template.read_text("utf-8"), flags=re.DOTALL)
        assert found_in(re.sub(r"<[^>]*>", " ", text)) == [], template


def test_nothing_is_cranked_on_the_day_of_an_electric_conversion(bay_of: BayOf) -> None:
    page = bay_of(checks=ELECTRIC).get("first-start/day")
    assert "if it was switched on or drove without this page" in page
    assert "crank" not in page


def known(page: str) -> str:
    found = re.search(r'<p id="known">(.*?)</p>', page, re.DOTALL)
    assert found, page
    return found[1]


def test_the_sentence_stands_in_one_plain_paragraph_with_all_that_it_does_not_know(
    bay_of: BayOf,
) -> None:
    bay = bay_of(to_the_key)
    assert bay.standing.is_nothing_known_open
    for name in ("first-start", "first-start/day", "first-start/stage?key=start"):
        page = bay.get(name)
        text = known(page)
        assert text.startswith("Nothing known is open. 0 set aside.")
        assert f"{len(bay.standing.dropped)} dropped by answers." in text
        assert "0 questions not answered." in text
        assert f"{len(bay.standing.not_taken)} offered and not taken in." in text
        assert text.endswith("What nobody logged is not known here.")
        assert page.count("Nothing known is open") == 1
    bay.wait(days=1)
    assert "Nothing known is open" not in bay.get("first-start")


def test_every_check_of_a_shut_stage_is_readable_with_its_caution(bay_of: BayOf) -> None:
    bay = bay_of()
    for stage in bay.standing.stages:
        kept = [one for one in stage.checks if one.is_kept]
        pages = -(-len(kept) // 12)
        text = "".join(
            bay.get(f"first-start/stage?key={stage.stage.key}&page={number + 1}")
            for number in range(pages)
        )
        for one in kept:
            assert one.check.text in text
            assert one.check.caution in text
        if not stage.is_open:
            assert "Look, then sign" not in text


def test_the_sentence_of_local_codes_stands_behind_every_caution(bay_of: BayOf) -> None:
    bay = bay_of(checks=ELECTRIC)
    cautions = 0
    for stage in bay.standing.stages:
        page = bay.get(f"first-start/stage?key={stage.stage.key}")
        for text in re.findall(r'<div class="caution"><b>Caution</b><p>(.*?)</p>', page):
            cautions += 1
            assert text.endswith("Local codes and licensed practice come first.")
            assert text.count("Local codes and licensed practice") == 1
    assert cautions > 20


def test_the_day_and_the_first_page_name_the_ten_oldest_signatures(bay_of: BayOf) -> None:
    bay = bay_of(to_the_key)
    oldest = bay.standing.oldest
    assert len(oldest) == 10
    names = {check.key: check.text for check in ENGINE.checks}
    for name in ("first-start", "first-start/day"):
        page = bay.get(name).split('id="oldest"', 1)[1]
        for one in oldest:
            assert f"{names[one.check]} (A. Builder)" in page
    assert "Sat 2 May" in page

"""The command `keyturn first-start`: check by check, and never a verdict."""

import json
import re
from dataclasses import replace
from typing import Any

from tests.first_start.lists import BOAT, DAY, ENGINE, LISTS, before_key, signed, start_build
from tests.forked_command import keyturn
from webapp.build.build_input import BuildInput, Task
from webapp.build.first_start import SetAside
from webapp.build.shop import DayHours, Shop, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.command.start_table import start_table
from webapp.exchange.build_document import write_document
from webapp.exchange.start_document import start_document
from webapp.first_start.evaluation import start_standing
from webapp.pages.words.first_start import NOTHING_KNOWN, open_words

NEVER_SAID = re.compile(
    r"\b(safe|safely|safety|approved|certified|compliant|roadworthy|passed|fail|failed|okay|ok|"
    r"all good|looks good|good to go|cleared|go ahead|100 %|verified|validated|guaranteed|"
    r"ensured|risk-free|foolproof|congratulations|well done|retry|invalid|warning)\b",
    re.IGNORECASE,
)
"""Of cautions.md, "words the program must never use", as far as they are words by themselves."""


def plannable(build: BuildInput) -> BuildInput:
    """The build with a first start and a shop week, as a document needs them, in the afternoon."""
    hours = DayHours(opens_minute=540, closes_minute=1020)
    return replace(
        build,
        first_start="start",
        tasks=(Task(key="start", name="Start", hours=ThreePoint.certain(1.0)),),
        shop=Shop(week=(WeekSession(weekday=5, hours=hours),)),
        now=DAY.replace(hour=14, tzinfo=None),
    )


def answered(build: BuildInput) -> dict[str, Any]:
    done = keyturn("first-start", "-", "--json", typed=write_document(build))
    assert done.returncode == 0, done.stderr
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer


def test_the_answer_names_each_check_and_exactly_what_is_open() -> None:
    build = signed(start_build(ENGINE), ENGINE, *before_key(ENGINE), at=DAY)
    whole = plannable(build)
    answer = answered(whole)
    assert answer["nothing_known_open"] is True
    assert answer["open"] == []
    assert sum(len(stage["checks"]) for stage in answer["stages"]) == 126
    left = tuple(one for one in whole.start.signatures if one.check != "fuel_closed")
    answer = answered(replace(whole, start=replace(whole.start, signatures=left)))
    assert answer["nothing_known_open"] is False
    assert "fuel_closed" in {one["key"] for one in answer["open"]}


def test_way_1_the_sentence_never_stands_alone_and_stands_only_where_nothing_is_open() -> None:
    build = signed(start_build(BOAT), BOAT, *before_key(BOAT), at=DAY)
    at = DAY.replace(hour=14)
    said = open_words(start_standing(build, BOAT, at=at))
    assert said.startswith(NOTHING_KNOWN)
    for count in ("set aside", "dropped by answers", "not answered", "not taken in"):
        assert count in said
    assert said.endswith("What nobody logged is not known here.")
    less = replace(build.start, signatures=build.start.signatures[1:])
    assert NOTHING_KNOWN not in open_words(start_standing(replace(build, start=less), BOAT, at=at))


def test_way_1_no_word_of_a_verdict_is_said_of_any_list() -> None:
    for checks in LISTS:
        for build in (
            start_build(checks),
            signed(start_build(checks), checks, *before_key(checks), at=DAY),
        ):
            standing = start_standing(build, checks, at=DAY.replace(hour=14))
            table = start_table(standing)
            document = json.dumps(start_document(standing, open_words(standing)))
            # the shipped words of a check name things ("safety pin"): the program adds none
            for check in checks.checks:
                for own in (check.text, check.why, check.caution):
                    table = table.replace(own, "")
                    document = document.replace(json.dumps(own)[1:-1], "")
            for text in (table, document):
                assert not NEVER_SAID.findall(text), checks.key


def test_way_7_what_is_set_aside_stands_by_name_with_its_reason_in_sentence_and_json() -> None:
    build = start_build(ENGINE)
    keys = [check.key for check in ENGINE.checks if check.waive == "reason" and check.caution][:7]
    asides = tuple(
        SetAside(key=f"a{n}", check=key, at=DAY, name="A. Builder", reason=f"reason number {n}")
        for n, key in enumerate(keys)
        if key not in ("compressor_bypassed",)
    )
    build = replace(build, start=replace(build.start, set_asides=asides))
    answer = answered(plannable(build))
    kept = {one["check"] for one in answer["set_aside"]}
    assert len(kept) > 3
    words = {check.key: check.text for check in ENGINE.checks}
    for one in answer["set_aside"]:
        assert words[one["check"]] in answer["said"]
        assert f"({one['reason']}; A. Builder)" in answer["said"]


def test_a_person_is_told_stage_by_stage() -> None:
    build = signed(start_build(ENGINE), ENGINE, "dry", at=DAY)
    done = keyturn("first-start", "-", typed=write_document(plannable(build)))
    assert done.returncode == 0, done.stderr
    assert "1. Before fluids\n" in done.stdout
    assert "2. Fluids in\n" in done.stdout
    assert "3. The place, then fuel (shut: an earlier stage is not through)" in done.stdout
    assert "Caution: " in done.stdout


def test_a_document_with_faults_is_refused() -> None:
    done = keyturn("first-start", "-", "--json", typed="{}")
    assert done.returncode == 2
    assert "build" in done.stderr

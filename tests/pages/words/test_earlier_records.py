"""What is said of the records of earlier builds."""

import datetime as dt
from dataclasses import replace

from tests.build.builds import build_of, task
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.pages.words.earlier_records import (
    drawn_words,
    offer_words,
    shows,
    tasks_behind,
    weeks_behind,
    whose,
)

HERON = EarlierRecord(
    key="heron",
    name="The Heron",
    taken_on=dt.date(2026, 1, 5),
    kinds=(EarlierKind(tasks=38, actual_hours=124.0, expected_hours=100.0, worth=30.0),),
    weeks=8,
    workable_hours=100.0,
    worked_hours=82.0,
)
GREBE = EarlierRecord(
    key="grebe",
    name="The Grebe",
    taken_on=dt.date(2026, 1, 6),
    kinds=(EarlierKind(tasks=1, actual_hours=3.0, expected_hours=2.0, worth=1.0),),
)
BUILD = replace(build_of([task("a", 1)]), earlier_records=(HERON,))


def test_an_offer_says_what_the_record_showed() -> None:
    assert offer_words(HERON) == (
        "Begin with the record of The Heron: 38 tasks took 1.24 times their hours, 8 weeks, 82 %"
        " of the workable hours"
    )
    assert shows(GREBE) == "1 task took 1.50 times its hours"


def test_what_stands_behind_a_factor_is_told_by_whose_it_is() -> None:
    assert tasks_behind(0, BUILD) == "38 tasks of The Heron"
    assert tasks_behind(3, BUILD) == "3 tasks here and 38 of The Heron"
    assert weeks_behind(1, BUILD) == "1 week here and 8 of The Heron"
    both = replace(BUILD, earlier_records=(HERON, GREBE))
    assert tasks_behind(0, both) == "39 tasks of The Heron and The Grebe"
    assert weeks_behind(0, both) == "8 weeks of The Heron"
    off = replace(BUILD, earlier_records=(replace(HERON, counts=False),))
    assert (tasks_behind(3, off), tasks_behind(0, off), whose(off)) == ("3 tasks", "", "")


def test_the_command_tells_whose_record_is_drawn() -> None:
    assert drawn_words(BUILD, 1.2, 0.9) == (
        "With the record of The Heron beside its own.",
        "  The Heron, taken 2026-01-05: 38 tasks took 1.24 times their hours, 8 weeks, 82 % of the"
        " workable hours.",
        "Work is drawn round \N{MULTIPLICATION SIGN} 1.20 of its estimate and 90 % of the workable"
        " hours as worked.",
    )
    assert drawn_words(replace(BUILD, calibrated=False, attended=False), 1.0, 1.0) == ()

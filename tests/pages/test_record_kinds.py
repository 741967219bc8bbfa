"""The table of the record: what comes from earlier builds, what from this one, what of both."""

import datetime as dt
import re
from dataclasses import replace

from tests.lives.living import Truth, lived
from tests.planning.record.test_earlier_records import (
    LATER,
    first_build,
    record,
    second_build,
    slow,
)
from webapp.build.starter.own_list import begun_from, own_list
from webapp.pages.record.kinds import KindLine, kind_lines
from webapp.pages.words.amounts import NOTHING

FOUND = re.compile("\N{MULTIPLICATION SIGN} (\\d+\\.\\d+)")


def told(line: KindLine) -> tuple[float, float, float, float]:
    """Of its sentence: a kind's own tasks put right, how far believed, the rest, the factor."""
    text = " ".join(line.how.sentences)
    percent = re.search(r"believed to (\d+) %", text)
    assert percent is not None, text
    _, put_right, rest, factor = map(float, FOUND.findall(text)[-4:])
    return put_right, int(percent[1]) / 100, rest, factor


def test_the_sentence_of_a_kind_works_out_to_the_factor_beside_it() -> None:
    build = lived(second_build(record()), LATER + dt.timedelta(weeks=2), slow(0.9))
    lines = kind_lines(build)
    assert lines.is_heard
    worked = [line for line in lines.kinds if line.here.count]
    assert worked
    for line in worked:
        put_right, weight, rest, factor = told(line)
        assert f"\N{MULTIPLICATION SIGN} {factor:.2f}" == line.factor
        # rest x (put right / rest) ^ weight, each told to two digits
        assert abs(rest * (put_right / rest) ** weight - factor) < 0.015
        assert line.before.factor != line.factor


def test_what_earlier_builds_had_none_of_says_so() -> None:
    lines = kind_lines(second_build(record()))
    assert [line.name for line in lines.kinds] == ["without a setup", "TIG welder"]
    assert [line.before.count for line in lines.kinds] == ["8 tasks", "4 tasks"]
    assert {line.here.factor for line in lines.kinds} == {NOTHING}
    (level,) = lines.ends
    assert "12 tasks of earlier builds and 0 tasks of this one" in level.how.sentences[0]


def test_work_at_hours_once_taken_stands_apart_and_says_why() -> None:
    made = own_list(first_build(), "As it took")
    begun = begun_from(made, name="The Gull", now=LATER, starts_on=LATER.date())
    heard = replace(begun, earlier_records=(record(),))
    *_, taken = kind_lines(heard).ends
    assert taken.name == "other work at hours once taken"
    assert (taken.factor, taken.words) == ("\N{MULTIPLICATION SIGN} 1.00", "takes what it took")
    done = lived(heard, LATER + dt.timedelta(weeks=4), Truth())
    apart = [line for line in kind_lines(done).kinds if "hours once taken" in line.name]
    assert apart
    for line in apart:
        assert "is not put on them again" in line.how.sentences[0]
        put_right, weight, rest, factor = told(line)
        assert abs(rest * (put_right / rest) ** weight - factor) < 0.015

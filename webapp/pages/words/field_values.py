"""Fields of the things of a build in words: what each is called, and what stands in it."""

import datetime as dt
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.pages.words import sizes
from webapp.pages.words.data_sheet_fields import pulleys_told
from webapp.pages.words.field_writers import (
    PART,
    TASK,
    WISH,
    FieldWords,
    Written,
    clock_told,
    count_of_told,
    day_told,
    decision_told,
    earlier_kinds_told,
    hours_told,
    in_shop_units_told,
    money_told,
    named_told,
    number_or_word_told,
    number_told,
    odds_told,
    order_told,
    paper_told,
    range_week_told,
    reaches_told,
    rules_written,
    sessions_told,
    setups_told,
    stations_told,
    tasks_named_told,
    text_told,
    units_told,
    week_told,
    wish_parts_told,
    yes_told,
)
from webapp.pages.words.plumbed_fields import (
    passages_words,
    pieces_told,
    ports_told,
    volumes_told,
    waived_told,
)
from webapp.pages.words.room_fields import held_told
from webapp.pages.words.steps import measures_told, steps_told
from webapp.pages.words.the_end import of_the_end

_CIRCUIT = named_told(lambda build: build.plumbing.circuits)
_SUBSYSTEM = named_told(lambda build: build.subsystems)
_SETUP = named_told(lambda build: build.shop.setups)


def _of(**named: tuple[str, Written] | FieldWords) -> dict[str, FieldWords]:
    return {
        field: said if isinstance(said, FieldWords) else FieldWords(label=said[0], written=said[1])
        for field, said in named.items()
    }


_HOURS, _DAYS = number_told(" h"), number_told(" days")

FIELD_WORDS: dict[str, dict[str, FieldWords]] = {
    "build": _of(
        name=("name of the build", text_told),
        vehicle=("vehicle", text_told),
        first_start=("task that is first start", TASK),
        starts_on=("starts on", day_told),
        wanted_by=("wanted by", day_told),
        confidence=("what firm stands for", odds_told),
        calibrated=("forecast corrects estimates by the record", yes_told),
        attended=("forecast takes the shop week as it was worked", yes_told),
        kept_order=("order of work", order_told),
        kept_on=("order kept on", day_told),
        kept_setup_first=("setup that is out goes first in the order of work", yes_told),
        house_rules=("house rules", rules_written),
        on_bench=("on the bench", clock_told),
        end_name=("what the end is called", text_told),
        starter_list=("starter list it was begun from", text_told),
        starter_answers=("answers to the starter list", count_of_told("answer")),
        starter_left_out=("left out of the starter list", count_of_told("thing")),
        units=("units of the shop", units_told),
        currency=("currency", text_told),
        money_limit=("limit of money", money_told),
    ),
    "shop": _of(
        people=("people who work in parallel", number_told()),
        setups_out=("setups that are out", setups_told),
    ),
    "subsystem": _of(
        name=("name", text_told),
        medium=("medium", text_told),
        order=("place in the working order", number_told()),
    ),
    "setup": _of(name=("name", text_told), hours=("hours to set up", _HOURS)),
    "station": _of(name=("name", text_told), count=("how many", number_told())),
    "task": _of(
        name=("name", text_told),
        hours=("hours", hours_told),
        subsystem=("subsystem", _SUBSYSTEM),
        setup=("setup it needs", _SETUP),
        people=("people", number_told()),
        helper=("needs the helper", yes_told),
        in_one_go=("in one go", yes_told),
        stations=("stations it needs", stations_told),
        outside_days=("days outside", _DAYS),
        space_litres=("space it claims", number_told(" litres")),
        begun_on=("begun on", day_told),
        finished_on=("finished on", day_told),
        set_aside_on=("set aside on", day_told),
        hours_left=("hours left", _HOURS),
        caution=("caution", text_told),
        notes=("notes", text_told),
        steps=FieldWords(label="steps", written=count_of_told("step"), told=steps_told),
        measures=FieldWords(
            label="torques and sizes", written=count_of_told("line"), told=measures_told
        ),
        wish=("wish it came from", WISH),
        spread_assumed=("range is assumed", yes_told),
        hours_guessed=("hours are the starter list's guess", yes_told),
        cost=("cost", money_told),
        paid=("paid", money_told),
        offer_cost=("what somebody else would take", money_told),
        offer_days=("days somebody else would take", _DAYS),
        hours_taken=("hours are as it took last time", yes_told),
    ),
    "dependency": _of(wait_hours=("wait", _HOURS), why=("reason", text_told)),
    "part": _of(
        name=("name", text_told),
        serves=("tasks it serves", tasks_named_told),
        arrives_on=("arrives on", day_told),
        arrived=("it is here", yes_told),
        promised_on=("promised for", day_told),
        ordered_on=("ordered on", day_told),
        lead_days=("lead time", _DAYS),
        cost=("cost", money_told),
        paid=("paid", money_told),
        supplier=("supplier", text_told),
    ),
    "earlier record": _of(
        name=("name", text_told),
        taken_on=("taken on", day_told),
        counts=("it counts", yes_told),
        kinds=("kinds of work", earlier_kinds_told),
        weeks=("weeks", number_told()),
        workable_hours=("hours that could be worked", _HOURS),
        worked_hours=("hours that were worked", _HOURS),
    ),
    "looked at": _of(on=("looked at on", day_told)),
    "photograph": _of(
        caption=("caption", text_told),
        added_on=("added on", day_told),
        task=("task", TASK),
        **{name: (name, number_told()) for name in ("width_px", "height_px", "size_bytes")},
        digest=("digest", text_told),
    ),
    "day": _of(sessions=("hours", sessions_told)),
    "later week": _of(week=("hours", week_told)),
    "range": _of(
        last_on=("last day", day_told), name=("name", text_told), week=("hours", range_week_told)
    ),
    "wish size": _of(name=("name", text_told), hours=("hours", hours_told)),
    "wish": _of(
        text=("text", text_told),
        logged_on=("logged on", day_told),
        subsystem=("subsystem", _SUBSYSTEM),
        after=("comes after", TASK),
        before=("comes before", TASK),
        size=("quick size", named_told(lambda build: build.wish_sizes)),
        hours=("hours", hours_told),
        setup=("setup it needs", _SETUP),
        rough_in_hours=("hours to rough in", hours_told),
        later_extra_hours=("extra hours if it is fitted later", _HOURS),
        parts=("parts", wish_parts_told),
        cost=("other money", money_told),
        paid=("other money that was paid", money_told),
        decision=("decision", decision_told),
    ),
    "circuit": _of(
        name=("name", text_told),
        medium=("medium", text_told),
        from_port=("begins at", text_told),
        to_port=("ends at", text_told),
        subsystem=("subsystem", _SUBSYSTEM),
        hose=("hose it is made of", text_told),
        tube=("tube it is made of", text_told),
        bar=("pressure", in_shop_units_told(sizes.bar_told)),
        highest=("highest port", text_told),
        waived=FieldWords(
            label="what it goes without", written=count_of_told("thing"), told=waived_told
        ),
        holds=("tasks that wait for it", tasks_named_told),
        needed_to_start=("needed to start", yes_told),
        test=("test", text_told),
        tested_on=("tested on", day_told),
        frost_c=("frost its coolant stands", in_shop_units_told(sizes.temperature_told)),
        antifreeze=("concentrate of its coolant", text_told),
        full_litres=("what it holds", in_shop_units_told(sizes.litres_told)),
        there_litres=("coolant in it already", in_shop_units_told(sizes.litres_told)),
        there_percent=("concentrate in that", number_told(" %")),
    ),
    "component": _of(
        name=("name", text_told),
        kind=("kind", text_told),
        circuit=("circuit", _CIRCUIT),
        part=("part it is", PART),
        volumes=FieldWords(label="litres", written=count_of_told("circuit"), told=volumes_told),
        passages=("passages inside", lambda value, *_: passages_words(value)),
        ports=FieldWords(label="ports", written=count_of_told("port"), told=ports_told),
    ),
    "run": _of(
        name=("name", text_told),
        from_port=("begins at", text_told),
        to_port=("ends at", text_told),
        pieces=FieldWords(label="pieces", written=count_of_told("piece"), told=pieces_told),
        cut_on=("cut on", day_told),
        fitted_on=("fitted on", day_told),
        clamped_on=("clamped on", day_told),
        clamps=("clamps on it", count_of_told("clamp")),
        tasks=("tasks that make and fit it", tasks_named_told),
        licensed=("who makes it", text_told),
    ),
    "sold": _of(price=("price", number_told()), count=("how many there are", number_told())),
    "figure": _of(value=("value", number_or_word_told), source=("where it was read", text_told)),
    "limit": _of(
        ok=("ok to", number_told()),
        tight=("tight to", number_told()),
        source=("who says so", text_told),
    ),
    "wire": _of(
        name=("name", text_told),
        use=("what it is for", text_told),
        current_a=("current", number_told(" A")),
        area_mm2=("area", number_told(" mm²")),
        out_and_back_m=("length out and back", number_told(" m")),
        celsius=("how warm it is", number_told(" °C")),
        fuse_a=("fuse", number_told(" A")),
        carries_a=("what it carries", number_told(" A")),
    ),
    "belt": _of(
        name=("name", text_told),
        length_mm=("length", number_told(" mm")),
        take_up_mm=("take-up of the tensioner", number_told(" mm")),
        pulleys=FieldWords(label="pulleys", written=count_of_told("pulley"), told=pulleys_told),
    ),
    "start answer": _of(answer=("answer", text_told)),
    "signature": _of(
        check=("check", text_told),
        at=("signed", day_told),
        signer=("signed by", text_told),
        helper=("helper", text_told),
        seen=("what was seen", text_told),
        readings=("readings", count_of_told("reading")),
        paper=("paper seen", paper_told),
        is_tap=("tapped while it ran", yes_told),
        taken_back_at=("taken back", day_told),
    ),
    "check set aside": _of(
        check=("check", text_told),
        at=("set aside", day_told),
        name=("by", text_told),
        reason=("reason", text_told),
    ),
    "check change": _of(
        at=("changed", day_told),
        name=("by", text_told),
        words=("words", text_told),
        choice=("choice", text_told),
    ),
    "own check": _of(
        stage=("stage", text_told),
        circuit=("circuit", text_told),
        text=("check", text_told),
        why=("why", text_told),
        caution=("caution", text_told),
    ),
    "opening": _of(
        name=("name", text_told), how=("how", text_told), reaches=("reaches", reaches_told)
    ),
    "engine run": _of(
        kind=("kind", text_told),
        begun_at=("begun", day_told),
        fired_at=("fired", day_told),
        ended_at=("ended", day_told),
        ending=("how it ended", text_told),
        abort=("why it was stopped", text_told),
        cause=("what it was and what was done", text_told),
        cause_at=("written down", day_told),
        ran_at=("it ran", day_told),
    ),
    "stop line": _of(words=("words", text_told)),
    "room": _of(
        name=("name", text_told),
        measured_mm=("what was measured", in_shop_units_told(sizes.length_told)),
        plus_minus_mm=("give or take", in_shop_units_told(sizes.length_told)),
        holds=FieldWords(label="what it holds", written=count_of_told("thing"), told=held_told),
    ),
}
"""By kind and field; what has no field of its own (the log, a session) is told as a whole."""


def field_label(kind: str, field: str) -> str:
    """What a field is called in a sentence."""
    said = FIELD_WORDS.get(kind, {}).get(field)
    return of_the_end(said.label) if said else field.replace("_", " ")


def list_told(kind: str, field: str, was: Any, now: Any) -> str:
    """What became of the things in a list; "" where that is told by its values."""
    said = FIELD_WORDS.get(kind, {}).get(field)
    return said.told(was, now) if said and said.told else ""


def field_value(kind: str, field: str, value: Any, build: BuildInput, today: dt.date) -> str:
    """What stands in a field, in the words of the screen."""
    said = FIELD_WORDS.get(kind, {}).get(field)
    return said.written(value, build, today) if said else str(value)

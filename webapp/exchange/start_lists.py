"""The lists of checks of first start, from the JSON that comes with the program."""

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from webapp.first_start.check_list import (
    Abort,
    Check,
    CheckList,
    Fall,
    Need,
    Stage,
    StartQuestion,
    StopWords,
    Timings,
    Wanted,
)

_DAYS = re.compile(r"more than (\d+) days since signed")
_LAPSES = (
    *("end of the day", "an abort"),
    "three tries that did not fire, or the round of priming",
)
"""What ends a day or an attempt: `lasts` says it of a check."""
_CHECKS = "checks"
"""The subsystem of tasks that look and open nothing: which of them does, its own check names."""
_KINDS = {"engine": ("diesel", "petrol"), "electric": ("electric",), "boat": ("boat",)}


def read_check_lists(text: bytes) -> tuple[CheckList, ...]:
    """The lists of the file, in its order. Raises ValueError or KeyError where it is none."""
    document = json.loads(text)
    if document["format"] != "keyturn-first-start-checks" or document["version"] != 1:
        raise ValueError("The file is no list of checks of first start of version 1.")
    return tuple(_list(key, said, document) for key, said in document["lists"].items())


def _list(key: str, said: Mapping[str, Any], document: Mapping[str, Any]) -> CheckList:
    day = document["day"]
    groups = {
        circuit: tuple(one.strip() for one in subsystems.split(",") if one.strip() != _CHECKS)
        for group in ("from the drawing", "from tasks")
        for circuit, subsystems in said["groups"][group].items()
    }
    return CheckList(
        key=key,
        title=said["title"],
        questions=tuple(
            StartQuestion(key=question, answers=tuple(answers))
            for question, answers in said["questions"].items()
        ),
        stages=tuple(_stage(stage) for stage in said["stages"]),
        groups=tuple(groups.items()),
        falls_when_opened=tuple(
            (circuit, tuple(checks))
            for circuit, checks in said["what_falls_when_a_circuit_is_opened"].items()
        ),
        task_names=tuple(document["task_names"][key].items()),
        aborts=tuple((kind, _aborts(day["aborts"], kind)) for kind in _KINDS[key]),
        stop_words=tuple(
            (
                kind,
                StopWords(
                    lines=tuple(day["always_in_sight"][kind]["lines"]),
                    typed=tuple(day["always_in_sight"][kind]["typed"]),
                ),
            )
            for kind in _KINDS[key]
        ),
        timings=_timings(key, day["timings"]),
    )


def _timings(key: str, said: Mapping[str, Any]) -> Timings:
    names = Timings.__dataclass_fields__.keys()
    known = {name: said[name] for name in names}
    if key == "electric":
        known["cold_again_hours"] = 4  # stop-words.md: "cold again: 8 h (motor 4)"
    return Timings(**known)


def _aborts(said: Sequence[Mapping[str, Any]], kind: str) -> tuple[Abort, ...]:
    return tuple(
        Abort(
            key=each["key"],
            notice=each["notice"],
            action=each["action"],
            after=each["after"],
            makes_fall=tuple(each["makes_fall"]),
        )
        for each in said
        if kind in each["lists"]
    )


def _stage(said: Mapping[str, Any]) -> Stage:
    return Stage(
        key=said["key"],
        title=said["title"],
        note=said["note"],
        checks=tuple(_check(each, said["key"]) for each in said["checks"]),
    )


def _check(said: Mapping[str, Any], stage: str) -> Check:
    return Check(
        key=said["key"],
        stage=stage,
        circuit=said["circuit"],
        walk=said["walk"],
        text=said["check"],
        why=said["why"],
        caution=said["caution"],
        when=tuple((question, tuple(answers)) for question, answers in said["when"].items()),
        needs=tuple(_need(each) for each in said["needs"]),
        readings=tuple(_wanted(each) for each in said["reading"]),
        who=said["who"],
        waive=said["waive"],
        falls=tuple(_fall(each) for each in said["falls"] if each not in _LAPSES),
        lasts=said["lasts"],
        engine_running=said["engine_running"],
        superseded_by=said["superseded_by"],
        every_run=said["every_run"],
        needs_place_today=said["needs_place_today"],
        source=said["source"],
    )


def _wanted(said: Mapping[str, Any]) -> Wanted:
    return Wanted(
        name=said["name"],
        unit=said["unit"],
        usual=said["usual"],
        low=said["low"],
        high=said["high"],
        doubles_at_24_volts=said["double_at_24_volts"],
        basis=said["basis"],
    )


def _need(text: str) -> Need:
    if text == "all earlier stages":
        return Need(kind="earlier stages")
    kind, _, key = text.partition(":")
    if kind == "circuit":
        return Need(kind="circuit", key=key.removesuffix("=clamped"))
    if kind == "task":
        key, _, or_else = key.partition(" or ")
        return Need(kind="task", key=key, or_else=or_else)
    if kind != "check":
        raise ValueError(f"A check needs what is not known: {text}.")
    return Need(kind="check", key=key)


def _fall(text: str) -> Fall:
    days = _DAYS.fullmatch(text)
    if days:
        return Fall(kind="days", days=int(days[1]))
    kind, colon, key = text.partition(":")
    if not colon:
        return Fall(kind="said", key=text)
    match kind:
        case "circuit":
            return Fall(kind="circuit", key=key.partition("=")[0])
        case "task" | "answer" | "check" | "part":
            return Fall(kind=kind, key=key)
        case _:
            raise ValueError(f"A signature falls by what is not known: {text}.")

"""What stands between a build and the key as JSON: the answer of `keyturn first-start`."""

from typing import Any

from webapp.build.first_start import SetAside, Signature
from webapp.first_start.standing import CheckStanding, StageStanding, StartStanding

Fields = dict[str, Any]


def start_document(standing: StartStanding, said: str) -> Fields:
    """The whole answer; `said` is the sentence of the page, with the four counts in it."""
    shut = standing.shut
    return {
        "list": standing.checks.key,
        "title": standing.checks.title,
        "at": standing.at.isoformat(timespec="seconds"),
        "nothing_known_open": standing.is_nothing_known_open,
        "said": said,
        "open": [
            {"kind": one.kind, "key": one.key, "name": one.name, "why": one.why}
            | ({"stage": one.stage} if one.stage else {})
            for one in standing.holes
        ],
        "set_aside": [_aside(one.set_aside) for one in standing.set_aside if one.set_aside],
        "dropped": [{"check": one.check.key, "by": one.dropped_by} for one in standing.dropped],
        "not_answered": [one.key for one in standing.unanswered],
        "not_taken": [one.check.key for one in standing.not_taken],
        "shut": None
        if shut is None
        else {"why": shut.why} | ({"until": shut.until.isoformat()} if shut.until else {}),
        "ran_at": None if standing.ran_at is None else standing.ran_at.isoformat(),
        "stages": [_stage(stage) for stage in standing.stages],
    }


def _aside(one: SetAside) -> Fields:
    return {
        "check": one.check,
        "at": one.at.isoformat(),
        "name": one.name,
        "reason": one.reason,
    }


def _stage(stage: StageStanding) -> Fields:
    return {
        "key": stage.stage.key,
        "title": stage.stage.title,
        "is_open": stage.is_open,
        "stands": stage.stands,
        "checks": [_check(one) for one in stage.checks],
    }


def _check(one: CheckStanding) -> Fields:
    check, fallen = one.check, one.fallen
    fields: Fields = {
        "key": check.key,
        "circuit": check.circuit,
        "check": check.text,
        "why": check.why,
        "caution": check.caution,
        "who": check.who,
        "waive": check.waive,
        "state": one.state,
        "is_met": one.is_met,
        "signed": None if one.signature is None else _signature(one.signature),
        "fallen": None
        if fallen is None
        else {"by": fallen.name, "how": fallen.how, "at": fallen.at.isoformat()},
        "dropped_by": one.dropped_by,
        "needs": [
            {"kind": each.kind, "key": each.key, "name": each.name} for each in one.blocked_by
        ],
    }
    return fields


def _signature(one: Signature) -> Fields:
    paper = one.paper
    fields: Fields = {
        "at": one.at.isoformat(),
        "signer": one.signer,
        "helper": one.helper,
        "seen": one.seen,
        "readings": [
            {"name": each.name, "unit": each.unit, "value": each.value}
            | ({"makers": each.makers} if each.makers else {})
            for each in one.readings
        ],
        "paper": None
        if paper is None
        else {
            "name": paper.name,
            "firm": paper.firm,
            "number": paper.number,
            "on": paper.on.isoformat(),
        },
    }
    return fields

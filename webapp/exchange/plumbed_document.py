"""What follows from the plumbing of a build as JSON: the answer of `keyturn plumbing`."""

from collections.abc import Sequence
from typing import Any

from webapp.exchange.checks_document import checks_document
from webapp.plumbing.buy_list import BuyLine, CutGroup
from webapp.plumbing.nearest import Nearest
from webapp.plumbing.needs import Need
from webapp.plumbing.open_list import Open
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit, PlumbedRun
from webapp.plumbing.proposals import Proposal
from webapp.sizing.answers import Answer

Fields = dict[str, Any]


def plumbed_document(
    plumbed: Plumbed, nearest: Sequence[Nearest] = (), checks: Sequence[Answer] = ()
) -> Fields:
    """The whole answer, its fields as DEVELOPERS.md says; `nearest` only where there are any."""
    document: Fields = {
        "circuits": [*map(_circuit, plumbed.circuits)],
        "runs": [*map(_run, plumbed.runs)],
        "joints": [
            {"run": proposal.run, "at": proposal.at, **_proposal(proposal)}
            for proposal in plumbed.proposals
        ],
        "buy": [*map(_buy_line, plumbed.buy)],
        "cut": [*map(_cut_group, plumbed.cut)],
        "held": [
            {
                "task": held.task,
                "by": [{"circuit": hold.circuit, "why": hold.why} for hold in held.by],
            }
            for held in plumbed.held
        ],
        "look": [
            {"what": look.run, "why": look.why}
            | ({} if look.joint is None else {"joint": look.joint})
            for look in plumbed.look
        ],
    }
    found = {"nearest": [*map(_nearest, nearest)]} if nearest else {}
    return document | found | {"checks": checks_document(checks)}


def _nearest(one: Nearest) -> Fields:
    sides = {
        name: {"pieces": list(side.pieces), "end": side.end}
        for name, side in (("left", one.left), ("right", one.right))
    }
    return {"run": one.run, "at": one.at, **sides, "buy": one.buy}


def _circuit(one: PlumbedCircuit) -> Fields:
    return {
        "key": one.circuit.key,
        "kind": one.kind,
        "closed": one.is_closed,
        "complete": one.is_complete,
        "tested": one.is_tested,
        "way": list(one.way),
        "open": [*map(_open, one.open)],
        "litres": _number(one.litres.litres),
        "litres_without": list(one.litres.without),
    }


def _open(one: Open) -> Fields:
    return {
        "what": one.what,
        "why": one.why,
        "joint": one.joint,
        "ends": None if one.ends is None else list(one.ends),
        "alike": one.alike,
        "mend": None if one.mend is None else _proposal(one.mend),
        "needs": [*map(_need, one.needs)],
        "part": one.part,
        "tasks": list(one.tasks),
    }


def _run(one: PlumbedRun) -> Fields:
    return {
        "key": one.run.key,
        "state": one.state,
        "flow": one.flow,
        "joints": [
            {"at": joint.at, "ends": list(joint.ends), "fit": joint.fit.word}
            for joint in one.joints
        ],
    }


def _proposal(one: Proposal) -> Fields:
    how = "between" if one.instead_of is None else f"instead of piece {one.instead_of}"
    return {"how": how, "pieces": list(one.pieces), "from": one.source}


def _need(need: Need) -> Fields:
    if need.metres is not None:
        return {"what": need.what, "metres": _number(need.metres)}
    return {"what": need.what, "count": need.count}


def _buy_line(line: BuyLine) -> Fields:
    return {**_need(line.need), "ordered": _number(line.ordered)}


def _cut_group(group: CutGroup) -> Fields:
    return {
        "what": group.what,
        "kerf_mm": _number(group.kerf_mm),
        "pieces": [
            {
                "name": f"{piece.run}, piece {piece.number}",
                "length_mm": _number(piece.length_mm),
                "count": 1,
            }
            for piece in group.pieces
        ],
    }


def _number(value: float) -> float:
    """2 rather than 2.0."""
    return int(value) if float(value).is_integer() else value

"""What happens beside the bench: pipes drawn and fitted, checks signed, wishes decided."""

import datetime as dt
import random
from collections.abc import Iterator
from typing import Any

from tests.first_start.walker import typed
from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.plumbing import Component, Piece, Port
from webapp.build.verbs import components, runs
from webapp.build.verbs.wish_decisions import accept
from webapp.build.wish import WISH_WAYS, WayFigures, Wish, WishDecision
from webapp.first_start import list_changes, signing
from webapp.first_start.check_list import Check
from webapp.first_start.evaluation import start_standing
from webapp.plumbing import run_states
from webapp.services.changes import Edit
from webapp.services.seed_builds import check_list_of

WAYS = (*WISH_WAYS, "let go", "fit later")


# pipes --------------------------------------------------------------------------------------
def drawn_further(build: BuildInput, chance: random.Random, day: dt.date) -> Edited[Any]:
    """One thing more drawn, or done to a run that is drawn."""
    if not build.plumbing.circuits:
        return Edited(build=build, made=None, is_refused=True)
    step = chance.choice(("component", "run", "cut", "fitted", "clamped", "piece"))
    drawn = build.plumbing.runs
    if step == "component":
        return _one_more_component(build, chance)
    free = [
        f"{one.key}.{port.name}"
        for one in build.plumbing.components
        if one.key.startswith("cooler")
        for port in one.ports
        if not any(f"{one.key}.{port.name}" in run.ports for run in drawn)
    ]
    if step == "run" and len(free) > 1:
        pieces = (Piece(piece="hose", size=19.0, length_mm=float(chance.randrange(80, 900))),)
        return runs.join_ports(build, free[0], free[-1], name="Hose", pieces=pieces)
    run = chance.choice(drawn)
    match step:
        case "cut":
            return run_states.mark_cut(build, run.key, on=day)
        case "fitted":
            return run_states.mark_fitted(build, run.key, on=day)
        case "clamped":
            return run_states.mark_clamped(build, run.key, on=day)
        case _:
            size = float(chance.choice((19, 25, 38)))
            return runs.add_piece(build, run.key, Piece(piece="coupler", size=size))


def _one_more_component(build: BuildInput, chance: random.Random) -> Edited[Any]:
    ports = tuple(
        Port(name=name, end="bead", flow="in" if name == "in" else "out", size=19.0)
        for name in ("in", "out")
    )
    circuit = chance.choice(build.plumbing.circuits).key
    new = Component(key="", name="Cooler", circuit=circuit, ports=ports)
    return components.add_component(build, new)


# checks -------------------------------------------------------------------------------------
def signed_further(build: BuildInput, at: dt.datetime) -> Iterator[Edit[Any]]:
    """Edits that each answer a question of the list or sign a check, the first ones first.

    Where one can not be signed yet it is refused, as on the page.
    """
    checks = check_list_of(build)
    standing = start_standing(build, checks, at=at)
    answered = {one.question for one in build.start.answers}
    for question in standing.checks.questions:
        if question.key not in answered:
            yield _answering(question.key, question.answers[0], at)
    for check in standing.checks.checks:
        one = standing.of(check.key)
        if one is not None and one.is_kept and one.state != "stands":
            yield _signing(check, at)


def _answering(question: str, said: str, at: dt.datetime) -> Edit[Any]:
    def edit(build: BuildInput) -> Edited[str]:
        return list_changes.answer(build, check_list_of(build), question, said, at=at)

    return edit


def _signing(check: Check, at: dt.datetime) -> Edit[Any]:
    def edit(build: BuildInput) -> Edited[str]:
        checks = check_list_of(build)
        version = start_standing(build, checks, at=at).version
        said = typed(check, at.date())
        return signing.sign(build, checks, check.key, said, at=at, version=version)

    return edit


# wishes -------------------------------------------------------------------------------------
def decided(build: BuildInput, wish: Wish, chance: random.Random) -> BuildInput:
    """The build with a wish decided some way.

    The figures that are kept with it are not worked out: only the room that they take counts.
    """
    likely = build.now + dt.timedelta(days=300)
    figures = tuple(
        WayFigures(
            way=way,
            likely=likely,
            firm=likely + dt.timedelta(days=30),
            move_days=round(chance.uniform(0, 3), 1),
            move_error_days=0.1,
            moved_share=0.4,
            headroom_hours=40.0,
            hours=3.0,
            cost=wish.cost or 0.0,
        )
        for way in WISH_WAYS
    )
    decision = WishDecision(
        way=chance.choice(WAYS), decided_on=build.now.date(), why="Said on Sunday", figures=figures
    )
    return accept(build, wish, decision)

"""The list of a build: the program's, with the person's own words and checks in it."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.first_start import OwnCheck
from webapp.first_start.check_list import Check, CheckList, Fall, Stage


def list_of_build(build: BuildInput, checks: CheckList) -> CheckList:
    """The list with changed words, and own checks at the end of their stage.

    Why, caution, needs and readings stay with the key, whatever its words are.
    """
    words = {one.check: one.words for one in build.start.changes if one.words}
    if not words and not build.start.own_checks:
        return checks
    return replace(
        checks,
        stages=tuple(_stage(stage, build.start.own_checks, words) for stage in checks.stages),
    )


def _stage(stage: Stage, own: tuple[OwnCheck, ...], words: dict[str, str]) -> Stage:
    changed = (
        replace(check, text=words[check.key]) if check.key in words else check
        for check in stage.checks
    )
    known = {check.key for check in stage.checks}
    for_running = bool(stage.checks) and all(check.needs_place_today for check in stage.checks)
    added = (
        _own(one, for_running=for_running)
        for one in own
        if one.stage == stage.key and one.key not in known
    )
    return replace(stage, checks=(*changed, *added))


def _own(own: OwnCheck, *, for_running: bool) -> Check:
    """It may be set aside with a reason, and falls when its circuit is opened."""
    return Check(
        key=own.key,
        stage=own.stage,
        circuit=own.circuit,
        walk="",
        text=own.text,
        why=own.why,
        caution=own.caution,
        falls=(Fall(kind="circuit", key=own.circuit),),
        needs_place_today=for_running,
        is_own=True,
    )

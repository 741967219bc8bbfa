"""What stands between a build and the key, for a person at a terminal."""

from collections.abc import Iterator

from webapp.first_start.standing import CheckStanding, StageStanding, StartStanding
from webapp.pages.words.first_start import STATE_WORDS, fallen_words, hole_words, open_words


def start_table(standing: StartStanding) -> str:
    """The sentence, what is open beside the checks, then stage by stage each check that is kept."""
    lines = [standing.checks.title, "", open_words(standing)]
    beside = [hole for hole in standing.holes if hole.kind != "check"]
    if beside:
        lines += ["", "Open beside the checks:", *(f"  {hole_words(hole)}" for hole in beside)]
    for number, stage in enumerate(standing.stages, start=1):
        lines += ["", *_stage(number, stage)]
    return "\n".join(lines)


def _stage(number: int, stage: StageStanding) -> Iterator[str]:
    state = "" if stage.is_open else " (shut: an earlier stage is not through)"
    yield f"{number}. {stage.stage.title}{state}"
    for one in stage.checks:
        if one.is_kept:
            yield from _check(one)


def _check(one: CheckStanding) -> Iterator[str]:
    signature = one.signature
    by = "" if signature is None else f" by {signature.signer}, {signature.at:%Y-%m-%d %H:%M}"
    fallen = fallen_words(one)
    yield f"  {one.check.text} {STATE_WORDS[one.state]}{by}{f'; {fallen}' if fallen else ''}"
    if one.check.caution and not one.is_met:
        yield f"    Caution: {one.check.caution}"

"""What stands between a build and the key, in words: the one sentence, and states of checks.

The program is never the subject of a verdict: it says what is known to be open, what was set
aside, dropped and not asked, and what it cannot know.
"""

from webapp.first_start.holes import Hole
from webapp.first_start.standing import CheckStanding, StartStanding
from webapp.pages.words import amounts as words

NOT_KNOWN_HERE = "What nobody logged is not known here."
NOTHING_KNOWN = "Nothing known is open."

STATE_WORDS = {
    "not signed": "not signed",
    "stands": "signed",
    "figures missing": "signed while it ran, its figures are not typed",
    "fallen": "does not stand",
    "lapsed": "asked anew",
    "spent": "spent by a later signature",
    "set aside": "set aside, with a reason",
    "dropped": "dropped by an answer",
    "offered": "offered, not on the list",
    "left out": "left out of the list",
}
"""What a check's state is called; never a verdict."""

_HOW = {
    "begun": "work on it was begun",
    "logged": "work on it was logged",
    "edited": "it was changed",
    "deleted": "it was taken out",
    "added": "it was put in",
    "reopened": "it was opened again",
    "not here": "it is not here any more",
    "answered": "its answer changed",
    "said": "it was said to be opened",
    "copied": "this is a copy of a build",
    "check": "it does not stand, or was signed anew",
    "aborted": "it was stopped for that",
    "cranked": "it was cranked",
    "days": "so many days are over",
    "day": "the day is over",
    "attempt": "the attempt is over",
    "run": "it ran anew",
}


def _whole(text: str) -> str:
    """A name as it stands in one line: nothing of a check, a reason or a signer is cut short."""
    return " ".join(text.split())


def open_words(standing: StartStanding) -> str:
    """The sentence of the page: how much is known to be open, or that nothing is, and never alone.

    In the same paragraph stand what was set aside with names and reasons, what answers dropped,
    what was not asked, what was not taken, and what cannot be known.
    """
    count = len(standing.holes)
    if count:
        first = f"{words.count(count, 'thing')} {'is' if count == 1 else 'are'} open."
    else:
        first = NOTHING_KNOWN
    return " ".join((first, *counts_words(standing), NOT_KNOWN_HERE))


def counts_words(standing: StartStanding) -> tuple[str, ...]:
    """The four counts, a sentence each; what is set aside by its name, reason and signer."""
    aside = standing.set_aside
    named = "; ".join(
        f"{_whole(one.check.text)} ({_whole(one.set_aside.reason)}; {_whole(one.set_aside.name)})"
        for one in aside
        if one.set_aside is not None
    )
    return (
        f"{len(aside)} set aside{f': {named}' if named else ''}.",
        f"{len(standing.dropped)} dropped by answers.",
        f"{words.count(len(standing.unanswered), 'question')} not answered.",
        f"{len(standing.not_taken)} offered and not taken in.",
    )


def held_by_checks(standing: StartStanding) -> tuple[str, ...]:
    """Why the list holds first start, a phrase a stage: how many checks, and the first by name."""
    told = []
    for stage in standing.stages:
        holes = [one for one in standing.holes if one.stage == stage.stage.key]
        if holes:
            count = words.count(len(holes), "check")
            named = f"{_whole(holes[0].name).rstrip('.')}"
            told.append(f"{count} of “{stage.stage.title}” not signed, the first: {named}")
    answers = sum(hole.kind == "answer" for hole in standing.holes)
    if answers:
        told.append(f"{words.count(answers, 'question')} of the list not answered")
    lines = sum(hole.kind == "stop line" for hole in standing.holes)
    if lines:
        told.append(f"{words.count(lines, 'line')} that say how to stop it not typed")
    return tuple(told)


def fallen_words(one: CheckStanding) -> str:
    """By what a signature fell, and when; "" where it did not."""
    fallen = one.fallen
    if fallen is None:
        return ""
    how = _HOW[fallen.how]
    if fallen.how == "days":
        how = f"{fallen.name} days are over"
    at = f"{fallen.at:%Y-%m-%d %H:%M}"
    is_named = fallen.name and fallen.how != "days"
    return f"{_whole(fallen.name)}: {how}, {at}" if is_named else f"{how}, {at}"


def hole_words(hole: Hole) -> str:
    """One open thing: what it is, its name, why."""
    kind = {"stop line": "to type", "answer": "question", "shut": "the last run"}
    why = STATE_WORDS.get(hole.why, hole.why)
    return f"{kind.get(hole.kind, hole.kind)}: {_whole(hole.name)}: {why}"

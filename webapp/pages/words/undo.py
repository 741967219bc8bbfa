"""Why a change was not taken back: what hangs on it, by name, and what to do first."""

import datetime as dt
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.build.verbs.taking_back import Hanging
from webapp.pages.words import amounts as words
from webapp.pages.words.field_values import field_label
from webapp.pages.words.journal import KINDS, thing_words
from webapp.pages.words.names import named
from webapp.pages.words.quoted import shown

NO_CHANGE = "This build has no such change. What there is stands below. Nothing was changed."
ENTERED = (
    "The build was entered with it. To take that back, delete the build in the Shop; it asks "
    "before anything goes."
)
FROZEN = "It was frozen to stay as it was: a baseline or a closed week is never taken back."
BASELINE_STAYS = "The baseline that was frozen with it stays."
NOT_TOLD = (
    "An older version of the program wrote this, and its journal does not hold all that is needed "
    "to take it back."
)
WAS_TAKEN_BACK = "This was taken back already{when}. Your press changed nothing."
WITHOUT_IT = "Without this change the build would have a fault. {faults}"
AS_IT_WAS = "Nothing of this change is left in the build: there is nothing to take back."


def taken_back_words(when: str) -> str:
    """What the second of two is told who take one change back."""
    return WAS_TAKEN_BACK.format(when=f" {when}" if when else "")


def faults_words(texts: tuple[str, ...]) -> str:
    """What would be wrong with the build without the change."""
    return WITHOUT_IT.format(faults=" ".join(texts))


def hanging_words(hanging: Hanging, when: str, build: BuildInput, today: dt.date) -> str:
    """One thing that hangs on a change; `when` the change was that is to be taken back first."""
    if hanging.why == "as it was":
        return AS_IT_WAS
    thing = words.sentence(thing_words(hanging.kind, hanging.thing, build, today))
    on = f" {when}" if when else " since"
    if hanging.why == "stood on":
        others = _standing_words(hanging.others, build, today)
        return f"{others} {_of(hanging, build, today)} by now: see to that first."
    if hanging.why == "needs":
        others = _standing_words(
            hanging.others, build, today, stand="would stand", stands="would stand"
        )
        return (
            f"{others} {_of(hanging, build, today)}, which was taken out{on}: take that back first."
        )
    if hanging.why == "gone":
        return f"{thing} was taken out{on}: take that back first."
    if hanging.why == "there again":
        return f"{thing} was entered again{on}: take that back first."
    if hanging.kind in ("build", "shop"):
        what = words.sentence(field_label(hanging.kind, hanging.field))
        return f"“{what}” was changed again{on}: take that back first."
    what = f" ({field_label(hanging.kind, hanging.field)})" if hanging.field else ""
    return f"{thing} was changed again{what}{on}: take that back first."


def _of(hanging: Hanging, build: BuildInput, today: dt.date) -> str:
    at = "in" if hanging.kind == "subsystem" else "on"
    return f"{at} {thing_words(hanging.kind, hanging.thing, build, today)}"


def _standing_words(
    others: tuple[tuple[str, Any], ...],
    build: BuildInput,
    today: dt.date,
    *,
    stand: str = "stand",
    stands: str = "stands",
) -> str:
    """What stands on a thing: "“Fit the radiator”" or "3 tasks" with their names, by kind."""
    if len(others) == 1:
        kind, thing = others[0]
        return f"{words.sentence(thing_words(kind, thing, build, today))} {stands}"
    told = []
    kinds = dict.fromkeys(kind for kind, _ in others)
    for kind in kinds:
        same = [thing for of, thing in others if of == kind]
        if kind in ("task", "part", "wish"):
            names = named(shown(getattr(thing, "text", None) or thing.name) for thing in same)
            told.append(f"{words.count(len(same), *KINDS[kind])} ({names})")
        elif kind in KINDS:
            told.append(words.count(len(same), *KINDS[kind]))
        else:
            told += [thing_words(kind, thing, build, today) for thing in same]
    return f"{words.sentence(words.listed(told))} {stand}"

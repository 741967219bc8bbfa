"""Taking changes back: found in the journal, undone and noted there, in one transaction."""

import datetime as dt
from dataclasses import dataclass, replace
from typing import Literal

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.build.differences import PLACES
from webapp.build.edited import Edited
from webapp.build.verbs.taking_back import Hanging, taken_back
from webapp.services.changes import Refused, Stored, change_within
from webapp.services.program import Services
from webapp.storage.journal import note_taken_back
from webapp.storage.past_changes import Past, PastChange, past_of

_AT = {place.kind: place.at for place in PLACES}


MOST_AT_ONCE = 10
"""One press makes up to three changes; no more than this are taken back together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HangsOn:
    """A thing that hangs on a change, and which later change (in UTC) is to be taken back first."""

    hanging: Hanging
    revision: int | None = None
    at: dt.datetime | None = None


NotTakenWhy = Literal["no change", "entered", "frozen", "not told", "taken back", "hangs", "faults"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotTaken:
    """Why changes were not taken back; then nothing is stored.

    no change : the build never had it
    entered : it entered the build; frozen : it froze a baseline or a week
    not told : the journal does not tell it whole
    taken back : the change `by`, at the moment `at` in UTC, took it back
    hangs : `hangs` stand on it
    faults : the build would have `faults` without it
    """

    why: NotTakenWhy
    hangs: tuple[HangsOn, ...] = ()
    faults: tuple[Fault, ...] = ()
    by: int | None = None
    at: dt.datetime | None = None


def take_back(
    services: Services, slug: str, *, first: int, last: int
) -> Stored[None] | NotTaken | None:
    """Take back the changes from revision `first` to `last`; None: there is no such build.

    Of two who do it at once the second is told that it was done.
    """
    if last - first >= MOST_AT_ONCE:
        return NotTaken(why="no change")
    with services.database.writing() as session:
        past = past_of(session, slug, now=services.settings.now(), down_to=first, up_to=last)
        if past is None:
            return None
        refusal = _stands_against(past, first, last)
        if refusal is not None:
            return refusal
        whole = _as_one(past.changes, first, last)
        assert whole.before is not None
        known = frozenset(faults_of(whole.before))
        done = change_within(session, services, slug, lambda build: _edit(build, whole), known)
        if isinstance(done, Refused):
            if done.edited.made:
                return NotTaken(why="hangs", hangs=_hangs(past, done.edited.made, last))
            return NotTaken(why="faults", faults=done.new_faults)
        if done is None:
            return None
        if done.revision == done.since:
            nothing = Hanging(why="as it was", kind="build", thing=done.build)
            return NotTaken(why="hangs", hangs=(HangsOn(hanging=nothing),))
        note_taken_back(session, slug, done.since + 1, first=first, last=last)
    services.befores.keep((slug, done.since), done.before)
    return Stored(
        before=done.before,
        build=done.build,
        since=done.since,
        revision=done.revision,
        made=None,
    )


def may_be_taken_back(build: BuildInput, past: Past, change: PastChange) -> NotTaken | None:
    """What keeps one change of the past from being taken back of the build as it is now.

    The checks of the whole build are left to the taking back itself.
    """
    refusal = _stands_against(past, change.revision, change.revision)
    if refusal is not None:
        return refusal
    edited = _edit(build, change)
    if edited.is_refused:
        return NotTaken(why="hangs", hangs=_hangs(past, edited.made, change.revision))
    return None


def _stands_against(past: Past, first: int, last: int) -> NotTaken | None:
    found = [change for change in past.changes if first <= change.revision <= last]
    if not found or first > last:
        return NotTaken(why="no change")
    undone = [past.undone_by.get(change.revision) for change in found]
    if all(undone):
        by = undone[0]
        at = next((change.at for change in past.changes if change.revision == by), None)
        return NotTaken(why="taken back", by=by, at=at)
    if any(change.enters for change in found):
        return NotTaken(why="entered")
    if all(change.frozen for change in found):
        return NotTaken(why="frozen")
    if any(change.before is None for change in found):
        return NotTaken(why="not told")
    return None


def _as_one(changes: tuple[PastChange, ...], first: int, last: int) -> PastChange:
    found = [change for change in changes if first <= change.revision <= last]
    return replace(found[0], before=found[-1].before)


def _edit(build: BuildInput, change: PastChange) -> Edited[tuple[Hanging, ...]]:
    assert change.before is not None
    assert change.after is not None
    return taken_back(build, before=change.before, after=change.after)


def _hangs(past: Past, hanging: tuple[Hanging, ...], last: int) -> tuple[HangsOn, ...]:
    return tuple(_hangs_on(past, one, last) for one in hanging)


def _hangs_on(past: Past, hanging: Hanging, last: int) -> HangsOn:
    at, key = "build", ""
    if hanging.kind in _AT:
        at, key = _AT[hanging.kind], _key_of(hanging)
    touch = past.last_touch(at, key, hanging.field, since=last)
    if touch is None or hanging.why in ("stood on", "as it was"):
        return HangsOn(hanging=hanging)
    return HangsOn(hanging=hanging, revision=touch.revision, at=touch.at)


def _key_of(hanging: Hanging) -> str:
    """The name of a thing as the journal has it."""
    thing = hanging.thing
    match hanging.kind:
        case "dependency":
            return f"{thing.before} / {thing.after}"
        case "day":
            return str(thing.date)
        case "photograph":
            return f"{thing.task} / {thing.digest}"
        case "log":
            return f"{thing.task} / {thing.on}"
        case "looked at":
            return " / ".join(map(str, thing.about))
        case "session":
            return f"{thing.weekday} / {thing.hours.opens_minute}"
        case "shelf":
            return str(thing.piece)
        case "opening":
            return f"{thing.what} / {thing.at}"
        case "start answer":
            return str(thing.question)
        case "check change":
            return str(thing.check)
        case "stop line":
            return str(thing.name)
        case "sold":
            return f"{thing.what} / {thing.length_mm}"
        case "ordered":
            return f"{thing.part} / {thing.what}"
        case _:
            return str(thing.key)

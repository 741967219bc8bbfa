"""What the journal shows, in strings: the changes by day, and which of them can be taken back."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words import undo as undo_words
from webapp.pages.words.journal import change_words
from webapp.pages.words.snapshots import snapshot_words
from webapp.services.undo import HangsOn, NotTaken, may_be_taken_back
from webapp.storage.past_changes import Past, PastChange

LINES = 15
"""So many changes stand on one page: eight screens of a phone at most, a day each."""
SENTENCES = 4
"""So many sentences tell one change at once; the others are folded away behind them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalLine:
    """One change. `held` are the sentences on why it can not be taken back, () where it can.

    `undone` says when it was taken back.
    """

    revision: int
    time: str
    title: str
    sentences: tuple[str, ...]
    more: tuple[str, ...]
    held: tuple[str, ...]
    undone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalDay:
    day: str
    lines: tuple[JournalLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalView:
    """One page of the journal; `newer` and `older` are addresses, "" where there are none."""

    days: tuple[JournalDay, ...]
    counts: str
    newer: str
    older: str


def journal_view(page: PageContext, past: Past, number: int) -> JournalView:
    """The `number`th page of the changes, the newest first."""
    today = page.today
    pages = max(1, -(-past.total // LINES))
    days = groupby(past.changes, key=lambda change: _local(change.at).date())
    first = (number - 1) * LINES
    last = first + len(past.changes)
    counts = words.count(past.total, "change")
    if pages > 1:
        counts = f"Changes {first + 1:,} to {last:,} of {past.total:,}"
    return JournalView(
        days=tuple(
            JournalDay(
                day=words.day(day, today=today),
                lines=tuple(_line(page.build, past, change, today) for change in changes),
            )
            for day, changes in days
        ),
        counts=counts,
        newer=addresses.journal(page.slug, number - 1) if number > 1 else "",
        older=addresses.journal(page.slug, number + 1) if number < pages else "",
    )


def refusal_words(page: PageContext, refusal: NotTaken) -> tuple[str, ...]:
    """Why a change was not taken back."""
    return _refusal_words(page.build, refusal, page.today)


def _local(at: dt.datetime) -> dt.datetime:
    return at.astimezone().replace(tzinfo=None)


def _line(build: BuildInput, past: Past, change: PastChange, today: dt.date) -> JournalLine:
    sentences = _sentences(change, today)
    refusal = may_be_taken_back(build, past, change)
    undone = ""
    held: tuple[str, ...] = ()
    if refusal is not None and refusal.why == "taken back":
        undone = f"Taken back {_when(refusal.at, today)}.".replace(" .", ".")
    elif refusal is not None:
        held = _refusal_words(build, refusal, today)
    return JournalLine(
        revision=change.revision,
        time=words.time(_local(change.at)),
        title=sentences[0],
        sentences=sentences[1:SENTENCES],
        more=sentences[SENTENCES:],
        held=held,
        undone=undone,
    )


def _sentences(change: PastChange, today: dt.date) -> tuple[str, ...]:
    """A change in sentences; at least one."""
    if change.takes_back is not None and change.before is not None and change.after is not None:
        undone = change_words(change.after, change.before, today)
        return (f"Took back: {undone[0]}", *undone[1:])
    told: list[str] = []
    if change.enters:
        name = f" “{change.after.name}”" if change.after else ""
        tasks = f", with {words.count(len(change.after.tasks), 'task')}" if change.after else ""
        told.append(f"Entered the build{name}{tasks}.")
    for key in change.frozen:
        kind, _, label = key.partition(" / ")
        told.append(snapshot_words(kind, label))
    if change.before is not None and change.after is not None:
        is_frozen_alone = change.frozen and change.before == change.after
        if not is_frozen_alone:
            told += change_words(change.before, change.after, today)
    if not told:
        told.append(f"Changed {words.count(change.things, 'thing')} in an older form.")
    return tuple(told)


def _refusal_words(build: BuildInput, refusal: NotTaken, today: dt.date) -> tuple[str, ...]:
    match refusal.why:
        case "no change":
            return (undo_words.NO_CHANGE,)
        case "entered":
            return (undo_words.ENTERED,)
        case "frozen":
            return (undo_words.FROZEN,)
        case "not told":
            return (undo_words.NOT_TOLD,)
        case "taken back":
            return (undo_words.taken_back_words(_when(refusal.at, today)),)
        case "faults":
            return (undo_words.faults_words(tuple(fault.text for fault in refusal.faults)),)
        case "hangs":
            return tuple(_unlike(_hang_words(refusal.hangs, build, today)))


def _hang_words(hangs: Iterable[HangsOn], build: BuildInput, today: dt.date) -> Iterable[str]:
    for hang in hangs:
        yield undo_words.hanging_words(hang.hanging, _when(hang.at, today), build, today)


def _unlike(texts: Iterable[str]) -> Iterable[str]:
    return dict.fromkeys(texts)


def _when(at: dt.datetime | None, today: dt.date) -> str:
    """Of a moment in UTC: "on Tue 3 June, 14:02", "" where there is none."""
    if at is None:
        return ""
    local = _local(at)
    return f"on {words.day(local, today=today)}, {words.time(local)}"

"""Entries of the time log: typed text to a changed build, or faults and questions."""

import hashlib
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.moments import date_of
from webapp.build.verbs.log_entries import with_log_entry, without_log_entry
from webapp.pages.forms.hours_asked import (
    fault_of_day,
    question_about,
    question_about_left,
    sure_of,
)
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words.quoted import shown

OPEN_AGAIN, STAYS_FINISHED = "open", "stays"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An entry of the log and its place in it."""

    place: int
    entry: LogEntry


def digest_of(entry: LogEntry) -> str:
    """What an entry says, short: an address that holds it never means another entry."""
    return hashlib.sha256(repr(entry).encode()).hexdigest()[:12]


def find_entry(build: BuildInput, place: str, digest: str) -> Placed | None:
    """The entry at a place, or wherever it stands by now; None where it is gone or changed."""
    same = [i for i, entry in enumerate(build.log) if digest_of(entry) == digest]
    if not same:
        return None
    wanted = int(place) if place.isascii() and place.isdecimal() and len(place) < 9 else 0
    at = min(same, key=lambda i: abs(i - wanted))
    return Placed(place=at, entry=build.log[at])


def entry_shown(build: BuildInput, entry: LogEntry | None) -> Shown:
    """The form of an entry as it is opened; of a new one without."""
    if entry is None:
        return Shown().date("on", build.now.date())
    return (
        Shown()
        .pick("task", entry.task, PickList.of("task", build.tasks).label(entry.task))
        .date("on", entry.on)
        .clock("hours", entry.hours)
        .clock("setup", entry.setup_hours or None)
        .clock("left", entry.left)
    )


def write_down(form: TypedForm, build: BuildInput) -> Edited[None]:
    """The edit that adds an entry."""
    return Edited(build=with_entry(form, build, None), made=None)


def correct(at: str, key: str) -> FormEdit[bool]:
    """The edit that gives the entry at a place what its form says."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[bool]:
        old = find_entry(build, at, key) or _corrected(form, build, at)
        if old is None:
            form.fault("", GONE)
            return Edited(build=build, made=False)
        if not form.settle(entry_shown(build, old.entry)):
            return Edited(build=build, made=True)
        return Edited(build=with_entry(form, build, old), made=True)

    return edit


GONE = (
    "This entry was taken out elsewhere meanwhile. What you typed stands here: write it down anew"
    " if it is to count."
)


def entry_at(build: BuildInput, at: str) -> Placed | None:
    """The entry at a place, whatever it says."""
    if not (at.isascii() and at.isdecimal() and len(at) < 9 and int(at) < len(build.log)):
        return None
    return Placed(place=int(at), entry=build.log[int(at)])


def _corrected(form: TypedForm, build: BuildInput, at: str) -> Placed | None:
    """The entry that stands where the form's stood, of the same task: it says something else."""
    there = entry_at(build, at)
    if there is None:
        return None
    label = PickList.of("task", build.tasks).label(there.entry.task)
    return there if form.was_shown("task") == label else None


def take_out(at: str, key: str) -> FormEdit[None]:
    """The edit that takes an entry out."""

    def edit(_form: TypedForm, build: BuildInput) -> Edited[None]:
        old = find_entry(build, at, key)
        if old is None:
            return Edited(build=build, made=None, lost=Lost(kind="log", key=key))
        return Edited(build=without_log_entry(build, old.place), made=None)

    return edit


def with_entry(
    form: TypedForm, build: BuildInput, old: Placed | None, *, picks: PickList | None = None
) -> BuildInput:
    """The build with one more entry, or with `old` corrected; faults are noted in the form.

    `picks` are its tasks where they are at hand.
    """
    task = _task(form, build, picks or PickList.of("task", build.tasks))
    on = form.date("on", "Day", needed=True)
    hours = form.hours("hours", "Hours worked", needed=True)
    setup = form.hours("setup", "Getting out") or 0.0
    left = form.hours("left", "Hours left")
    if on is not None and (fault := fault_of_day(build, on)):
        form.fault("on", fault)
    if hours == 0 and not setup:
        form.fault("hours", "No hours: type how many were worked, or take the entry out.")
    if task is None or on is None or hours is None or not hours + setup:
        return build
    others = [e for i, e in enumerate(build.log) if old is None or i != old.place]
    question = sure_of(
        question_about(build, others, on, hours + setup),
        question_about_left(task, left if old is None or left != old.entry.left else None),
    )
    if question and not form.ticked("sure"):
        form.fault("sure", question)
    entry = LogEntry(task=task.key, on=on, hours=hours, left=left, setup_hours=setup)
    moved = old is None or old.entry.task != task.key
    if task.finished_on is not None and (moved or entry.on > date_of(task.finished_on)):
        _ask_about_finished(form, task, left)
    if form.faults:
        return build
    return with_log_entry(
        build,
        entry,
        place=None if old is None else old.place,
        opens_again=form.typed("finished") == OPEN_AGAIN,
    )


def _task(form: TypedForm, build: BuildInput, picks: PickList) -> Task | None:
    if not form.text("task", "Task", needed=True):
        return None
    key = form.picked("task", "Task", picks)
    return find_by_key(build.tasks, key)


def _ask_about_finished(form: TypedForm, task: Task, left: float | None) -> None:
    answer = form.typed("finished")
    if answer == STAYS_FINISHED:
        return
    if answer != OPEN_AGAIN:
        form.fault(
            "finished",
            f"“{shown(task.name)}” is finished. Is it to be opened again, or do these hours "
            "belong to the work that is finished?",
        )
    elif not left:
        form.fault("left", "To open it again, say how many hours are left to do.")

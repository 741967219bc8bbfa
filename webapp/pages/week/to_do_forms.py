"""The lines of what there is to do: what was answered, to a changed build or to faults.

Each edit looks at the line as it stands now: one that was answered in another window meanwhile is
not answered twice, and what was typed is said again.
"""

import datetime as dt
from collections.abc import Callable, Mapping

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.by_key import find_by_key
from webapp.build.circuit_dependencies import as_planned
from webapp.build.due_days import said_day
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_DAYS_AWAY
from webapp.build.moments import date_of
from webapp.build.verbs.looking import (
    comes_back,
    left_said,
    nobody_was_in,
    part_comes,
    put_off,
)
from webapp.build.verbs.work import finished_build
from webapp.pages.forms.hours_asked import question_about_left, sure_of
from webapp.pages.forms.open_before import unfinished_words
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_date
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.log.forms import STAYS_FINISHED, with_entry
from webapp.pages.parts.forms import arrived
from webapp.pages.words import amounts as words
from webapp.pages.words import to_do as say
from webapp.planning.network.held_now import back_at
from webapp.planning.record.to_do import evenings_among

EVENINGS = "evenings"
"""The hidden field with the dates that a press answers together."""
MOST_AT_ONCE = 400
"""So many dates at most: more than a year of evenings."""


def shown_of(build: BuildInput, about: str, key: str) -> Shown:
    """The fields of a line as it is opened."""
    if about == "part":
        part = find_by_key(build.parts, key)
        return Shown().date("on", said_day(part) if part else None)
    if about == "outside":
        task = find_by_key(build.tasks, key)
        return Shown().date("on", due_back(task) if task else None)
    if about == "outrun":
        task = find_by_key(build.tasks, key)
        return Shown().clock("left", task.hours_left if task else None)
    return Shown()


def due_back(task: Task) -> dt.date | None:
    """The day on which work that was sent out is due back."""
    if task.begun_on is None or task.outside_days is None:
        return None
    return back_at(task.begun_on, task.outside_days).date()


# evenings -----------------------------------------------------------------------------------
def nobody_in(key: str) -> FormEdit[None]:
    """The edit that says that nobody was in the shop: on a date, or on all that were shown."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        texts = [key] if key else form.typed(EVENINGS).split()[:MOST_AT_ONCE]
        days = [day for text in texts if (day := parse_date(text)) is not None]
        after = build
        for evening in evenings_among(as_planned(build), days):
            after = nobody_was_in(after, evening.date)
        said = {one.evening for one in after.looked_at}
        if not days:
            form.fault("", say.NOT_STORED)
        elif days[0] not in said and key:
            _look_at_evening(form, build, days[0])
        return Edited(build=after, made=None)

    return edit


def hours_of(key: str) -> FormEdit[None]:
    """The edit that writes hours down for an evening: one entry of the log."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        day = parse_date(key)
        if day is None or not evenings_among(as_planned(build), [day]):
            _look_at_evening(form, build, day)
            typed = say.typed_hours(form.typed("hours"), form.typed("task"))
            if typed:
                form.fault("", typed)
            return Edited(build=build, made=None, is_refused=True)
        form.put("on", day.isoformat())
        if not form.typed("finished") and _was_finished_later(form, build, day):
            form.put("finished", STAYS_FINISHED)
        return Edited(build=with_entry(form, build, None), made=None)

    return edit


def _was_finished_later(form: TypedForm, build: BuildInput, day: dt.date) -> bool:
    """Whether the task of the hours was finished that day or later: then they belong to it."""
    key = PickList.of("task", build.tasks).exactly(form.typed("task"))
    task = find_by_key(build.tasks, key)
    return task is not None and task.finished_on is not None and date_of(task.finished_on) >= day


def _look_at_evening(form: TypedForm, build: BuildInput, day: dt.date | None) -> None:
    """Say why a date is not asked about (any more)."""
    today = build.now.date()
    if day is None:
        form.fault("", say.NOT_STORED)
    elif any(entry.on == day for entry in build.log):
        form.fault("", say.evening_logged(build, day, today=today))
    elif any(one.evening == day for one in build.looked_at):
        form.fault("", say.nobody_in_already(day, today=today))
    else:
        form.fault("", say.no_evening(day, today=today))


# parts, and work that someone else does -----------------------------------------------------
def part_day(key: str) -> FormEdit[None]:
    """The edit that gives a part which is not here another day."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        part = find_by_key(build.parts, key)
        if part is None:
            return Edited(build=build, made=None, lost=Lost(kind="part", key=key))
        if part.arrived:
            form.fault("", _came(part, today=build.now.date()))
            return Edited(build=build, made=None)
        form.settle(shown_of(build, "part", key))
        on = _day_to_come(form, build, "The day it comes")
        return Edited(build=part_comes(build, key, on) if on else build, made=None)

    return edit


def _came(part: Part, *, today: dt.date) -> str:
    on = f" since {words.day(part.arrives_on, today=today)}" if part.arrives_on else ""
    return f"“{part.name}” is here{on}: it was said meanwhile. {say.NOT_STORED}"


def outside_day(key: str) -> FormEdit[None]:
    """The edit that says on which day work that was sent out comes back."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        task = find_by_key(build.tasks, key)
        if task is None:
            return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
        if not task.is_open or due_back(task) is None:
            form.fault("", _not_out(task))
            return Edited(build=build, made=None)
        form.settle(shown_of(build, "outside", key))
        on = _day_to_come(form, build, "The day it comes back")
        if on is not None and task.begun_on is not None:
            days = (on - date_of(task.begun_on)).days
            if days > MOST_DAYS_AWAY:
                form.fault("on", f"That is {days:,} days out. {MOST_DAYS_AWAY:,.0f} is the most.")
                on = None
        return Edited(build=comes_back(build, key, on) if on else build, made=None)

    return edit


def _not_out(task: Task) -> str:
    state = "is finished" if task.finished_on is not None else "is not out any more"
    return f"“{task.name}” {state}: it was said meanwhile. {say.NOT_STORED}"


def _day_to_come(form: TypedForm, build: BuildInput, label: str) -> dt.date | None:
    """The day typed, if it lies ahead. The day that was shown has gone by and is no answer."""
    on = form.date("on", label, needed=True)
    if on is not None and on <= build.now.date() and not form.faults_at("on"):
        form.fault("on", say.not_a_day_to_come(on, today=build.now.date()))
    return None if form.faults_at("on") else on


# wishes, and what is left -------------------------------------------------------------------
def wish_later(key: str) -> FormEdit[None]:
    """The edit that leaves a wish undecided until the next Sunday."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        wish = find_by_key(build.wishes, key)
        if wish is None:
            return Edited(build=build, made=None, lost=Lost(kind="wish", key=key))
        if wish.decision is not None:
            on = words.day(wish.decision.decided_on, today=build.now.date())
            form.fault(
                "", f"It was decided {on}: {wish.decision.way}. There is nothing left to put off."
            )
            return Edited(build=build, made=None)
        return Edited(build=put_off(build, key), made=None)

    return edit


def hours_left(key: str) -> FormEdit[None]:
    """The edit that says how many hours are left of a task that took all it was expected to."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        task = find_by_key(build.tasks, key)
        if task is None:
            return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
        if not task.is_open or task.begun_on is None:
            form.fault("", _not_open(task, form.typed("left")))
            return Edited(build=build, made=None)
        form.settle(shown_of(build, "outrun", key))
        left = form.hours("left", "Hours left", needed=True)
        if left is None and not form.faults_at("left"):
            form.fault("left", "Hours left: nothing is typed. Type hours like 2.5, 2,5 or 2:30.")
        if left == 0:
            form.fault("left", "Nothing left to do means it is finished: say so below.")
        question = sure_of(question_about_left(task, left))
        if question and not form.ticked("sure"):
            form.fault("sure", question)
        return Edited(build=left_said(build, key, left) if left else build, made=None)

    return edit


def _not_open(task: Task, typed: str) -> str:
    state = "finished" if task.finished_on is not None else "not under way"
    of = f" The {typed} h you typed were not stored." if typed else ""
    return f"“{task.name}” is {state} by now.{of}"


def finished(key: str) -> FormEdit[None]:
    """The edit that finishes a task; what is open before it or in it is asked about first."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        task = find_by_key(build.tasks, key)
        if task is None:
            return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
        if not task.is_open or task.begun_on is None:
            return Edited(build=build, made=None)
        if not form.ticked("sure") and (asked := unfinished_words(build, task)):
            form.fault("sure", asked)
        return Edited(build=finished_build(build, key, now=build.now), made=None)

    return edit


def here(key: str) -> FormEdit[None]:
    """The edit that says that a part is here since today."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        form.put("key", key)
        return arrived(form, build)

    return edit


ANSWERS: Mapping[tuple[str, str], Callable[[str], FormEdit[None]]] = {
    ("evening", "away"): nobody_in,
    ("evening", "hours"): hours_of,
    ("part", "here"): here,
    ("part", "day"): part_day,
    ("outside", "back"): finished,
    ("outside", "day"): outside_day,
    ("wish", "later"): wish_later,
    ("outrun", "left"): hours_left,
    ("outrun", "done"): finished,
}
"""What each line may be about and how it may be answered."""

"""Editing one task: all its fields, what comes before and after, its parts and its log."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Dependency, Fault, StationNeed, Task
from webapp.build.by_key import find_by_key, get_by_key, replaced_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import (
    MOST_DAYS_AWAY,
    MOST_OF_A_STATION,
    MOST_PEOPLE,
    MOST_SPACE_LITRES,
    MOST_WAIT_HOURS,
)
from webapp.build.verbs.task_links import with_links, with_parts
from webapp.pages.forms.hours_asked import question_about_left, sure_of
from webapp.pages.forms.open_before import unfinished_words, waiting_words
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit, Place
from webapp.pages.tasks.estimate_fields import estimate_shown, read_estimate
from webapp.pages.tasks.named_things import NamedThings
from webapp.pages.tasks.step_fields import ROWS as STEP_ROWS
from webapp.pages.tasks.step_fields import read_measures, read_steps, show_steps
from webapp.pages.words.amounts import moment
from webapp.pages.words.quoted import shown

_OWN_FIELDS = (
    "name",
    "subsystem",
    "setup",
    "people",
    "helper",
    "in_one_go",
    "outside_days",
    *("cost", "paid", "offer_cost", "offer_days"),
    "space_litres",
    "begun_on",
    "finished_on",
    "set_aside_on",
    "hours_left",
    "caution",
    "notes",
)


_FIRST_OF = {"stations": "station-0", "steps": "step-0", "measures": "torque-0"}
"""The field that a fault of a whole list stands beside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkWords:
    """The field names and the words of one side of a task: what comes before, or after."""

    field: str
    wait: str
    why: str
    words: str


BEFORE = LinkWords(field="before", wait="wait", why="why", words="what comes before it")
AFTER = LinkWords(field="after", wait="after_wait", why="after_why", words="what comes after it")


LINK_ROWS = {
    side.field: Rows(stems=(side.field, side.wait, side.why), identity=side.field)
    for side in (BEFORE, AFTER)
}
ROWS = (*LINK_ROWS.values(), Rows(stems=("part",), identity="part"), *STEP_ROWS)
"""The lists in the form."""


def shown_of(build: BuildInput, task: Task) -> Shown:
    """The form of a task as it is opened."""
    shown = _own_fields(build, task)
    tasks, parts = PickList.of("task", build.tasks), PickList.of("part", build.parts)
    befores = [link for link in build.dependencies if link.after == task.key]
    afters = [link for link in build.dependencies if link.before == task.key]
    for side, links in ((BEFORE, befores), (AFTER, afters)):
        for row, link in enumerate(links):
            other = link.before if side is BEFORE else link.after
            shown.pick(f"{side.field}-{row}", other, tasks.label(other))
            shown.number_or_blank(f"{side.wait}-{row}", link.wait_hours)
            shown.text(f"{side.why}-{row}", link.why)
        shown.blank(f"{side.field}-{len(links)}")
    served = [part.key for part in build.parts if task.key in part.serves]
    return show_steps(shown.pick_rows("part", served, parts, 1), task)


def _own_fields(build: BuildInput, task: Task) -> Shown:
    subsystems = PickList.of("subsystem", build.subsystems)
    setups = PickList.of("setup", build.shop.setups)
    shown = (
        Shown()
        .text("name", task.name)
        .pick("subsystem", task.subsystem, _label(subsystems, task.subsystem))
        .number_or_blank("space_litres", task.space_litres)
    )
    shown = (
        estimate_shown(shown, task)
        .number("outside_days", task.outside_days)
        .number("cost", task.cost)
        .number("paid", task.paid)
        .number("offer_cost", task.offer_cost)
        .number("offer_days", task.offer_days)
        .whole("people", task.people)
        .pick("setup", task.setup, _label(setups, task.setup))
        .tick("helper", task.helper)
        .tick("in_one_go", task.in_one_go)
    )
    if task.hours_guessed:
        shown.tick("confirmed", False)
    needs = {need.station: need.count for need in task.stations}
    for number, station in enumerate(build.shop.stations):
        name = f"station-{number}"
        if station.key in needs:
            shown.whole(name, needs[station.key])
        else:
            shown.blank(name)
    shown.blank("other_station").whole("other_count", 1)
    return (
        shown.date("begun_on", task.begun_on)
        .number("hours_left", task.hours_left)
        .date("finished_on", task.finished_on)
        .date("set_aside_on", task.set_aside_on)
        .long_text("caution", task.caution)
        .long_text("notes", task.notes)
    )


def _label(picks: PickList, key: str | None) -> str:
    return picks.label(key) if key else ""


def rows_of(form: TypedForm) -> Mapping[str, tuple[int, ...]]:
    """The rows that a form has of each kind of list in it."""
    return {rows.counted: form.row_numbers(rows.counted) for rows in ROWS}


def with_more_rows(form: TypedForm) -> TypedForm:
    """The same form, as typed, with a blank row more in each of its lists."""
    return form.with_blanks(
        *(f"{stem}-{max(numbers, default=-1) + 1}" for stem, numbers in rows_of(form).items())
    )


def edit_task(key: str) -> FormEdit[None]:
    """The edit that gives the task called `key` what its form says."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        stored = find_by_key(build.tasks, key)
        if stored is None:
            return Edited(build=build, made=None, lost=Lost(kind="task", key=key))
        if not form.settle(shown_of(build, stored), ROWS):
            return Edited(build=build, made=None)
        edited = _as_typed(form, build, stored)
        _look_at_hours_left(form, build, get_by_key(edited.tasks, key))
        return Edited(build=edited, made=None)

    return edit


def _look_at_hours_left(form: TypedForm, build: BuildInput, task: Task) -> None:
    """Refuse hours left on a finished task, unless neither of the two was touched here."""
    untouched = form.is_as_stored("hours_left") and form.is_as_stored("finished_on")
    if task.finished_on is None or not task.hours_left or untouched:
        return
    since = moment(task.finished_on, today=build.now.date())
    form.fault_instead(
        "hours_left",
        f"{shown(task.name)} is finished since {since}, so no hours are left of it. Empty the hours"
        " left; or, if there is work left, empty “Finished on”.",
    )


def _as_typed(form: TypedForm, build: BuildInput, stored: Task) -> BuildInput:
    named = NamedThings.of(form, build)
    task = _read_task(form, build, stored, named)
    named.offer(form)
    _ask(form, build, stored, task)
    picks = PickList.of("task", build.tasks)
    befores = _read_links(form, build, task, picks, BEFORE)
    afters = _read_links(form, build, task, picks, AFTER)
    return named.added_to(
        replace(
            build,
            tasks=replaced_by_key(build.tasks, task),
            dependencies=with_links(build.dependencies, task.key, befores, afters),
            parts=with_parts(build.parts, task.key, _read_parts(form, build, task)),
        )
    )


def _ask(form: TypedForm, build: BuildInput, stored: Task, task: Task) -> None:
    """Note what is to be asked before a task is stored: its hours left, finished or set aside."""
    aside = task.set_aside_on is not None and stored.set_aside_on is None
    finished = task.finished_on is not None and stored.finished_on is None
    question = sure_of(
        question_about_left(
            task, task.hours_left if task.hours_left != stored.hours_left else None
        ),
        unfinished_words(build, task) if finished else "",
        f"Set aside it is not done until it is begun again. {waiting_words(build, task)}"
        if aside
        else "",
    )
    if question and not form.ticked("sure"):
        form.fault("sure", question)


def _read_task(form: TypedForm, build: BuildInput, stored: Task, named: NamedThings) -> Task:
    name = form.text("name", "The name of the task", needed=True) or stored.name
    label = shown(name)
    setup = named.setups.key_of(form, "setup")
    estimate = read_estimate(form, label, shares=shares_of_kind(build, setup), stored=stored)
    people = form.whole("people", f"{label}, people", at_least=0, at_most=MOST_PEOPLE, default=1)
    litres = form.decimal("space_litres", f"{label}, space in litres", at_most=MOST_SPACE_LITRES)
    return replace(
        stored,
        name=name,
        hours=estimate.hours,
        spread_assumed=estimate.spread_assumed,
        hours_guessed=stored.hours_guessed and not form.ticked("confirmed"),
        subsystem=named.subsystems.key_of(form, "subsystem"),
        setup=setup,
        people=stored.people if people is None else people,
        helper=form.ticked("helper"),
        in_one_go=form.ticked("in_one_go"),
        stations=_read_stations(form, build, stored, label, named),
        outside_days=form.decimal("outside_days", f"{label}, days outside", at_most=MOST_DAYS_AWAY),
        cost=form.decimal("cost", f"{label}, cost"),
        paid=form.paid("paid", f"{label}, paid"),
        offer_cost=form.decimal("offer_cost", f"{label}, what somebody else takes"),
        offer_days=form.decimal("offer_days", f"{label}, their days", at_most=MOST_DAYS_AWAY),
        space_litres=litres or 0.0,
        begun_on=form.moment("begun_on", f"{label}, begun on"),
        finished_on=form.moment("finished_on", f"{label}, finished on"),
        set_aside_on=form.date("set_aside_on", f"{label}, set aside on"),
        hours_left=form.hours("hours_left", f"{label}, hours left"),
        steps=read_steps(form, stored, label),
        measures=read_measures(form, stored, label),
        caution=form.long_text("caution", f"{label}, caution"),
        notes=form.long_text("notes", f"{label}, notes"),
    )


def _read_stations(
    form: TypedForm, build: BuildInput, stored: Task, label: str, named: NamedThings
) -> tuple[StationNeed, ...]:
    """What is asked of each station, those asked for before in the order they had."""
    needs = []
    for number, station in enumerate(build.shop.stations):
        count = form.whole(
            f"station-{number}",
            f"{label}, {station.name}",
            at_least=0,
            at_most=MOST_OF_A_STATION,
            default=0,
        )
        if count:
            needs.append(StationNeed(station=station.key, count=count))
    other = named.stations.named(form.typed("other_station"), "other_station")
    count = form.whole(
        "other_count",
        f"{label}, how many of it",
        at_least=1,
        at_most=MOST_OF_A_STATION,
        default=1,
    )
    if other is not None and all(need.station != other for need in needs):
        needs.append(StationNeed(station=other, count=count or 1))
    place = {need.station: number for number, need in enumerate(stored.stations)}
    return tuple(sorted(needs, key=lambda need: place.get(need.station, len(place))))


def _read_links(
    form: TypedForm, build: BuildInput, task: Task, picks: PickList, side: LinkWords
) -> tuple[Dependency, ...]:
    links: dict[str, Dependency] = {}
    stored = sum(
        (link.after if side is BEFORE else link.before) == task.key for link in build.dependencies
    )
    for row in form.row_numbers(side.field):
        field, label = f"{side.field}-{row}", f"{shown(task.name)}, {side.words}"
        text = form.typed(field).strip()
        wait = form.hours(f"{side.wait}-{row}", f"{label}, wait hours", at_most=MOST_WAIT_HOURS)
        why = form.text(f"{side.why}-{row}", f"{label}, why")
        if not text:
            if (wait or why) and row >= stored:  # an emptied row of before removes its link
                form.fault(
                    field,
                    f"{label}: a wait or a reason is typed but no task."
                    " Pick the task, or empty the row.",
                )
            continue
        other = form.picked(field, label, picks)
        if other is None:
            continue
        if other in links:
            form.fault(
                field, f"{label}: “{picks.label(other)}” stands there twice. Empty one of the two."
            )
            continue
        before, after = (other, task.key) if side is BEFORE else (task.key, other)
        links[other] = Dependency(before=before, after=after, wait_hours=wait or 0.0, why=why)
    return tuple(links.values())


def _read_parts(form: TypedForm, build: BuildInput, task: Task) -> frozenset[str]:
    picks, label = PickList.of("part", build.parts), f"{shown(task.name)}, part it needs"
    keys = (form.picked(f"part-{row}", label, picks) for row in form.row_numbers("part"))
    return frozenset(key for key in keys if key is not None)


def place_of_fault(key: str) -> Place[None]:
    """Which form field a fault of the build belongs to."""

    def place(_made: None, fault: Fault) -> str:
        if fault.kind == "task" and fault.key == key:
            if fault.field == "hours":
                return "likely"
            if fault.field in _FIRST_OF:
                return _FIRST_OF[fault.field]
            return fault.field if fault.field in _OWN_FIELDS else "name"
        before, arrow, after = fault.key.partition(" -> ")
        if fault.kind == "dependency" and arrow and key in (before, after):
            return "before-0" if after == key else "after-0"
        return ""

    return place

"""Entering many tasks at once: one form row each, and rows may name each other."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Dependency, Fault, Task
from webapp.build.edited import Edited
from webapp.build.limits import MOST_WAIT_HOURS
from webapp.build.precedence import reached
from webapp.exchange.csv_cells import split_names
from webapp.pages.forms.picking import RESERVED_KEYS, PickList, new_key
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks.estimate_fields import read_estimate
from webapp.pages.tasks.named_things import NamedThings
from webapp.pages.words.quoted import shown

BLANK_ROWS = 5
ROW_FIELDS = (
    "name",
    "subsystem",
    "setup",
    "stations",
    "well",
    "likely",
    "fights",
    "before",
    "wait",
    "after",
)
_FIELD_OF_FAULT = {
    "name": "name",
    "key": "name",
    "subsystem": "subsystem",
    "setup": "setup",
    "stations": "stations",
    "hours": "likely",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class EnteredRow:
    """One filled-in row: its number in the form and the task made from it."""

    number: int
    task: Task


def row_numbers(form: TypedForm) -> tuple[int, ...]:
    """The rows the form was sent with."""
    return form.row_numbers("name")


def says_more(form: TypedForm, row: int) -> bool:
    """Whether a row has more than its name and likely hours, or a fault there."""
    names = [f"{field}-{row}" for field in ROW_FIELDS if field not in ("name", "likely")]
    return any(form.typed(name).strip() or form.faults_at(name) for name in names)


def blank_form(rows: int = BLANK_ROWS, *, name: str = "", after: str = "") -> TypedForm:
    """An empty form but for what is offered in its first row.

    Every row starts as work that first start needs.
    """
    values = {f"name-{row}": ("",) for row in range(rows)}
    values |= {f"needed-{row}": ("on",) for row in range(rows)}
    if name:
        values |= {"name-0": (name,), "after-0": (after,)}
    return TypedForm(values)


def with_more_rows(form: TypedForm) -> TypedForm:
    """The same form, as typed, with a blank row added at its end."""
    row = max(row_numbers(form), default=-1) + 1
    return TypedForm({**form.values, f"name-{row}": ("",), f"needed-{row}": ("on",)})


def enter_rows(form: TypedForm, build: BuildInput) -> Edited[tuple[EnteredRow, ...]]:
    """The build with every filled-in row entered, and what is made by naming it."""
    named = NamedThings.of(form, build)
    edited = read_rows(form, build, named)
    named.offer(form)
    return Edited(build=named.added_to(edited.build), made=edited.made)


def read_rows(
    form: TypedForm, build: BuildInput, named: NamedThings
) -> Edited[tuple[EnteredRow, ...]]:
    """The build with every filled-in row entered as a task; mistakes are noted in the form.

    What can not be read is stood in for, so that the build's own checks can still run and all
    faults come out at once. What the rows name is gathered in `named`.
    """
    taken = {task.key for task in build.tasks}
    rows: list[EnteredRow] = []
    for number in row_numbers(form):
        if not any(form.typed(f"{field}-{number}").strip() for field in ROW_FIELDS):
            continue
        row = EnteredRow(number=number, task=_read_task(form, build, number, taken, named))
        taken.add(row.task.key)
        rows.append(row)
    if not rows:
        first = next(iter(row_numbers(form)), 0)
        form.fault(f"name-{first}", "No task is typed. Fill in a name and its likely hours.")
        return Edited(build=build, made=())
    entered = replace(build, tasks=(*build.tasks, *(row.task for row in rows)))
    picks = PickList.of("task", entered.tasks)
    links = tuple(link for row in rows for link in _read_links(form, row, picks))
    known = {(link.before, link.after) for link in build.dependencies}
    fresh = tuple(link for link in _once(links) if (link.before, link.after) not in known)
    entered = replace(entered, dependencies=(*build.dependencies, *fresh))
    return Edited(build=_lead_to_first_start(form, entered, rows), made=tuple(rows))


def place_of_fault(rows: tuple[EnteredRow, ...], fault: Fault) -> str:
    """Which form field a fault of the build belongs to."""
    number_of = {row.task.key: row.number for row in rows}
    if fault.kind == "task" and fault.key in number_of:
        return f"{_FIELD_OF_FAULT.get(fault.field, 'name')}-{number_of[fault.key]}"
    before, arrow, after = fault.key.partition(" -> ")
    if fault.kind != "dependency" or not arrow:
        return ""
    if after in number_of:
        field = "wait" if fault.field == "wait_hours" else "before"
        return f"{field}-{number_of[after]}"
    return f"after-{number_of[before]}" if before in number_of else ""


def _read_task(
    form: TypedForm, build: BuildInput, number: int, taken: set[str], named: NamedThings
) -> Task:
    row = f"Row {number + 1}"
    name = form.text(f"name-{number}", f"{row}: the name of the task", needed=True)
    label = shown(name) or row
    for field in ("subsystem", "setup", "stations"):
        form.text(f"{field}-{number}", f"{label}: the {field}")
    estimate = read_estimate(form, label, f"-{number}", shares=shares_of_kind(build, None))
    own = form.typed(f"key-{number}").strip()
    is_free = bool(own) and own not in taken and own not in RESERVED_KEYS
    return Task(
        key=own if is_free else new_key(name or row, taken),
        name=name or row,
        subsystem=named.subsystems.key_of(form, f"subsystem-{number}"),
        setup=named.setups.key_of(form, f"setup-{number}"),
        stations=named.stations_of(form, f"stations-{number}", None),
        hours=estimate.hours,
        spread_assumed=estimate.spread_assumed,
    )


def _read_links(form: TypedForm, row: EnteredRow, picks: PickList) -> tuple[Dependency, ...]:
    name, number = shown(row.task.name), row.number
    befores = _read_picks(form, f"before-{number}", f"{name}, what comes before it", picks)
    afters = _read_picks(form, f"after-{number}", f"{name}, what comes after it", picks)
    waits = _read_waits(form, f"wait-{number}", f"{name}, wait hours", len(befores))
    if any(waits) and not befores and not form.faults_at(f"before-{number}"):
        form.fault(
            f"wait-{number}",
            f"{name}: there are hours to wait but no task to wait after."
            " Pick what comes before it, or empty the wait.",
        )
    return (
        *(
            Dependency(before=key, after=row.task.key, wait_hours=wait)
            for key, wait in zip(befores, waits, strict=False)
        ),
        *(Dependency(before=row.task.key, after=key) for key in afters),
    )


def _read_waits(form: TypedForm, field: str, label: str, count: int) -> tuple[float, ...]:
    """The hours to wait after each of what comes before: one number for all, or one for each."""
    pieces = form.typed(field).split(";")
    if len(pieces) == 1:
        hours = form.hours(field, label, at_most=MOST_WAIT_HOURS) or 0.0
        return (hours,) * max(1, count)
    if len(pieces) != count:
        form.fault(
            field,
            f"{label}: there are {len(pieces)} numbers for {count} tasks before it. Give one for"
            " all, or as many as there are tasks.",
        )
    found = []
    for piece in pieces:
        one = TypedForm({field: [piece]})
        found.append(one.hours(field, label, at_most=MOST_WAIT_HOURS) or 0.0)
        for fault in one.faults:
            form.fault(field, fault.text)
    return tuple(found)


def _read_picks(form: TypedForm, field: str, label: str, picks: PickList) -> tuple[str, ...]:
    """The keys meant by a field that takes one name, or several with semicolons between."""
    text = form.typed(field).strip()
    if not text:
        return ()
    whole, _ = picks.find(text)
    if whole is not None:
        return (whole,)
    keys = []
    for piece in split_names(text):
        key, why_not = picks.find(piece)
        if key is None:
            form.fault(field, f"{label}: {why_not}")
        else:
            keys.append(key)
    return tuple(dict.fromkeys(keys))


def _once(links: tuple[Dependency, ...]) -> tuple[Dependency, ...]:
    """Each pair once, with the longest wait: two rows may state the same link from both ends."""
    kept: dict[tuple[str, str], Dependency] = {}
    for link in links:
        pair = (link.before, link.after)
        if pair not in kept or link.wait_hours > kept[pair].wait_hours:
            kept[pair] = link
    return tuple(kept.values())


def _lead_to_first_start(form: TypedForm, build: BuildInput, rows: list[EnteredRow]) -> BuildInput:
    """Link the tasks that first start needs, and that do not lead to it yet, straight to it.

    Those that nothing comes after go first: what leads to them leads to first start then.
    """
    first_start = build.first_start
    if first_start is None:
        return build
    wanted = [row.task.key for row in rows if form.ticked(f"needed-{row.number}")]
    befores, afters = _neighbours(build.dependencies)
    leading = _reached(first_start, befores, set())
    later = _reached(first_start, afters, set())  # entered as coming after first start
    links = []
    for key in sorted(wanted, key=lambda key: key in afters):
        if key not in leading and key not in later:
            links.append(Dependency(before=key, after=first_start))
            leading = _reached(key, befores, leading)
    return replace(build, dependencies=(*build.dependencies, *links))


def _neighbours(
    links: tuple[Dependency, ...],
) -> tuple[Mapping[str, Sequence[str]], Mapping[str, Sequence[str]]]:
    """What stands right before, and right after, each task that has any."""
    befores: dict[str, list[str]] = {}
    afters: dict[str, list[str]] = {}
    for link in links:
        befores.setdefault(link.after, []).append(link.before)
        afters.setdefault(link.before, []).append(link.after)
    return befores, afters


def _reached(key: str, beside: Mapping[str, Sequence[str]], known: set[str]) -> set[str]:
    """What is known, the task, and all that is reached from it, whatever the build's state."""
    found = reached([key], lambda task: (one for one in beside.get(task, ()) if one not in known))
    return known.union(found)

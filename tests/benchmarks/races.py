"""Every address that writes raced with itself: two posts at once must be as one after the other.

The forms are those that the pages show. What two posts leave behind, row by row, is compared with
what the same two leave behind one after the other, in either order: nothing may be there twice,
nothing half.
"""

import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from fastapi.routing import APIRoute

from tests.benchmarks.forms_filled import variants
from tests.benchmarks.forms_found import Form, forms_in, route_of
from tests.benchmarks.race_course import Course, Outcome, Rows, State
from tests.benchmarks.race_states import race_states
from tests.benchmarks.timing import Table
from tests.pages.test_bad_requests import plain_routes
from webapp.pages import routers
from webapp.pages.forms.posted import TOKEN_FIELD

RACES = 10
"""So often each pair is raced."""
TRIED = 12
"""So many forms of a route are tried for two that are taken."""
ANSWERED = "answered"
SWITCH_SECONDS = 1e-4
"""Threads take turns oftener than they would by themselves: a race that is there shows."""

NOT_RACED = {
    "/builds/{slug}/bench/not-tonight": "kept by the browser, in a cookie",
    "/builds/{slug}/tighten": "begins a search in memory, and nothing is stored",
    "/builds/{slug}/stop-tightening": "ends a search in memory, and nothing is stored",
    "/builds/{slug}/stop-cutting": "ends a search in memory, and nothing is stored",
    "/network/code": "a code is in memory alone, and a newer one takes its place",
    "/network/leave": "of a paired device alone, and does what /network/turn-away does",
    "/pair": "leads on who is let in; tests/services/test_devices.py races the codes of the others",
}
"""Writing routes that change nothing that is kept, and why that is so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Raced:
    """One route: the pairs that were raced, whether they change anything, what went wrong."""

    pairs: tuple[str, ...] = ()
    changes: bool = False
    faults: Counter[str] = field(default_factory=Counter)


def endurance_of_races(table: Table) -> None:
    """Race every writing route; name what went wrong, and what could not be raced in earnest."""
    switching = sys.getswitchinterval()
    sys.setswitchinterval(SWITCH_SECONDS)
    try:
        raced = race_all(race_states())
    finally:
        sys.setswitchinterval(switching)
    earnest = {path: each for path, each in raced.items() if each.changes}
    pairs = sum(len(each.pairs) for each in earnest.values())
    faults = sum((each.faults for each in raced.values()), Counter[str]())
    errors = sum(times for fault, times in faults.items() if ANSWERED in fault)
    table.row("writing routes there are", f"{len(raced)}", None)
    table.row("  that change nothing that is kept", f"{len(NOT_RACED)}", None)
    table.row("  raced with themselves", f"{len(earnest)}", None)
    table.row("  among them with two forms that differ", f"{_differing(earnest)}", None)
    table.row("  neither raced nor told why not", f"{len(untold(raced))}", None, "0")
    table.row("races", f"{pairs * RACES:,}", None)
    table.row("  answered with an error", f"{errors}", None, "0")
    table.row("  that left something double or half", f"{faults.total() - errors}", None, "0")
    for path in untold(raced):
        print(f"  {path}: no form was found that changes anything")


def _differing(raced: dict[str, Raced]) -> int:
    return sum(len(each.pairs) > 2 for each in raced.values())


def untold(raced: dict[str, Raced]) -> list[str]:
    """The routes that were not raced in earnest, though nothing says why."""
    return [path for path, each in raced.items() if not each.changes and path not in NOT_RACED]


def race_all(states: Sequence[State]) -> dict[str, Raced]:
    """Race each writing route of the application in the first state in which it changes."""
    every = list(plain_routes(routers()))
    raced = {route.path: Raced() for route in every if "POST" in (route.methods or ())}
    for state in states:
        with tempfile.TemporaryDirectory() as folder:
            course = Course(Path(folder), state)
            forms = course.forms(every)
            for path in untold(raced):
                mine = [form for form in forms if _path_of(every, form) == path]
                if mine:
                    raced[path] = _race(course, mine)
                for fault, times in raced[path].faults.items():
                    print(f"  {path}: {times} of {RACES}: {fault}", flush=True)
    return raced


def _path_of(every: list[APIRoute], form: Form) -> str:
    route = route_of(every, "POST", form.action)
    return "" if route is None else route.path


def _race(course: Course, forms: list[Form]) -> Raced:
    """Race one form sent twice, the same form of two windows, and two forms that differ."""
    taken = _taken(course, forms)
    if not taken:
        return Raced()
    first, left = taken[0]
    pairs = {"one form twice": (first, first), "two windows": (first, _of_another_window(first))}
    if len(taken) > 1:
        pairs["two that differ"] = (first, taken[1][0])
    faults: Counter[str] = Counter()
    for name, pair in pairs.items():
        orders = {pair, pair[::-1]}
        right = [course.posted(order, at_once=False).rows for order in orders]
        if name == "one form twice" and right != [left]:
            faults["one form twice, one after the other, is more than once"] += RACES
        for _ in range(RACES):
            fault = _fault_of(course.posted(pair, at_once=True), right)
            if fault:
                faults[f"{name}: {fault}"] += 1
    return Raced(pairs=tuple(pairs), changes=left != course.rows, faults=faults)


def _taken(course: Course, forms: list[Form]) -> list[tuple[Form, Rows]]:
    """Up to two forms that are taken, and what each leaves behind; those that change first."""
    taken: list[tuple[Form, Rows]] = []
    for form, outcome in _tried(course, forms):
        if max(outcome.statuses) < 400 and all(outcome.rows != rows for _, rows in taken):
            taken.append((form, outcome.rows))
        if sum(rows != course.rows for _, rows in taken) == 2:
            break
    return sorted(taken, key=lambda each: each[1] == course.rows)[:2]


def _tried(course: Course, forms: list[Form]) -> Iterator[tuple[Form, Outcome]]:
    """Each form filled, and what comes of it; where that is a question, its answer as well."""
    for form in variants(forms[:TRIED]):
        outcome = course.posted([form], at_once=False)
        yield form, outcome
        if outcome.statuses == (200,) and outcome.rows == course.rows:
            for asked in forms_in(outcome.texts[0]):
                if asked.action == form.action:
                    yield asked, course.posted([asked], at_once=False)


def _of_another_window(form: Form) -> Form:
    """The same form of a page that was asked for once more: it has another token."""
    fields = ((n, f"{value}-" if n == TOKEN_FIELD else value) for n, value in form.fields)
    return replace(form, fields=tuple(fields))


def _fault_of(raced: Outcome, right: list[Rows]) -> str:
    """What is wrong with the outcome of a race; "" where nothing is."""
    if max(raced.statuses) >= 500:
        return f"{ANSWERED} {max(raced.statuses)}"
    if raced.rows in right:
        return ""
    more = [_differences(raced.rows, rows) for rows in right]
    return f"leaves what neither order does: {min(more, key=len)}"


def _differences(raced: Rows, right: Rows) -> str:
    """The tables that differ, with the rows that are too many or too few."""
    return ", ".join(
        f"{table} {len(raced[table]) - len(rows):+d}"
        for table, rows in right.items()
        if raced[table] != rows
    )

"""Which tasks the table shows: found by name, of one subsystem, not yet looked at; page by page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from urllib.parse import parse_qsl, urlencode

from webapp.build.build_input import BuildInput, Task

ROWS_AT_ONCE = 40
"""More rows than these are slow in a browser: 250 took 6 to 8 s on a phone."""
NO_SUBSYSTEM = "-"
"""Stands for the tasks without a subsystem."""
KINDS = ("unseen", "open", "shut")
"""What `only` can be: hours not looked at, still open, finished or set aside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFilter:
    """What is asked of the table; "" asks for nothing. `after` is the task before its first row."""

    find: str = ""
    subsystem: str = ""
    only: str = ""
    after: str = ""

    @classmethod
    def of(cls, said: Mapping[str, str]) -> "TableFilter":
        """What an address asks; what it can not mean is left out."""
        only = said.get("only", "")
        return cls(
            find=" ".join(said.get("find", "").split())[:200],
            subsystem=said.get("subsystem", ""),
            only=only if only in KINDS else "",
            after=said.get("after", ""),
        )

    @classmethod
    def of_query(cls, query: str) -> "TableFilter":
        """The same of a query written out."""
        return cls.of(dict(parse_qsl(query)))

    @property
    def fields(self) -> dict[str, str]:
        """What an address needs to ask the same."""
        said = {
            "find": self.find,
            "subsystem": self.subsystem,
            "only": self.only,
            "after": self.after,
        }
        return {name: text for name, text in said.items() if text}

    @property
    def query(self) -> str:
        return urlencode(self.fields)

    @property
    def asks(self) -> bool:
        """Whether it leaves out any task."""
        return bool(self.find or self.subsystem or self.only)


def is_unseen(task: Task) -> bool:
    """Whether nobody has looked at the hours of a task yet.

    Open work whose hours are a starter list's guess that was neither changed nor confirmed.
    """
    return task.is_open and task.hours_guessed


def in_order(build: BuildInput) -> tuple[Task, ...]:
    """All tasks as the table has them: open ones first, in working order of their subsystems."""
    ranks = {each.key: (0, each.order) for each in build.subsystems}

    def place(task: Task) -> tuple[bool, tuple[int, int]]:
        return not task.is_open, ranks.get(task.subsystem or "", (1, 0))

    return tuple(sorted(build.tasks, key=place))


@dataclass(frozen=True, slots=True, kw_only=True)
class TablePage:
    """The rows of one page. `first` counts from 1; the filters lead to the pages beside it."""

    tasks: tuple[Task, ...]
    first: int
    of: int
    before: TableFilter | None
    after: TableFilter | None


def page_of_tasks(build: BuildInput, asked: TableFilter) -> TablePage:
    """The page of the table that is asked for.

    It is told by the task it begins behind, so that rows that fall out of the filter while it is
    worked through take none of the next ones with them.
    """
    ordered = in_order(build)
    places = {task.key: place for place, task in enumerate(ordered)}
    begins = places.get(asked.after, -1) + 1
    found = [task for task in ordered if _is_asked_for(task, asked)]
    start = next((n for n, task in enumerate(found) if places[task.key] >= begins), len(found))
    shown = found[start : start + ROWS_AT_ONCE]
    return TablePage(
        tasks=tuple(shown),
        first=start + 1,
        of=len(found),
        before=_turned(asked, found, start - ROWS_AT_ONCE) if start else None,
        after=_turned(asked, found, start + ROWS_AT_ONCE)
        if start + ROWS_AT_ONCE < len(found)
        else None,
    )


def _turned(asked: TableFilter, found: Sequence[Task], start: int) -> TableFilter:
    return replace(asked, after=found[start - 1].key if start > 0 else "")


def _is_asked_for(task: Task, asked: TableFilter) -> bool:
    if asked.subsystem and (task.subsystem or NO_SUBSYSTEM) != asked.subsystem:
        return False
    if asked.only == "unseen" and not is_unseen(task):
        return False
    if asked.only in ("open", "shut") and task.is_open != (asked.only == "open"):
        return False
    name = task.name.casefold()
    return all(word in name for word in asked.find.casefold().split())

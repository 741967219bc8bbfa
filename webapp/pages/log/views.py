"""The time log in strings, by week, the last entry first."""

from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.log.forms import digest_of
from webapp.pages.week.labels import label_of, week_words
from webapp.pages.words import amounts as words
from webapp.planning.record.week_figures import IsoWeek, week_of

SHOWN_ENTRIES = 30
"""So many entries stand on one page: on a phone they are eight screens at most, a week each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryLine:
    day: str
    task: str
    task_address: str
    hours: str
    setup: str
    left: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LogWeek:
    name: str
    address: str
    hours: str
    entries: tuple[EntryLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LogView:
    """One page of the log; `later` and `earlier` are addresses, "" where there are none."""

    weeks: tuple[LogWeek, ...]
    later: str
    earlier: str
    hours: str
    count: str


def log_view(page: PageContext, *, number: int = 1, everything: bool = False) -> LogView:
    """The `number`th page of the entries, the latest first, or all of them."""
    build = page.build
    names = {task.key: task.name for task in build.tasks}
    ordered = sorted(enumerate(build.log), key=lambda pair: (pair[1].on, pair[0]), reverse=True)
    first = 0 if everything else (number - 1) * SHOWN_ENTRIES
    shown = ordered if everything else ordered[first : first + SHOWN_ENTRIES]
    weeks: dict[IsoWeek, list[EntryLine]] = {}
    for place, entry in shown:
        weeks.setdefault(week_of(entry.on), []).append(
            EntryLine(
                day=words.short_day(entry.on, today=page.today),
                task=names.get(entry.task, entry.task),
                task_address=addresses.task(page.slug, entry.task),
                hours=words.worked(entry.hours),
                setup=words.worked(entry.setup_hours) if entry.setup_hours else "",
                left="" if entry.left is None else words.worked(entry.left),
                address=addresses.log_entry(page.slug, place, digest_of(entry)),
            )
        )
    sums: dict[IsoWeek, float] = {}
    for entry in build.log:
        sums[week_of(entry.on)] = sums.get(week_of(entry.on), 0.0) + entry.bench_hours
    return LogView(
        weeks=tuple(
            LogWeek(
                name=week_words(week, today=page.today),
                address=addresses.week(page.slug, label_of(week)),
                hours=words.worked(sums[week]),
                entries=tuple(lines),
            )
            for week, lines in weeks.items()
        ),
        later=addresses.log(page.slug, number - 1) if first else "",
        earlier=addresses.log(page.slug, number + 1) if first + len(shown) < len(ordered) else "",
        hours=words.worked(sum(entry.bench_hours for entry in build.log)),
        count=words.count(len(build.log), "entry", "entries"),
    )

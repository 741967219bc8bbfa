"""The time log in strings, by week, the last entry first."""

from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.log.forms import digest_of
from webapp.pages.week.labels import label_of, week_words
from webapp.pages.words import amounts as words
from webapp.planning.record.week_figures import IsoWeek, week_of

SHOWN_ENTRIES = 60


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
    """`more` is how many older entries there are; they are asked for with ?all=1."""

    weeks: tuple[LogWeek, ...]
    more: int
    hours: str
    count: str


def log_view(page: PageContext, *, everything: bool = False) -> LogView:
    build = page.build
    names = {task.key: task.name for task in build.tasks}
    ordered = sorted(enumerate(build.log), key=lambda pair: (pair[1].on, pair[0]), reverse=True)
    shown = ordered if everything else ordered[:SHOWN_ENTRIES]
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
        more=len(ordered) - len(shown),
        hours=words.worked(sum(entry.bench_hours for entry in build.log)),
        count=words.count(len(build.log), "entry", "entries"),
    )

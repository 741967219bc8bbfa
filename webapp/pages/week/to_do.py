"""What there is to do in the Sunday half hour, line by line: what is asked, and its forms."""

import datetime as dt
import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from webapp.build.build_input import LogEntry
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.wish import Wish
from webapp.pages import addresses
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_fields import FieldFault
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.week.to_do_forms import shown_of
from webapp.pages.wishes.prices import price_of
from webapp.pages.wishes.ways import way_columns
from webapp.pages.words import amounts as words
from webapp.pages.words import to_do as say
from webapp.planning.record.to_do import Evening, LatePart, Outrun, OutsideDue, ToDo, next_sunday
from webapp.planning.record.workable import workable_tasks

SHOWN = 12
"""So many lines stand on the page; the others come up as these are answered."""
LEAST_TOGETHER = 3
"""From so many evenings on one press answers them all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """A line that was answered and not taken: what it is about, how, and its form with faults."""

    about: str
    key: str
    answer: str
    form: TypedForm


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceLine:
    """What a wish moves first start by, each way in short; `again` while it is worked out."""

    text: str
    again: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDoLine:
    """One line. `forms` and `posts` (addresses) are by answer, `key` what it is about.

    `tasks` are the labels that hours of an evening may be of, `together` the dates of all
    evenings and `later` the Sunday a wish is put off to. `link` leads to the thing itself.
    """

    id: str
    about: str
    key: str
    name: str
    asks: str
    posts: Mapping[str, str]
    forms: Mapping[str, TypedForm]
    number: str = ""
    is_open: bool = False
    link: str = ""
    tasks: tuple[tuple[str, str], ...] = ()
    together: tuple[str, ...] = ()
    later: str = ""
    price: PriceLine | None = None

    @property
    def kind(self) -> str:
        """What kind of line it is, in words."""
        return say.KINDS[self.about]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDoView:
    """All lines. `refused` is why an answer was not taken to a line that is not there any more.

    `again` is where is asked whether they are other lines by now.
    """

    lines: tuple[ToDoLine, ...]
    again: str
    more: str
    nothing: str
    refused: tuple[FieldFault, ...]


def to_do_view(
    page: PageContext, todo: ToDo, label: str, answered: Answered | None = None
) -> ToDoView:
    """The lines of what there is to do; the first is open, or the one that was answered."""
    found = [*_Lines(page, label).of(todo)]
    shown = found[:SHOWN]
    at = 0
    if answered is not None:
        at = next((i for i, one in enumerate(shown) if _is_of(one, answered)), -1)
    lines = [
        replace(line, number=f"{i + 1} of {len(found)}", is_open=i == max(at, 0))
        for i, line in enumerate(shown)
    ]
    if answered is not None and at >= 0:
        forms = {**lines[at].forms, answered.answer: answered.form}
        lines[at] = replace(lines[at], forms=forms)
    rest = len(found) - SHOWN
    return ToDoView(
        lines=tuple(lines),
        again=addresses.to_do_lines(
            page.slug, page.revision, tuple(line.id for line in lines), label
        ),
        more=say.MORE_AFTER.format(count=rest) if rest > 0 else "",
        nothing="" if found else say.NOTHING_TO_DO,
        refused=answered.form.faults if answered is not None and at < 0 else (),
    )


def _is_of(line: ToDoLine, answered: Answered) -> bool:
    return (line.about, line.key) == (answered.about, answered.key) and (
        answered.answer in line.forms
    )


def line_id(about: str, key: str) -> str:
    """The id of a line on the page: the same as long as it stands there."""
    return f"{about}-{hashlib.sha256(key.encode()).hexdigest()[:8]}"


def price_line(page: PageContext, wish: Wish) -> PriceLine:
    """The price of a wish as far as it is worked out."""
    if page.faults or page.plan is None:
        return PriceLine(text="It can not be priced while the build has faults.")
    price = price_of(page, wish)
    if not price.ready:
        return PriceLine(
            text="Its price is being worked out.", again=addresses.to_do_price(page.slug, wish.key)
        )
    if price.value is None or price.value.priced is None:
        return PriceLine(text="It can not be priced as it stands.")
    ways = way_columns(page, price.value.priced.ways)
    return PriceLine(
        text=f"{words.sentence('; '.join(f'{way.way}: {way.move}' for way in ways[:-1]))}."
    )


class _Lines:
    """The lines of one page."""

    def __init__(self, page: PageContext, label: str) -> None:
        self.page, self.label = page, label
        self.build, self.today = page.build, page.today

    def of(self, todo: ToDo) -> Iterator[ToDoLine]:
        """All of them, in the order in which they are gone through."""
        evenings = [one.date for one in todo.evenings[:SHOWN]]
        there = workable_tasks(self.page.planned.as_lived, evenings) if evenings else {}
        for evening in todo.evenings[:SHOWN]:
            yield self._evening(evening, there[evening.date], todo.evenings)
        for evening in todo.evenings[SHOWN:]:
            yield self._evening(evening, (), todo.evenings)
        yield from map(self._part, todo.parts)
        yield from map(self._outside, todo.outside)
        yield from map(self._wish, todo.wishes)
        yield from map(self._outrun, todo.outrun)

    def _line(self, about: str, key: str, name: str, asks: str, *answers: str) -> ToDoLine:
        line, shown = line_id(about, key), shown_of(self.build, about, key)
        return ToDoLine(
            id=line,
            about=about,
            key=key,
            name=name,
            asks=asks,
            posts={
                answer: addresses.to_do(self.page.slug, about, key, answer, self.label)
                for answer in answers
            },
            forms={answer: TypedForm.opened(shown, scope=f"{line}-{answer}") for answer in answers},
        )

    def _evening(
        self, evening: Evening, there: tuple[str, ...], every: tuple[Evening, ...]
    ) -> ToDoLine:
        day = evening.date
        asks = say.evening_asked(sessions_on(self.build, day))
        line = self._line(
            "evening", day.isoformat(), words.day(day, today=self.today), asks, "away", "hours"
        )
        labels = PickList.of("task", self.build.tasks)
        keys = sorted(there, key=lambda key: key != self._last_worked(day))
        together: tuple[str, ...] = ()
        if len(every) >= LEAST_TOGETHER:
            together = tuple(one.date.isoformat() for one in every)
            line = replace(
                line,
                posts={
                    **line.posts,
                    "together": addresses.to_do(self.page.slug, "evening", "", "away", self.label),
                },
            )
        return replace(
            line,
            tasks=tuple((labels.label(key), labels.label(key)) for key in keys),
            together=together,
            link=addresses.log(self.page.slug),
        )

    def _last_worked(self, day: dt.date) -> str:
        """The task that was worked on last before a date: the one that most likely went on."""
        before = [entry for entry in self.build.log if entry.on < day]
        last: LogEntry | None = max(before, key=lambda entry: entry.on, default=None)
        return last.task if last is not None else ""

    def _part(self, late: LatePart) -> ToDoLine:
        part = late.part
        asks = say.part_asked(part, late.said, self._waiting(part.serves), today=self.today)
        line = self._line("part", part.key, part.name, asks, "here", "day")
        return replace(line, link=addresses.part(self.page.slug, part.key))

    def _waiting(self, keys: tuple[str, ...]) -> list[str]:
        return [task.name for task in self.build.tasks if task.key in keys and task.is_open]

    def _outside(self, out: OutsideDue) -> ToDoLine:
        task = out.task
        asks = say.outside_asked(out.due, today=self.today)
        line = self._line("outside", task.key, task.name, asks, "back", "day")
        return replace(line, link=addresses.task(self.page.slug, task.key))

    def _wish(self, wish: Wish) -> ToDoLine:
        name = words.one_line(wish.text, 90)
        asks = say.wish_asked(wish.logged_on, today=self.today)
        return replace(
            self._line("wish", wish.key, name, asks, "later"),
            link=addresses.wish_at(self.page.slug, wish.key),
            later=words.day(next_sunday(self.today), today=self.today),
            price=price_line(self.page, wish),
        )

    def _outrun(self, one: Outrun) -> ToDoLine:
        task = one.task
        asks = say.outrun_asked(one.worked_hours, task.hours.expected)
        line = self._line("outrun", task.key, task.name, asks, "left", "done")
        return replace(line, link=addresses.task(self.page.slug, task.key))

"""What the Parts page shows, in strings: what must be ordered by when, and what is on its way."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import Part
from webapp.build.due_days import Due, due_of
from webapp.build.moments import moment_at_start
from webapp.build.money import cents_of
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.link import Link
from webapp.pages.parts.order_dates import latest_arrivals_of, order_by_of
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How, order_by_how
from webapp.pages.words.money import cents, money
from webapp.pages.words.parts import assumed
from webapp.pages.words.plumbing_parts import brings_said
from webapp.pages.words.the_end import the_end
from webapp.pages.words.unplanned import gap_words

FAR = dt.date.max


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """One part. `when` is what to do or to expect, `why` what it rests on.

    `brings` is what it is for the plumbing, "" for nothing.
    """

    key: str
    name: str
    address: str
    supplier: str
    when: str
    why: str
    pressing: bool
    can_order: bool
    serves: tuple[Link, ...]
    cost: str
    brings: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsView:
    """The parts in the order in which they want attention.

    `working`: the dates are still being worked out and the page asks for them again.
    """

    pressing: tuple[PartLine, ...]
    to_order: tuple[PartLine, ...]
    on_the_way: tuple[PartLine, ...]
    here: tuple[PartLine, ...]
    cost: str
    working: bool
    how: How | None


def parts_view(page: PageContext) -> PartsView:
    """The parts of the build; what is overdue stands first."""
    dates = latest_arrivals_of(page)
    latest = dates.value or {}
    lines = _Lines(page, latest, working=not dates.ready)
    parts = page.build.parts
    to_order = [part for part in parts if not part.arrived and part.ordered_on is None]
    on_the_way = [part for part in parts if not part.arrived and part.ordered_on is not None]
    to_order.sort(
        key=lambda part: (
            part.key not in lines.held,
            order_by_of(part, latest.get(part.key)) or FAR,
            part.name,
        )
    )
    on_the_way.sort(key=lambda part: (_spare_days(part, latest, page.today), part.name))
    ordering = [lines.to_order(part) for part in to_order]
    coming = [lines.on_the_way(part) for part in on_the_way]
    return PartsView(
        pressing=tuple(line for line in (*ordering, *coming) if line.pressing),
        to_order=tuple(line for line in ordering if not line.pressing),
        on_the_way=tuple(line for line in coming if not line.pressing),
        here=tuple(lines.here(part) for part in parts if part.arrived),
        cost=_cost_words(parts, to_order),
        working=not dates.ready,
        how=_how(page, to_order, latest),
    )


def _how(page: PageContext, to_order: list[Part], latest: dict[str, dt.date]) -> How | None:
    """How the order-by dates came about, with the first of them as the example."""
    for part in to_order:
        order_by = order_by_of(part, latest.get(part.key))
        if order_by is not None and part.lead_days is not None:
            return order_by_how(
                part.name,
                here_by=words.day(latest[part.key], today=page.today),
                lead_days=part.lead_days,
                order_by=words.day(order_by, today=page.today),
            )
    return None


def _spare_days(part: Part, latest: dict[str, dt.date], today: dt.date) -> int:
    """Days between the arrival and the latest that does not move first start."""
    due = due_of(part, today)
    if due is None:
        return -(10**6)
    if part.key not in latest:
        return 10**6
    return words.days_apart(due.on, latest[part.key])


def _cost_words(parts: tuple[Part, ...], to_order: list[Part]) -> str:
    costs = [cents_of(part.cost) for part in parts if part.cost is not None]
    if not costs:
        return ""
    still = sum(cents_of(part.cost or 0) for part in to_order)
    left_out = len(parts) - len(costs)
    text = f"{cents(sum(costs))} for all parts, {cents(still)} of it still to order"
    if left_out:
        text += f"; {words.count(left_out, 'part has', 'parts have')} no cost entered"
    return f"{text}."


class _Lines:
    """Makes the lines of one page."""

    def __init__(self, page: PageContext, latest: dict[str, dt.date], *, working: bool) -> None:
        self.page = page
        self.today = page.today
        self.latest = latest
        self.working = working
        self.tasks = {task.key: task for task in page.build.tasks}
        gaps = gap_words(page.build, page.plan) if page.plan is not None else ()
        self.held = {gap.what: said for gap, said in gaps if gap.kind == "undated_part"}

    def to_order(self, part: Part) -> PartLine:
        latest = self.latest.get(part.key)
        order_by = order_by_of(part, latest)
        if part.key in self.held:
            when = "No date: enter its lead time, or the day it comes"
            return self._line(part, when, self.held[part.key], True)
        if latest is None or order_by is None:
            when = "Order date not known yet" if self.working else "Order when you like"
            return self._line(part, when, self._no_date(part))
        need = f"must be here by {words.day(latest, today=self.today)}"
        if part.lead_days is None:
            text = f"Needed by {words.day(latest, today=self.today)}"
            return self._line(
                part,
                text,
                "lead time not known: enter it to get an order-by date",
                latest <= self.today,
            )
        why = f"{need}, takes {words.days(part.lead_days)}"
        reckoned = due_of(part, self.today)
        if reckoned is not None:
            why += f"; reckoned with for {words.day(reckoned.said, today=self.today)}"
            why += f" ({assumed(part, reckoned, self.today)})" if reckoned.assumed else ""
        late = words.days_apart(order_by, self.today)
        if late > 0:
            when = f"Overdue by {words.days(late)}: order by was {self._day(order_by)}"
        elif late == 0:
            when = "Order today"
        else:
            when = f"Order by {self._day(order_by)}"
        return self._line(part, when, why, late >= 0)

    def on_the_way(self, part: Part) -> PartLine:
        reckoned = due_of(part, self.today)
        ordered = self._rests_on(part, reckoned)
        if reckoned is None:
            held = self.held.get(part.key, "")
            why = "; ".join(text for text in (ordered, held) if text)
            return self._line(part, "No date: ask when it comes", why, True)
        due = f"Comes {self._day(reckoned.said)}"
        overdue = words.days_apart(reckoned.said, self.today)
        if overdue > 0:
            due = f"Overdue by {words.days(overdue)}: was to come {self._day(reckoned.said)}"
            return self._line(part, due, ordered, True)
        if moment_at_start(reckoned.on) <= self.page.now:
            return self._line(part, f"{due}: is it here?", ordered, True)
        latest = self.latest.get(part.key)
        if latest is None:
            return self._line(part, due, f"{ordered}; {self._no_date(part)}")
        spare = words.days_apart(reckoned.on, latest)
        room = (
            f"{words.days(spare)} to spare, until {self._day(latest)}"
            if spare > 0
            else f"one day later would move {the_end()}"
        )
        return self._line(part, due, f"{ordered}; {room}", spare <= 0)

    def _rests_on(self, part: Part, due: Due | None) -> str:
        """What was entered of a part on its way, each day once, and what is assumed from it."""
        said = "" if due is None else due.basis
        days = []
        if part.ordered_on is not None and said != "ordered":
            days.append(f"ordered {self._day(part.ordered_on)}")
        if part.promised_on is not None and said != "promised":
            days.append(f"promised for {self._day(part.promised_on)}")
        told = [", ".join(days), "" if due is None else assumed(part, due, self.today)]
        return "; ".join(text for text in told if text)

    def here(self, part: Part) -> PartLine:
        return self._line(part, "Here", "")

    def _no_date(self, part: Part) -> str:
        if not part.serves:
            return "no task needs it: say which tasks it serves"
        if self.page.plan is None:
            return "nothing can be planned yet, so no date"
        if self.working:
            return "being worked out"
        build = self.page.build
        waiting = [
            self.tasks[key]
            for key in part.serves
            if self.tasks[key].is_open and self.tasks[key].begun_on is None
        ]
        if not waiting:
            return "the tasks it serves are begun or done"
        if not self.latest and self.page.plan.first_start_at is None:
            return f"{the_end()} has no date yet"
        first = next((task.name for task in build.tasks if task.key == build.first_start), "")
        return f"“{first}” does not wait for it"

    def _day(self, date: dt.date) -> str:
        return words.day(date, today=self.today)

    def _line(self, part: Part, when: str, why: str, pressing: bool = False) -> PartLine:
        return PartLine(
            key=part.key,
            name=part.name,
            address=addresses.part(self.page.slug, part.key),
            supplier=part.supplier,
            when=when,
            why=why,
            pressing=pressing,
            can_order=not part.arrived and part.ordered_on is None,
            serves=tuple(
                Link(name=self.tasks[key].name, address=addresses.task(self.page.slug, key))
                for key in part.serves
            ),
            cost="" if part.cost is None else money(part.cost),
            brings=brings_said(
                line for line in self.page.build.plumbing.ordered if line.part == part.key
            ),
        )

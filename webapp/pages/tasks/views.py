"""What the page of a task shows, in strings: its job card."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.build.by_key import find_by_key
from webapp.build.due_days import due_of
from webapp.build.hours_to_go import hours_to_go_of
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.start_held import held_by_the_list
from webapp.pages.order.ahead import Ahead
from webapp.pages.tasks.estimate_fields import is_certain
from webapp.pages.words import amounts as words
from webapp.pages.words.held_circuits import held_at_length
from webapp.pages.words.how import How
from webapp.pages.words.own_lists import from_where
from webapp.pages.words.parts import assumed
from webapp.pages.words.reasons import ReasonWords
from webapp.pages.words.the_end import capital_end
from webapp.pages.words.unplanned import unplanned_words
from webapp.planning.order.plan import PlannedTask

WHY_FIRST = "Why first"
SAFETY = "Local codes and licensed practice come first."


def state_words(task: Task, today: dt.date) -> str:
    """The facts about a task as a state in words."""
    if task.finished_on is not None:
        return f"finished {words.short_day(task.finished_on, today=today)}"
    if task.set_aside_on is not None:
        return f"set aside {words.short_day(task.set_aside_on, today=today)}"
    if task.begun_on is not None:
        return f"begun {words.short_day(task.begun_on, today=today)}"
    return "open"


# one task -----------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One line of a job card."""

    word: str
    text: str
    figure: str = ""
    how: How | None = None
    """How the figure of that kind came about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLink:
    """A task before or after, or a part, on a job card."""

    name: str
    address: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLinks:
    """One list of a job card, folded on the screen: `count` says what is in it."""

    title: str
    count: str
    is_open: bool
    links: tuple[CardLink, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobCard:
    """One task, to be read in the shop and printed."""

    name: str
    subsystem: str
    brief: str
    """Its hours in a few words, for the head of the card."""
    facts: tuple[Fact, ...]
    caution: str
    safety: str
    notes: str
    lists: tuple[CardLinks, ...]
    """What comes before it, the parts it needs, what comes after it; those that have anything."""


def job_card(page: PageContext, task: Task) -> JobCard:
    """The job card of a task."""
    build = page.build
    subsystems = {each.key: each for each in build.subsystems}
    subsystem = subsystems.get(task.subsystem or "")
    return JobCard(
        name=task.name,
        subsystem=subsystem.name if subsystem else "",
        brief=_brief_words(build, task),
        facts=(*_plan_facts(page, task), *_held_facts(page, task), *_need_facts(build, task)),
        caution=task.caution,
        safety=SAFETY,
        notes=task.notes,
        lists=tuple(each for each in _card_lists(page, task) if each.links),
    )


def _card_lists(page: PageContext, task: Task) -> tuple[CardLinks, ...]:
    build, tasks = page.build, {each.key: each for each in page.build.tasks}
    befores = [link for link in build.dependencies if link.after == task.key]
    afters = [link for link in build.dependencies if link.before == task.key]
    parts = [part for part in build.parts if task.key in part.serves]
    done = sum(tasks[link.before].finished_on is not None for link in befores)
    away = sum(not part.arrived for part in parts)
    return (
        CardLinks(
            title="Comes before it",
            count=f"{len(befores)}, {'all' if done == len(befores) else done or 'none'} finished",
            is_open=False,
            links=tuple(_link(page, tasks[link.before], link) for link in befores),
        ),
        CardLinks(
            title="Parts it needs",
            count=f"{len(parts)}, {f'{away} not here' if away else 'all here'}",
            is_open=away > 0 and task.is_open,
            links=tuple(
                CardLink(
                    name=part.name,
                    address=addresses.part(page.slug, part.key),
                    note=part_state(part, page.today),
                )
                for part in parts
            ),
        ),
        CardLinks(
            title="Comes after it",
            count=str(len(afters)),
            is_open=False,
            links=tuple(_link(page, tasks[link.after], link) for link in afters),
        ),
    )


def part_state(part: Part, today: dt.date) -> str:
    """Whether a part is here, or when it comes, in words."""
    if part.arrived:
        return "here"
    due = due_of(part, today)
    if due is None:
        return "not here, no date"
    mark = f" ({assumed(part, due, today)})" if due.assumed else ""
    return f"comes {words.day(due.said, today=today)}{mark}"


def _link(page: PageContext, other: Task, link: Dependency) -> CardLink:
    notes = [state_words(other, page.today)]
    if link.wait_hours:
        notes.append(f"then wait {words.hours(link.wait_hours)}")
    if link.why:
        notes.append(link.why)
    return CardLink(
        name=other.name, address=addresses.task(page.slug, other.key), note=", ".join(notes)
    )


def _plan_facts(page: PageContext, task: Task) -> tuple[Fact, ...]:
    """When it is planned, why then, and how much room it has."""
    facts = [Fact(word="State", text=state_words(task, page.today))]
    if not task.is_open:
        return tuple(facts)
    if page.plan is None:
        facts.append(Fact(word="Planned", text="not yet: something stands in the way of a plan"))
        return tuple(facts)
    planned = find_by_key(page.plan.tasks, task.key)
    if planned is None:
        why = unplanned_words(page.build, page.plan).get(task.key, "")
        facts.append(Fact(word="Planned", text=f"can not be planned: {why}"))
        return tuple(facts)
    facts.append(Fact(word="Planned", text=_planned_words(planned, page.today)))
    reasons = ReasonWords(page.build, page.plan).of(planned)
    if reasons:
        facts.append(Fact(word="Why then", text=reasons))
    facts.extend(_ahead_facts(page, task))
    facts.append(Fact(word=f"{capital_end()}", text=_path_words(planned)))
    return tuple(facts)


def _ahead_facts(page: PageContext, task: Task) -> tuple[Fact, ...]:
    """Why it goes before a task of an earlier subsystem, where it does."""
    ahead = Ahead(page)
    one = ahead.of(task.key)
    if one is None:
        return ()
    price = ahead.price(one.why)
    if price is None:
        return (Fact(word=WHY_FIRST, text=ahead.at_length(one)),)
    text = ahead.at_length(one, price.text)
    return (Fact(word=WHY_FIRST, text=text, figure=price.figure, how=price.how),)


def _held_facts(page: PageContext, task: Task) -> tuple[Fact, ...]:
    """What is open in the circuits that it waits for: a reason, never a lock."""
    held = held_at_length(page.build, page.planned.plumbed, task.key)
    checks = ". ".join(map(words.sentence, held_by_the_list(page, task.key)))
    text = ". ".join(one for one in (held, checks) if one)
    return (Fact(word="Held by", text=text),) if text else ()


def _planned_words(planned: PlannedTask, today: dt.date) -> str:
    """Dates and times in full, for a card may be printed: "Tue 10 Feb 18:30 to 21:00"."""
    begins, ends = planned.begins, planned.ends
    text = f"{words.short_day(begins, today=today)} {words.time(begins)}"
    if ends == begins:
        return text
    until = words.time(ends)
    if ends.date() != begins.date():
        until = f"{words.short_day(ends, today=today)} {until}"
    return f"{text} to {until}"


def _path_words(planned: PlannedTask) -> str:
    if not planned.for_first_start:
        return "does not need it"
    if planned.on_path:
        return "waits for it: it is on the path"
    room = words.tenth_hours(planned.total_float_hours)
    return f"needs it; the order alone leaves {room} of room"


def _brief_words(build: BuildInput, task: Task) -> str:
    if task.outside_days is not None:
        return f"{words.days(task.outside_days)} away"
    likely = words.hours(task.hours.most_likely)
    if task.is_open and task.begun_on is not None:
        return f"{words.worked(hours_to_go_of(build, task))} left of {likely}"
    return f"{likely} likely"


def _hours_words(task: Task) -> str:
    """The estimate: certain, or likely with its range, and whether somebody said the range."""
    hours = task.hours
    likely = words.hours(hours.most_likely)
    if is_certain(task):
        return f"{likely}, said to be certain" if hours.most_likely else likely
    assumed = " assumed" if task.spread_assumed else ""
    return (
        f"{likely} likely,{assumed} {words.hours(hours.optimistic)} if all goes well,"
        f" {words.hours(hours.pessimistic)} if it fights you"
    )


def _guess_words(task: Task) -> str:
    where_from = from_where(task)
    return f" ({where_from})" if where_from else ""


def _need_facts(build: BuildInput, task: Task) -> tuple[Fact, ...]:
    """What it takes: hours or days, hands, setup, stations, space."""
    facts = []
    if task.outside_days is not None:
        facts.append(
            Fact(word="Outside", text=f"{words.days(task.outside_days)} away{_guess_words(task)}")
        )
    else:
        facts.append(Fact(word="Hours", text=_hours_words(task) + _guess_words(task)))
    if task.is_open and task.begun_on is not None and task.outside_days is None:
        facts.append(Fact(word="Left", text=words.worked(hours_to_go_of(build, task))))
    if task.people != 1:
        people = "none: it runs by itself" if task.people == 0 else str(task.people)
        facts.append(Fact(word="People", text=people))
    with_it = [
        text
        for wanted, text in ((task.helper, "with the helper"), (task.in_one_go, "in one go"))
        if wanted
    ]
    if with_it:
        facts.append(Fact(word="How", text=" and ".join(with_it)))
    setups = {setup.key: setup for setup in build.shop.setups}
    if task.setup in setups:
        setup = setups[task.setup]
        facts.append(
            Fact(word="Setup", text=f"{setup.name}, {words.worked(setup.hours)} to set up")
        )
    stations = {station.key: station.name for station in build.shop.stations}
    if task.stations:
        needs = [
            f"{stations.get(need.station, need.station)}"
            + (f" ({need.count})" if need.count > 1 else "")
            for need in task.stations
        ]
        facts.append(Fact(word="Stations", text=words.listed(needs)))
    if task.space_litres:
        facts.append(Fact(word="Space", text=f"{words.number(task.space_litres)} litres"))
    return tuple(facts)

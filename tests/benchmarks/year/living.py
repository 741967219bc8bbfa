"""The year as it happens: evenings, entries, ideas, parts, pictures, weeks that close.

Everything goes through the program's own services, at the moment of the story that it happens at.
"""

import datetime as dt
import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import islice
from typing import Any

from sqlmodel import Session

from tests.benchmarks.year.beside import decided, drawn_further, signed_further
from tests.benchmarks.year.builds import BEGINS, WEEKS
from tests.benchmarks.year.pictures import picture
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import as_planned
from webapp.build.edited import Edited
from webapp.build.moments import moment_at_start
from webapp.build.openings import with_openings
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time_units import DAY
from webapp.build.verbs.log_entries import with_log_entry
from webapp.build.verbs.looking import nobody_was_in, put_off
from webapp.build.verbs.wish_places import with_wishes_let_go
from webapp.build.verbs.work import Stop, begun_build, finished_build, needs_hands, stopped_build
from webapp.build.wish import Wish
from webapp.exchange.photographs import NoPhotograph
from webapp.plumbing.in_step import with_parts_following
from webapp.services.baseline import freeze_baseline, freeze_week
from webapp.services.changes import Edit
from webapp.services.photographs import taken_in, with_photographs
from webapp.services.program import Services
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.changes import store_changes
from webapp.storage.journal import LOADED, TOLD_AT

ENTRIES = 10
"""So many pieces of work an evening is made of."""
PICTURES = 2
AT_A_TIME = 3
"""So many tasks somebody goes to and fro between on one evening."""
SIZES = ("hour", "hour", "evening", "evening", "evening", "saturday", "weekend")
SKIPPED = 26
"""One evening in so many nobody comes."""
SUNDAY, QUARTER_WEEKS = 6, 13


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldClock(Settings):
    """Settings whose clock the story sets: the one moment of `told`."""

    told: list[dt.datetime] = field(default_factory=lambda: [BEGINS])

    def now(self) -> dt.datetime:
        """The moment of the story."""
        return self.told[0].replace(second=0, microsecond=0)

    def moment(self) -> dt.datetime:
        """The same with its offset."""
        return self.told[0].astimezone()


@dataclass(slots=True)
class Year:
    """What was lived."""

    evenings: int = 0
    pictures: int = 0
    changes: int = 0
    refused: int = 0


def live(services: Services, clock: list[dt.datetime], slugs: tuple[str, ...]) -> Year:
    """Live the year of all builds, day by day."""
    year = Year()
    lives = [_Life(services, clock, slug, year) for slug in slugs]
    for number in range(7 * WEEKS):
        for life in lives:
            life.day(BEGINS.date() + DAY * number)
    return year


class _Life:
    """One build in the hands of somebody who comes on its evenings."""

    def __init__(self, services: Services, clock: list[dt.datetime], slug: str, year: Year) -> None:
        self.services, self.clock, self.slug, self.year = services, clock, slug, year
        self.chance = random.Random(slug)
        self.left: dict[str, float] = {}
        self.session: Session | None = None
        self.links: tuple[Dependency, ...] = ()
        self.build = self._stored()

    def _stored(self) -> BuildInput:
        with self.services.database.reading() as session:
            build = load_build(session, self.slug, now=self.clock[0])
        assert build is not None
        return build

    def do(self, verb: Callable[[BuildInput], BuildInput]) -> None:
        """One change, as a press makes it."""
        self.take(lambda build: Edited(build=verb(build), made=None))

    def take(self, edit: Edit[Any]) -> None:
        """One change by a verb that may refuse, and what follows from it by itself.

        Nobody else writes, so what was stored last is not read again, and whether it has faults
        is looked at once a week.
        """
        before = replace(self.build, now=self.services.settings.now())
        edited = edit(before)
        if edited.faults or edited.lost or edited.is_refused:
            self.year.refused += 1
            return
        after = with_wishes_let_go(before, edited.build)
        after = with_openings(
            before, with_parts_following(before, after), at=self.services.settings.moment()
        )
        session = self.session
        assert session is not None
        session.info[TOLD_AT] = self.clock[0].astimezone(dt.UTC)
        session.info[LOADED] = {self.slug: before}
        store_changes(session, self.slug, before, after)
        self.build = after
        self.year.changes += 1

    def day(self, day: dt.date) -> None:
        """Whatever happens on a date, in one transaction, with a revision for each change."""
        with self.services.database.writing() as self.session:
            self._lived(day)
        if day.weekday() == SUNDAY:
            assert not faults_of(self.build), faults_of(self.build)

    def _lived(self, day: dt.date) -> None:
        self.links = as_planned(self.build).dependencies
        self.clock[0] = dt.datetime.combine(day, dt.time(12))
        self._post(day)
        sessions = sessions_on(self.build, day)
        if sessions and self.chance.randrange(SKIPPED):
            opens, closes = sessions[0].opens_minute, sessions[-1].closes_minute
            self._evening(day, opens, (closes - opens) // ENTRIES)
            self.year.evenings += 1
        if day.weekday() == SUNDAY:
            self.clock[0] = dt.datetime.combine(day, dt.time(20))
            self._sunday(day)

    # what comes and goes ------------------------------------------------------------------
    def _post(self, day: dt.date) -> None:
        """Parts that come, one that is ordered each Monday; work that is sent out or back."""
        new = []
        for part in self.build.parts:
            if not part.arrived and part.promised_on is not None and part.promised_on <= day:
                paid = round((part.cost or 0) * 1.05, 2)
                new.append(replace(part, arrived=True, paid=paid))
        waiting = [part for part in self.build.parts if not (part.arrived or part.ordered_on)]
        for part in waiting[:2] if day.weekday() == 0 else ():
            promised = day + dt.timedelta(days=int(part.lead_days or 7))
            new.append(replace(part, ordered_on=day, promised_on=promised))
        for part in new:
            self.do(partial(_with_part, part=part))
        for task in [one for one in self._can_start().values() if not needs_hands(one)]:
            if task.begun_on is None:
                self.do(partial(_begun, key=task.key))
            elif self._is_back(task):
                self.do(partial(_finished, key=task.key))

    def _is_back(self, task: Task) -> bool:
        assert task.begun_on is not None
        takes = dt.timedelta(days=task.outside_days or 0, hours=task.hours.expected)
        return moment_at_start(task.begun_on) + takes + DAY <= self.clock[0]

    def _can_start(self) -> dict[str, Task]:
        """Open tasks that nothing holds, those that are begun first."""
        build, now = self.build, self.clock[0]
        tasks = {task.key: task for task in build.tasks}
        held = {key for part in build.parts if not part.arrived for key in part.serves}
        for link in self.links:
            done = tasks[link.before].finished_on
            if done is None or moment_at_start(done) + dt.timedelta(hours=link.wait_hours) > now:
                held.add(link.after)
        free = [one for one in build.tasks if one.is_open and (one.begun_on or one.key not in held)]
        free.sort(key=lambda task: task.begun_on is None)
        return {task.key: task for task in free if task.key != build.first_start}

    # an evening ---------------------------------------------------------------------------
    def _evening(self, day: dt.date, opens: int, minutes: int) -> None:
        """Ten pieces of work: most of them at the bench, some written down afterwards."""
        begins = dt.datetime.combine(day, dt.time()) + dt.timedelta(minutes=opens)
        worked: list[str] = []
        for number in range(ENTRIES):
            self.clock[0] = begins + number * dt.timedelta(minutes=minutes)
            free = [task.key for task in self._can_start().values() if needs_hands(task)]
            key = free[number % min(AT_A_TIME, len(free))] if free else worked[-1]
            worked.append(key)
            if number % 4 == 3 or not free:
                self._written_down(day, key, minutes / 60)
            else:
                self._at_the_bench(day, key, minutes)
        self._pictures(day, worked)
        self._noted(worked[0])
        if self.chance.random() < 0.5:
            self._idea(day)
        self.take(lambda build: drawn_further(build, self.chance, day))

    def _left(self, key: str, worked: float) -> float:
        """What is truly left of a task behind these hours, for estimates do not hold."""
        task = get_by_key(self.build.tasks, key)
        truly = task.hours.expected * self.chance.lognormvariate(0.1, 0.35)
        self.left[key] = self.left.get(key, truly) - worked
        return round(max(0.0, self.left[key]), 2)

    def _at_the_bench(self, day: dt.date, key: str, minutes: int) -> None:
        self.do(partial(_begun, key=key))
        self.clock[0] += dt.timedelta(minutes=minutes)
        left = self._left(key, minutes / 60)
        stop = Stop(
            outcome="stopped" if left else "finished",
            worked_hours=round(minutes / 60, 2),
            left_hours=left,
        )
        self.do(lambda build: stopped_build(build, key, stop, on=day, now=build.now))

    def _written_down(self, day: dt.date, key: str, hours: float) -> None:
        left = max(0.05, self._left(key, hours))
        entry = LogEntry(task=key, on=day, hours=round(hours, 2), left=left)
        self.do(lambda build: with_log_entry(build, entry))

    def _pictures(self, day: dt.date, worked: list[str]) -> None:
        for key in worked[:PICTURES]:
            self.year.pictures += 1
            taken = taken_in(
                self.services.database.photographs,
                picture(self.year.pictures),
                task=key,
                on=day,
                caption=f"{get_by_key(self.build.tasks, key).name}, as it is tonight",
            )
            assert not isinstance(taken, NoPhotograph), taken
            self.do(partial(with_photographs, new=(taken,)))

    def _noted(self, key: str) -> None:
        """A note on a task, as one writes it before the light goes out."""
        task = get_by_key(self.build.tasks, key)
        told = f"{task.notes}\n{self.clock[0]:%d.%m.}: to go on here next time.".strip()
        noted = replace(task, notes=told)
        self.do(lambda build: replace(build, tasks=replaced_by_key(build.tasks, noted)))

    def _idea(self, day: dt.date) -> None:
        number = len(self.build.wishes) + 1
        what = self.chance.choice(("a lamp", "a shelf", "a vent", "a second filter"))
        where = self.chance.choice(("behind the seat", "by the pump", "over the bay"))
        wish = Wish(
            key=f"idea-{number}",
            text=f"Idea {number}: {what} {where}",
            logged_on=day,
            size=self.chance.choice(SIZES),
            cost=float(self.chance.randrange(5, 200)),
        )
        self.do(lambda build: replace(build, wishes=(*build.wishes, wish)))

    # a Sunday -----------------------------------------------------------------------------
    def _sunday(self, day: dt.date) -> None:
        """The half hour: what there is to do, a wish decided, the week closed."""
        week = (day - BEGINS.date()).days // 7
        logged = {entry.on for entry in self.build.log}
        for evening in (day - DAY * number for number in range(7)):
            if sessions_on(self.build, evening) and evening not in logged:
                self.do(partial(nobody_was_in, evening=evening))
        undecided = [wish for wish in self.build.wishes if wish.decision is None]
        for wish in undecided[: week % 2]:
            self.do(partial(decided, wish=wish, chance=self.chance))
        for wish in undecided[week % 2 : 3]:
            self.do(partial(put_off, wish=wish.key))
        for edit in islice(signed_further(self.build, self.services.settings.moment()), 3):
            self.take(edit)
        session = self.session
        assert session is not None
        freeze_week(session, self.slug, self.build, f"{day:%G-W%V}")
        if week % QUARTER_WEEKS == 0:
            freeze_baseline(session, self.slug, self.build)


def _begun(build: BuildInput, key: str) -> BuildInput:
    return begun_build(build, key, now=build.now)


def _finished(build: BuildInput, key: str) -> BuildInput:
    return finished_build(build, key, now=build.now)


def _with_part(build: BuildInput, part: Part) -> BuildInput:
    return replace(build, parts=replaced_by_key(build.parts, part))

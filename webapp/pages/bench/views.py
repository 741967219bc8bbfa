"""What the Bench shows: what to do now, next, tonight, and what is waited for."""

from collections.abc import Iterator

from webapp.build.build_input import Task
from webapp.build.by_key import find_by_key
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.shop import Setup
from webapp.build.verbs.work import needs_hands
from webapp.pages import addresses
from webapp.pages.bench.beginning import begin_words
from webapp.pages.bench.bench_view import (
    Asks,
    BenchView,
    Fitting,
    NextTask,
    OnBench,
    TaskCard,
    Tonight,
    WhileOut,
)
from webapp.pages.bench.forms import stop_hint
from webapp.pages.bench.tonight import ShopSession, current_or_next_session, of_session
from webapp.pages.bench.waiting import WaitingList, waiting_list
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.photographs.views import ON_A_CARD, pictures_of
from webapp.pages.sharing.views import whose_line
from webapp.pages.tasks.step_lines import hand_list
from webapp.pages.words import amounts as words
from webapp.pages.words.held_circuits import held_in_short
from webapp.pages.words.names import named
from webapp.pages.words.reasons import ReasonWords
from webapp.pages.words.the_end import the_end
from webapp.planning.network.held_now import Holding, held_now
from webapp.planning.order.plan import Plan, PlannedTask

NEXT_TASKS = 3
WHILE_OUT_TASKS = 6
TONIGHT_TASKS = 8


class _Bench:
    """One Bench page in the making: the build with its names and what holds each task."""

    def __init__(self, page: PageContext, plan: Plan, passed: tuple[str, ...]) -> None:
        self.page, self.plan, self.passed = page, plan, passed
        self.words = ReasonWords(page.build, plan)
        self.held = held_now(page.planned.linked)
        self.circuits = held_in_short(page.build, page.planned.plumbed)
        self.subsystems = {one.key: one.name for one in page.build.subsystems}
        self.on_bench = page.clock.task if page.clock else None

    def waiting(self) -> WaitingList:
        """What is waited for."""
        return waiting_list(self.page, self.held, self.circuits)

    def card(self, task: Task) -> TaskCard:
        return task_card(self.page, task, self.words, self.subsystems)

    def now(self) -> PlannedTask | None:
        """The first of the job order that can begin; where none can, the first of all."""
        offered = list(self.offered())
        can_begin = (planned for planned in offered if planned.key not in self.held)
        return next(can_begin, offered[0] if offered else None)

    def next_tasks(self, now: str | None) -> tuple[NextTask, ...]:
        """The tasks of the job order that somebody has to begin next, but for `now`."""
        coming = [planned for planned in self.offered() if planned.key != now][:NEXT_TASKS]
        return tuple(self.next_task(planned) for planned in coming)

    def offered(self) -> Iterator[PlannedTask]:
        """What takes hands, is not on the bench and is not passed over for tonight, in order."""
        for planned in self.plan.tasks:
            key = planned.key
            is_free = key != self.on_bench and key not in self.passed
            if is_free and needs_hands(self.words.tasks[key]):
                yield planned

    def not_tonight(self) -> str:
        """The names of the open tasks that are passed over."""
        tasks = (self.words.tasks.get(key) for key in self.passed)
        return named(task.name for task in tasks if task is not None and task.is_open)

    def by_itself(self) -> tuple[NextTask, ...]:
        """What can be set going now and then goes on without hands."""
        return tuple(
            self.next_task(planned)
            for planned in self.plan.tasks
            if not needs_hands(task := self.words.tasks[planned.key])
            and task.begun_on is None
            and task.key not in self.held
        )

    def next_task(self, planned: PlannedTask) -> NextTask:
        page, task = self.page, self.words.tasks[planned.key]
        held = self.held.get(task.key, ())
        can_begin = not held
        when = f"from {words.moment(planned.begins, today=page.today)}"
        if can_begin:
            when = "can start now" if planned.begins > page.now else "now"
        why = "; ".join(
            filter(None, (self.why(planned, task, held), self.circuits.get(task.key, "")))
        )
        return NextTask(
            card=self.card(task),
            when=words.sentence(when),
            why=why,
            begin=begin_words(task) if can_begin else None,
        )

    def why(self, planned: PlannedTask, task: Task, held: tuple[Holding, ...]) -> str:
        """Why this one comes next: what it waits for, else what puts it in front."""
        if held:
            return self.words.of(planned) or "; ".join(self.holding(h, task.key) for h in held)
        reasons = []
        if task.begun_on is not None:
            reasons.append("it is begun")
        if task.setup in self.page.build.shop.setups_out:
            reasons.append(f"{self.words.setup_name(task.setup)} is out")
        if planned.on_path:
            reasons.append("it decides the date")
        elif planned.for_first_start:
            reasons.append(f"{the_end()} needs it")
        else:
            reasons.append(f"it fills time; {the_end()} does not need it")
        if task.helper:
            reasons.append(f"helper from {words.moment(planned.begins, today=self.page.today)}")
        return ", ".join(reasons)

    def holding(self, holding: Holding, key: str) -> str:
        match holding.kind:
            case "dependency":
                return f"needs {self.words.task_name(holding.what)}"
            case "wait":
                return self.words.wait(holding.what, key)
            case "part":
                return self.words.part(holding.what)

    def tonight(self, session: ShopSession | None) -> Tonight | None:
        """What the job order puts into the session, and whether it is finished in it."""
        if session is None:
            return None
        fitting = []
        for planned in of_session(self.plan, session, self.words.tasks, self.passed):
            task = self.words.tasks[planned.key]
            begins = words.time(max(planned.begins, session.opens))
            if planned.ends <= session.closes:
                fits = f"{begins} to {words.time(planned.ends)}, gets finished"
            else:
                ends = words.moment(planned.ends, today=self.page.today)
                fits = f"from {begins}, goes on until {ends}"
            fitting.append(
                Fitting(name=task.name, address=addresses.task(self.page.slug, task.key), fits=fits)
            )
        title = session.title(self.page.now)
        return Tonight(title=title, tasks=tuple(fitting[:TONIGHT_TASKS]))

    def while_out(self, first: str | None) -> tuple[WhileOut, ...]:
        """What could be done with each setup that is out, the one last used first."""
        setups = (self.words.setups.get(key) for key in reversed(self.page.build.shop.setups_out))
        found = (self.while_it_is_out(setup, first) for setup in setups if setup is not None)
        return tuple(each for each in found if each is not None)

    def while_it_is_out(self, setup: Setup, first: str | None) -> WhileOut | None:
        """Tasks that could be done with a setup that is out, all that holds them clear."""
        cards = tuple(
            self.card(task)
            for task in self.page.build.tasks
            if task.setup == setup.key
            and task.is_open
            and task.key not in self.held
            and task.key not in (self.on_bench, first)
        )
        if not cards:
            return None
        return WhileOut(
            setup=self.words.setup_name(setup.key),
            saves=words.hours(setup.hours),
            tasks=cards[:WHILE_OUT_TASKS],
        )


def task_card(
    page: PageContext, task: Task, reasons: ReasonWords, subsystems: dict[str, str]
) -> TaskCard:
    facts = [subsystems[task.subsystem]] if task.subsystem in subsystems else []
    if task.outside_days is not None:
        facts.append(f"outside work, {words.days(task.outside_days)}")
    else:
        begun = task.begun_on is not None
        hours = hours_to_go_of(page.build, task) if begun else task.hours.most_likely
        facts.append(f"{words.worked(hours)} left" if begun else f"{words.hours(hours)} likely")
    if task.setup:
        is_out = task.setup in page.build.shop.setups_out
        facts.append(f"{reasons.setup_name(task.setup)} {'is out' if is_out else 'to get out'}")
    if task.in_one_go:
        facts.append("in one go")
    if task.helper:
        facts.append("needs the helper")
    return TaskCard(
        key=task.key,
        name=task.name,
        address=addresses.task(page.slug, task.key),
        facts=tuple(facts),
        caution=task.caution,
        notes=task.notes,
        hands=hand_list(task),
        photographs=pictures_of(page, task, ON_A_CARD),
    )


def bench_view(
    page: PageContext,
    *,
    stop: TypedForm | None = None,
    asks: Asks | None = None,
    passed: tuple[str, ...] = (),
) -> BenchView:
    """The Bench. `stop` opens the stop form, which `asks` before it stores.

    `passed` are the keys of what is passed over for tonight.
    """
    plan = page.plan or Plan(
        now=page.now,
        first_start_at=None,
        first_start_shop_hours=None,
        tasks=(),
        unplanned=(),
        path=(),
    )
    bench = _Bench(page, plan, passed) if page.plan else None
    planned = bench.now() if bench and page.clock is None else None
    first = planned.key if planned else None
    return BenchView(
        on_bench=_on_bench(page, plan, stop, asks),
        now=bench.next_task(planned) if bench and planned else None,
        next=bench.next_tasks(first) if bench else (),
        not_tonight=bench.not_tonight() if bench else "",
        by_itself=bench.by_itself() if bench else (),
        tonight=bench.tonight(current_or_next_session(page.build, page.now)) if bench else None,
        while_out=bench.while_out(first) if bench else (),
        waiting=bench.waiting() if bench else WaitingList(waits=(), more=0),
        whose=whose_line(page),
        nothing=_nothing_words(page),
    )


def _on_bench(
    page: PageContext, plan: Plan, stop: TypedForm | None, asks: Asks | None
) -> OnBench | None:
    if page.clock is None:
        return None
    task = find_by_key(page.build.tasks, page.clock.task)
    if task is None:
        return None
    setup = find_by_key(page.build.shop.setups, task.setup)
    subsystems = {one.key: one.name for one in page.build.subsystems}
    names = {one.key: one.name for one in page.build.tasks}
    return OnBench(
        card=task_card(page, task, ReasonWords(page.build, plan), subsystems),
        clock=words.running(page.clock.since, page.now),
        since=words.moment(page.clock.since, today=page.today),
        stop=stop,
        setup_name=setup.name if setup is not None else "",
        hint=stop_hint(page.clock, page.now),
        then_name=names.get(stop.typed("then")) if stop else None,
        asks=asks,
    )


def _nothing_words(page: PageContext) -> str | None:
    if not page.build.tasks:
        return "There are no tasks yet."
    if not any(task.is_open for task in page.build.tasks):
        return "Everything that was entered is finished or set aside."
    if page.plan is not None and not page.plan.tasks:
        return "Nothing can be begun: every open task waits for something that has no date."
    return None

"""Faults of the wishes: what they say, where they attach, and the quick sizes."""

from collections import deque
from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault, Task
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.limits import MOST_COST, MOST_DAYS_AWAY, MOST_HOURS, MOST_WISHES
from webapp.build.precedence import followers_of, tasks_as_entered
from webapp.build.wish import Wish

SHOWN_OF_A_WAY = 10


def wish_size_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the quick sizes; at least one must be there to assume."""
    if not build.wish_sizes:
        yield Thing(kind="build", key="", name=build.name).fault(
            "wish_sizes",
            "it has no quick sizes for wishes. Enter at least one, such as an evening.",
        )
    for number, size in enumerate(build.wish_sizes, start=1):
        thing = Thing(kind="wish size", key=size.key, name=size.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", size.name, required=True)
        yield from thing.hours_faults("hours", "the hours", size.hours)


def wish_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the wishes, and of tasks that name a wish as theirs."""
    links = _Links(build)
    for number, wish in enumerate(build.wishes, start=1):
        name = wish.text.partition("\n")[0]
        thing = Thing(kind="wish", key=wish.key, name=name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("text", wish.text, required=True, long=True)
        yield from thing.day_faults("logged_on", "the day it was logged", wish.logged_on)
        yield from _reference_faults(thing, wish, build)
        yield from _number_faults(thing, wish)
        yield from _part_faults(thing, wish)
        if wish.decision is None:
            yield from links.faults(thing, wish)
        else:
            yield from _decision_faults(thing, wish, build)
    wishes = {wish.key for wish in build.wishes}
    for task in build.tasks:
        if task.wish is not None and task.wish not in wishes:
            yield Thing(kind="task", key=task.key, name=task.name).fault(
                "wish",
                f"there is no wish {shown(task.wish)} that it could come from. "
                "Pick a wish that is in the build, or none.",
            )


def _reference_faults(thing: Thing, wish: Wish, build: BuildInput) -> Iterator[Fault]:
    tasks = {task.key for task in build.tasks}
    for field, kind, key, known in (
        ("subsystem", "subsystem", wish.subsystem, {s.key for s in build.subsystems}),
        ("after", "task", wish.after, tasks),
        ("before", "task", wish.before, tasks),
        ("size", "quick size", wish.size, {size.key for size in build.wish_sizes}),
        ("setup", "setup", wish.setup, {setup.key for setup in build.shop.setups}),
    ):
        if key is not None and key not in known:
            yield thing.fault(
                field,
                f"there is no {kind} {shown(key)}. Pick a {kind} that is in the build, or none.",
            )


def _number_faults(thing: Thing, wish: Wish) -> Iterator[Fault]:
    if wish.hours is not None:
        yield from thing.hours_faults("hours", "the hours", wish.hours)
    if wish.rough_in_hours is not None:
        yield from thing.hours_faults(
            "rough_in_hours", "the hours to rough it in", wish.rough_in_hours
        )
    yield from thing.number_faults(
        "later_extra_hours",
        "the extra hours if fitted later",
        wish.later_extra_hours,
        most=MOST_HOURS,
    )
    yield from thing.number_faults("cost", "the cost", wish.cost, most=MOST_COST)
    yield from thing.number_faults(
        "paid", "what was paid", wish.paid, least=-MOST_COST, most=MOST_COST
    )


def _part_faults(thing: Thing, wish: Wish) -> Iterator[Fault]:
    for number, part in enumerate(wish.parts, start=1):
        called = shown(part.name.strip()) or f"number {number}"
        if not part.name.strip():
            yield thing.fault("parts", f"its part {called} has no name. Enter one.")
        else:
            named = Thing(kind="wish", key=wish.key, name=f"{thing.name}, part {called}")
            yield from named.text_faults("parts", part.name)
        yield from thing.number_faults(
            "parts",
            f"the days until its part {called} comes",
            part.lead_days,
            most=MOST_DAYS_AWAY,
        )
        yield from thing.number_faults(
            "parts", f"the cost of its part {called}", part.cost, most=MOST_COST
        )


def _decision_faults(thing: Thing, wish: Wish, build: BuildInput) -> Iterator[Fault]:
    assert wish.decision is not None
    yield from thing.text_faults("why", wish.decision.why, long=True)
    yield from thing.day_faults(
        "decided_on", "the day it was decided", wish.decision.decided_on, now=build.now
    )


class _Links:
    """Where an undecided wish may stand among the tasks; what was decided keeps its history."""

    def __init__(self, build: BuildInput) -> None:
        self.first_start = build.first_start
        self.the_end = build.the_end
        self.tasks = tasks_as_entered(build)
        self.index = {task.key: i for i, task in enumerate(self.tasks)}
        self.checks_loops = len(build.wishes) <= MOST_WISHES
        self.followers = followers_of(build) if build.wishes else []
        self.searched: tuple[int, dict[int, int]] = (-1, {})

    def faults(self, thing: Thing, wish: Wish) -> Iterator[Fault]:
        """A task that is done or set aside on the wrong side, and what would make a loop."""
        after, before = self._task(wish.after), self._task(wish.before)
        if after is not None and not after.is_open and after.finished_on is None:
            yield thing.fault(
                "after",
                f"it is to come after {_name(after)}, which is set aside: it could never begin. "
                "Take that task up again, or pick another or none.",
            )
        if before is not None and not before.is_open:
            state = "set aside" if before.finished_on is None else "finished"
            yield thing.fault(
                "before",
                f"it is to come before {_name(before)}, which is {state} and waits for nothing "
                "any more. Pick an open task, or none.",
            )
        yield from self._loop_faults(thing, after, before)

    def _loop_faults(
        self, thing: Thing, after: Task | None, before: Task | None
    ) -> Iterator[Fault]:
        # A wish that names no task before which it stands is wanted before first start.
        end = before or self._task(self.first_start)
        if after is None or end is None or not self.checks_loops:
            return
        if after is before:
            yield thing.fault(
                "before",
                f"it cannot come both before and after {_name(after)}. Pick another task for "
                "one of the two.",
            )
            return
        way = self._way(end, after)
        if not way:
            return
        steps = [_name(task) for task in way]
        if len(steps) > SHOWN_OF_A_WAY:
            left_out = len(steps) - SHOWN_OF_A_WAY
            steps[SHOWN_OF_A_WAY - 2 : -2] = [f"… {left_out:,} more …"]
        remedy = "Pick an earlier task for it to come after, or a later one to come before."
        if before is None:
            remedy = f"Pick a task before {self.the_end} for it to come after, or none."
        yield thing.fault(
            "after", f"Loop: {' -> '.join(steps)} -> this wish -> {steps[0]}. {remedy}"
        )

    def _way(self, start: Task, end: Task) -> list[Task]:
        """The tasks of a shortest way from one to the other, none where there is none."""
        first, last = self.index[start.key], self.index[end.key]
        if self.searched[0] != first:
            self.searched = (first, self._ways_from(first))
        came_from = self.searched[1]
        if last not in came_from:
            return []
        way = [last]
        while way[-1] != first:
            way.append(came_from[way[-1]])
        return [self.tasks[i] for i in reversed(way)]

    def _ways_from(self, first: int) -> dict[int, int]:
        """For all that comes after a task: by way of which it is reached."""
        came_from = {first: first}
        queue = deque([first])
        while queue:
            i = queue.popleft()
            for j in self.followers[i]:
                if j not in came_from:
                    came_from[j] = i
                    queue.append(j)
        return came_from

    def _task(self, key: str | None) -> Task | None:
        at = None if key is None else self.index.get(key)
        return None if at is None else self.tasks[at]


def _name(task: Task) -> str:
    return shown(task.name if task.name.strip() else task.key)

"""Two orders of one build side by side: which tasks changed places, and why."""

from bisect import bisect_left
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.reasons import ReasonWords
from webapp.planning.order.plan import Plan, PlannedTask
from webapp.planning.tighten.tighten import Tightened


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceLine:
    """One task: its place and begin in both orders. `why` is what holds it in the tightened one."""

    name: str
    address: str
    house_place: str
    house_begins: str
    place: str
    begins: str
    change: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """`moved` are the tasks that changed places, `lines` all of them in the tightened order."""

    moved: tuple[PlaceLine, ...]
    lines: tuple[PlaceLine, ...]
    setups: str


def comparison_of(page: PageContext, build: BuildInput, tightened: Tightened) -> Comparison:
    """The house rules' order and the tightened one; `build` as it was when they were found."""
    plan, house = tightened.plan, tightened.house_rules
    reasons = ReasonWords(build, plan)
    before = {task.key: (place, task) for place, task in enumerate(house.tasks, start=1)}
    both = [task.key for task in plan.tasks if task.key in before]
    stayed = longest_run([before[key][0] for key in both])
    stayed_keys = {both[place] for place in stayed}
    still_there = {task.key for task in page.build.tasks}
    lines = {}
    for place, task in enumerate(plan.tasks, start=1):
        house_place, house_task = before.get(task.key, (0, None))
        lines[task.key] = PlaceLine(
            name=reasons.task_name(task.key),
            address=addresses.task(page.slug, task.key) if task.key in still_there else "",
            house_place=str(house_place) if house_place else words.NOTHING,
            house_begins=_begins(page, house_task),
            place=str(place),
            begins=_begins(page, task),
            change="" if task.key in stayed_keys else _change(house_place, place),
            why=reasons.of(task) or "nothing holds it",
        )
    moved = tuple(line for key, line in lines.items() if key not in stayed_keys)
    return Comparison(moved=moved, lines=tuple(lines.values()), setups=_setup_words(house, plan))


def longest_run(places: list[int]) -> list[int]:
    """Where the longest rising sequence stands: the most tasks that kept their order.

    All others changed places; a task that is passed by one other has not moved itself. By
    patience sorting: Fredman, "On computing the length of longest increasing subsequences", 1975.
    """
    ends: list[int] = []
    at: list[int] = []
    previous: list[int] = []
    for i, place in enumerate(places):
        pile = bisect_left(ends, place)
        previous.append(at[pile - 1] if pile else -1)
        if pile == len(ends):
            ends.append(place)
            at.append(i)
        else:
            ends[pile], at[pile] = place, i
    run = []
    i = at[-1] if at else -1
    while i >= 0:
        run.append(i)
        i = previous[i]
    return run[::-1]


def _begins(page: PageContext, task: PlannedTask | None) -> str:
    if task is None:
        return "not planned"
    return f"{words.short_day(task.begins, today=page.today)} {words.time(task.begins)}"


def _change(house_place: int, place: int) -> str:
    if not house_place:
        return "planned now"
    if place == house_place:
        return "changed with its neighbours"
    by = words.count(abs(house_place - place), "place")
    return f"{by} {'earlier' if place < house_place else 'later'}"


def _setup_words(house: Plan, plan: Plan) -> str:
    """What the two orders spend on getting setups out, "" where it is the same."""
    times = [sum(task.setup_hours > 0 for task in one.tasks) for one in (house, plan)]
    hours = [sum(task.setup_hours for task in one.tasks) for one in (house, plan)]
    if times[0] == times[1] and abs(hours[0] - hours[1]) < 0.005:
        return ""
    return (
        f"Setups are got out {words.count(times[1], 'time')} instead of {times[0]}, "
        f"in {words.hours(hours[1])} instead of {words.hours(hours[0])}."
    )

"""What can not be planned, in sentences: each cause once, and why of each task."""

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import FARTHEST_WEEKS
from webapp.pages.words.amounts import count, listed
from webapp.planning.network.obstacles import Obstacle, Standing
from webapp.planning.order.gaps import Gap, gaps_of
from webapp.planning.order.plan import Plan, UnplannedKind

CAUSES: dict[UnplannedKind, str] = {
    "beyond_dates": f"it would not be done in {FARTHEST_WEEKS // 52} years of these shop hours",
    "behind": "a task before it cannot be planned itself",
    "no_session": "no session, or no helper session, that is long enough is left for it",
}

NAMED_AT_MOST = 3
"""So many tasks of one cause are named, the others counted."""


def gap_words(build: BuildInput, plan: Plan) -> tuple[tuple[Gap, str], ...]:
    """Every cause of what a plan leaves out, with its sentence."""
    names = _Names(build)
    return tuple((gap, _gap_words(names, gap)) for gap in gaps_of(build, plan))


def _gap_words(names: "_Names", gap: Gap) -> str:
    """ "The part “Hose” has no date: 4 tasks cannot be planned, “A”, “B” and 2 after them."."""
    match gap.kind:
        case "undated_part":
            cause = f"The part “{names.parts[gap.what]}” has no date"
        case "set_aside":
            cause = f"“{names.tasks[gap.what]}” is set aside"
        case "no_session":
            cause = "No session, or no helper session, that is long enough is left"
        case "beyond_dates":
            cause = f"Not done in {FARTHEST_WEEKS // 52} years of these shop hours"
    named = [f"“{names.tasks[key]}”" for key in gap.at[:NAMED_AT_MOST]]
    tasks = len(gap.at) + len(gap.behind)
    rest = tasks - len(named)
    if rest and len(gap.at) > NAMED_AT_MOST:
        named.append(f"{rest} more")
    elif rest:
        named.append(f"{rest} after {'it' if len(gap.at) == 1 else 'them'}")
    return f"{cause}: {count(tasks, 'task')} cannot be planned, {listed(named)}."


def unplanned_words(build: BuildInput, plan: Plan) -> dict[str, str]:
    """By key of every task that a plan leaves out: the sentence that says why."""
    names = _Names(build)
    found = {}
    for task in plan.unplanned:
        cause = CAUSES[task.kind] if task.standing is None else _held(names, task.standing)
        found[task.key] = f"“{names.tasks[task.key]}” cannot be planned: {cause}."
    return found


def standing_words(build: BuildInput, key: str, standing: Standing) -> str:
    """The sentence of one task that is held for ever."""
    names = _Names(build)
    return f"“{names.tasks[key]}” cannot be planned: {_held(names, standing)}."


class _Names:
    def __init__(self, build: BuildInput) -> None:
        # Of two things with one key the first counts, as everywhere.
        self.tasks = {task.key: task.name for task in reversed(build.tasks)}
        self.parts = {part.key: part.name for part in reversed(build.parts)}


def _held(names: _Names, standing: Standing) -> str:
    clauses = dict.fromkeys(_obstacle(names, obstacle) for obstacle in standing.obstacles)
    causes = listed([*clauses])
    if standing.after is None or standing.first is None:
        return causes
    chain = f"it comes after “{names.tasks[standing.after]}”"
    if standing.first == standing.after:
        return f"{chain}, which cannot be planned itself: {causes}"
    return f"{chain}, and that after “{names.tasks[standing.first]}”: {causes}"


def _obstacle(names: _Names, obstacle: Obstacle) -> str:
    match obstacle.kind:
        case "set_aside":
            return f"it comes after “{names.tasks[obstacle.what]}”, which is set aside"
        case "undated_part":
            return f"it needs the part “{names.parts[obstacle.what]}”, which has no date"

"""What keeps tasks from being planned, each cause once, with all that waits behind it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.precedence import followers_of, reached, tasks_as_entered
from webapp.planning.order.plan import Plan, UnplannedTask

GapKind = Literal["set_aside", "undated_part", "no_session", "beyond_dates"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """One cause.

    `what` is the key of the part without a day or of the task that is set aside, "" else. `at`
    are the tasks that it holds itself, `behind` those that come after them, as entered. A task
    that several causes hold stands with each.
    """

    kind: GapKind
    what: str
    at: tuple[str, ...]
    behind: tuple[str, ...]


def gaps_of(build: BuildInput, plan: Plan) -> tuple[Gap, ...]:
    """The causes of what a plan of the build leaves out, what holds most tasks first."""
    at: dict[tuple[GapKind, str], list[str]] = {}
    for task in plan.unplanned:
        for cause in _causes(task):
            at.setdefault(cause, []).append(task.key)
    keys = [task.key for task in tasks_as_entered(build)]
    after = followers_of(build)
    left_out = {task.key for task in plan.unplanned}
    gaps = []
    for (kind, what), held in at.items():
        behind = _behind(held, keys, after, left_out)
        gaps.append(Gap(kind=kind, what=what, at=tuple(held), behind=behind))
    return tuple(sorted(gaps, key=lambda gap: -len(gap.at) - len(gap.behind)))


def _causes(task: UnplannedTask) -> Iterator[tuple[GapKind, str]]:
    """What holds the task itself, not by way of one before it."""
    if task.standing is not None and task.standing.after is None:
        for obstacle in task.standing.obstacles:
            yield obstacle.kind, obstacle.what
    elif task.kind in ("no_session", "beyond_dates"):
        yield task.kind, ""


def _behind(
    held: list[str], keys: list[str], after: list[list[int]], left_out: set[str]
) -> tuple[str, ...]:
    """What comes after the tasks and is left out too, as entered, without the tasks themselves."""
    place = {key: i for i, key in enumerate(keys)}
    starts = [place[key] for key in held]
    behind = reached(starts, lambda i: (j for j in after[i] if keys[j] in left_out))
    return tuple(keys[i] for i in sorted(set(behind).difference(starts)))

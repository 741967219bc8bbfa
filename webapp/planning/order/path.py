"""The path to first start: walked back from it along the binding reasons to today."""

from collections.abc import Iterable

from webapp.planning.order.plan import PathStep
from webapp.planning.order.reasons import Hold, OneVariant

# Of several holds that cleared at the same moment the path follows the one nearest to the work.
_NEAREST = ("dependency", "wait", "part", "people", "station", "setup", "helper", "session")
_WAITED_FOR = ("wait", "part", "helper", "session")


def path_to(place: int, variant: OneVariant) -> tuple[PathStep, ...]:
    """The tasks and waits that decide when the task at a place ends, first to last."""
    steps: list[PathStep] = []
    minute = variant.calendar.minute
    while True:
        begins = variant.begin_wall[place]
        steps.append(
            PathStep(
                kind="task",
                what=variant.work.keys[place],
                begins=minute(begins),
                ends=minute(variant.end_wall[place]),
            )
        )
        hold = _followed(place, variant)
        if hold is None:
            break
        since = 0 if hold.after < 0 else variant.end_wall[hold.after]
        kind = hold.kind
        if kind in _WAITED_FOR and since < begins:
            steps.append(
                PathStep(kind=kind, what=hold.what, begins=minute(since), ends=minute(begins))  # type: ignore[arg-type]
            )
        if hold.after < 0:
            break
        place = hold.after
    return tuple(reversed(steps))


def _followed(place: int, variant: OneVariant) -> Hold | None:
    """The binding hold the path goes on along; None where the task begins at once."""
    binding = variant.binding(place)
    nearest = _first(binding)
    if nearest is None or nearest.kind != "session":
        return nearest
    # Only the session binds: work in one go had no room left. What came before it decides.
    before = [hold for hold in variant.holds(place) if hold.kind != "session" and hold.wall > 0]
    before += _hands_before(place, variant)
    latest = max((hold.shop for hold in before), default=0)
    last = _first(hold for hold in before if hold.shop == latest)
    if last is None:
        return nearest
    return Hold(
        kind="session", what=nearest.what, shop=nearest.shop, wall=nearest.wall, after=last.after
    )


def _hands_before(place: int, variant: OneVariant) -> list[Hold]:
    """The last task that had the hands before this one, where hands had to be waited for."""
    people = variant.work.people
    if not people[place] or variant.work.people_count > 1:
        return []
    earlier = [
        i
        for i in range(len(people))
        if people[i] and variant.planned(i) and variant.turn[i] < variant.turn[place]
    ]
    if not earlier:
        return []
    last = max(earlier, key=lambda i: variant.end[i])
    return [
        Hold(
            kind="people",
            what=variant.work.keys[last],
            shop=variant.end[last],
            wall=variant.end_wall[last],
            after=last,
        )
    ]


def _first(holds: Iterable[Hold]) -> Hold | None:
    return min(holds, key=lambda hold: _NEAREST.index(hold.kind), default=None)

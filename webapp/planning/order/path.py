"""The path to first start: walked back from it along the binding reasons to today."""

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.planning.order.plan import PathStep, ReasonKind
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
        at, after = begins, -1
        for hold in _followed(place, variant):
            since = hold.since(variant)
            if hold.kind in _WAITED_FOR and since < at:
                steps.append(
                    PathStep(
                        kind=hold.kind,  # type: ignore[arg-type]
                        what=hold.what,
                        begins=minute(since),
                        ends=minute(at),
                    )
                )
            at, after = min(at, since), hold.after
        if after < 0:
            break
        place = after
    return tuple(reversed(steps))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Followed:
    """A hold that the path goes back along: from what cleared before it, or what came before."""

    hold: Hold
    cleared_before: int | None = None

    @property
    def kind(self) -> ReasonKind:
        return self.hold.kind

    @property
    def what(self) -> str:
        return self.hold.what

    @property
    def after(self) -> int:
        return self.hold.after

    def since(self, variant: OneVariant) -> int:
        """The wall second from which the path waited for it; 0 is now."""
        if self.cleared_before is not None:
            return self.cleared_before
        return 0 if self.hold.after < 0 else variant.end_wall[self.hold.after]


def _followed(place: int, variant: OneVariant) -> tuple[_Followed, ...]:
    """The binding hold the path goes back along; none where the task begins at once.

    Where only a session or the helper bound, two: what had cleared last before it decides.
    """
    binding = variant.binding(place)
    nearest = _first(binding)
    if nearest is None:
        return ()
    if nearest.kind not in ("session", "helper") or nearest.after >= 0:
        return (_Followed(hold=nearest),)
    before = [
        hold
        for hold in variant.holds(place)
        if hold.kind not in ("session", "helper") and hold.wall > 0
    ]
    before += _hands_before(place, variant)
    latest = max((hold.shop for hold in before), default=0)
    last = _first(hold for hold in before if hold.shop == latest)
    if last is None:
        return (_Followed(hold=nearest),)
    return _Followed(hold=nearest, cleared_before=last.wall), _Followed(hold=last)


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

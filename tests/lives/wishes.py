"""A life in which a wish is accepted: what it was told to take, and the build on the days after.

All hours, the factors among them, are certain: so what is told is one number, not a mean over
lives that were not lived, and what the wish really takes can be held against it to the minute.
"""

import datetime as dt
import random
from collections.abc import Collection
from dataclasses import dataclass, replace

from tests.lives.life_builds import life_build
from tests.lives.living import Truth, lived, lived_at
from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_decisions import accept
from webapp.build.wish import Wish, WishDecision, WishPart
from webapp.planning.chances.factors import NO_SETUP, Attendance, Factors, KindFactor, Level
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.wish_prices import price_wish

DAY = dt.timedelta(days=1)
CERTAIN = Factors(
    level=Level(log_sd=0),
    kinds=tuple(
        KindFactor(kind=kind, weight=1) for kind in (NO_SETUP, "setup0", "setup1", "setup2")
    ),
    attendance=Attendance(sd=0),
)
"""Every promised hour is worked and every estimate holds, in every draw."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WishLife:
    """A build with a wish logged, at the moment it is decided, and what it was told to take."""

    seed: int
    build: BuildInput
    wish: Wish
    said_days: float

    def lived_until(self, moment: dt.datetime, *, times_its_hours: float = 1.0) -> BuildInput:
        """The wish accepted, its work takes so many times its hours, all else as planned."""
        return self.lived_at([moment], times_its_hours=times_its_hours)[moment]

    def lived_at(
        self, moments: Collection[dt.datetime], *, times_its_hours: float = 1.0
    ) -> dict[dt.datetime, BuildInput]:
        """The same at each of several moments."""
        at = self.build.now
        decision = WishDecision(way="fit now", decided_on=at.date())
        accepted = accept(self.build, self.wish, decision)
        (key,) = (task.key for task in accepted.tasks if task.wish)
        ordered = moment_at_start(at.date())
        comes = {p.key: ordered + DAY * p.lead_days for p in accepted.parts if p.lead_days}
        truth = Truth(hours={key: times_its_hours}, arrivals=comes)
        return lived_at(accepted, moments, truth)


def wish_life(seed: int) -> WishLife | None:
    """A wish of a few hours logged on the way; None where first start is done by then."""
    chance = random.Random(f"wish life {seed}")
    build = _certain(life_build(seed))
    midnight = moment_at_start(build.now.date() + DAY * chance.randint(1, 6))
    at = midnight + dt.timedelta(minutes=chance.choice((0, 0, 10 * 60, 19 * 60 + 15, 22 * 60)))
    build = lived(build, at)
    if not next(task for task in build.tasks if task.key == "start").is_open:
        return None
    wish = Wish(
        key="wish",
        text="A lamp over the bench",
        logged_on=at.date(),
        subsystem=chance.choice((None, "s0", "s2")),
        before="start",
        hours=_said_thrice(chance.choice((1.5, 3.0, 7.0))),
        setup=chance.choice((None, "setup1")),
        parts=chance.choice(((), (), (WishPart(name="Lamp", lead_days=4),))),
    )
    build = replace(build, wishes=(wish,))
    said = price_wish(build, wish, Luck(2), factors=CERTAIN).way("fit now").move_days
    assert said is not None
    return WishLife(seed=seed, build=build, wish=wish, said_days=said)


def _said_thrice(hours: float) -> ThreePoint:
    """Of one number alone a range would be assumed: so there are three, within a second."""
    second = 1 / 3600
    return ThreePoint(optimistic=hours - second, most_likely=hours, pessimistic=hours + second)


def _certain(build: BuildInput) -> BuildInput:
    tasks = (replace(t, hours=ThreePoint.certain(t.hours.expected)) for t in build.tasks)
    return replace(build, tasks=tuple(tasks))

"""Builds of one shop lived side by side, day by day, each in the sessions that are its own."""

import datetime as dt
import random
from dataclasses import dataclass, replace

from tests.lives.life_builds import life_build
from tests.lives.living import lived
from webapp.build.build_input import BuildInput
from webapp.build.sharing import Sharing, SharingBuild, SharingWay
from webapp.build.time.given_away import with_own_hours
from webapp.build.time.shop_calendar import entered_sessions_on
from webapp.planning.bridge.bridge import Bridge, bridge
from webapp.planning.proof.shared_hours import shared_hours_faults
from webapp.services.plan_cache import PlanCache
from webapp.services.shared_hours import SharedBuild, SharedHours
from webapp.storage.sharing import StoredSharing

DAY = dt.timedelta(days=1)
MINUTE = dt.timedelta(minutes=1)


@dataclass(slots=True)
class SharedLife:
    """Builds by name as they stand, and the rule between them."""

    plans: PlanCache
    stored: StoredSharing
    builds: dict[str, BuildInput]
    revision: int = 0

    @property
    def now(self) -> dt.datetime:
        return next(iter(self.builds.values())).now

    def shared(self) -> SharedHours:
        there = {
            name: SharedBuild(revision=self.revision, build=build)
            for name, build in self.builds.items()
        }
        return SharedHours(self.plans, self.stored, there, self.now)

    def whole(self) -> dict[str, BuildInput]:
        """Each build with every session that belongs to another."""
        return {name: planned.whole for name, planned in self.shared().planned.items()}

    def faults(self) -> tuple[str, ...]:
        """What the proof finds in the plans as they stand."""
        found = {}
        for name, planned in self.shared().planned.items():
            plan = planned.plan()
            assert plan is not None, [fault.text for fault in planned.faults]
            found[name] = planned.whole, plan
        return shared_hours_faults(found)

    def live_a_day(self) -> None:
        """To the next midnight; what is over is stored as often as a session opens or closes.

        When one opens, everything that was done in the one before it is known.
        """
        midnight = dt.datetime.combine(self.now.date() + DAY, dt.time())
        breaks = {
            dt.datetime.combine(self.now.date(), dt.time()) + minute * MINUTE
            for build in self.builds.values()
            for hours in entered_sessions_on(build, self.now.date())
            for minute in (hours.opens_minute, hours.closes_minute)
        }
        for moment in sorted({*breaks, midnight}):
            if moment > self.now:
                self._live_until(moment)

    def _live_until(self, until: dt.datetime) -> None:
        """Every build does what its plan says; whose the sessions were is stored as it was."""
        planned = self.shared().planned
        unlived = {name: replace(build, now=until) for name, build in self.builds.items()}
        then = replace(self, builds=unlived).shared()
        facts, running = then.facts(), then.running()
        for name, one in planned.items():
            later = lived(one.laid_input, until)
            given = (*self.builds[name].shop.given, *facts[name])
            shop = replace(self.builds[name].shop, given=given, setups_out=later.shop.setups_out)
            self.builds[name] = replace(later, shop=shop)
        sharing = replace(self.stored.sharing, handed_over=running)
        self.stored = replace(self.stored, settled_until=until, sharing=sharing)
        self.revision += 1


def shared_life(seed: int, way: SharingWay) -> SharedLife:
    """Two or three builds, half of them in the very same shop week."""
    chance = random.Random(f"shared {seed}")
    names = ["heron", "boat", "pump"][: chance.choice((2, 2, 3))]
    builds = {name: life_build(seed * 7 + number) for number, name in enumerate(names)}
    first = builds[names[0]]
    for name, build in builds.items():
        shop = build.shop
        if chance.random() < 0.5:
            shop = replace(
                shop,
                week=first.shop.week,
                later_weeks=first.shop.later_weeks,
                ranges=first.shop.ranges,
                days=first.shop.days,
            )
        builds[name] = replace(
            build,
            name=name,
            now=first.now,
            starts_on=first.starts_on,
            shop=shop,
            calibrated=False,
            attended=False,
        )
    sharing = Sharing(
        way=way,
        builds=tuple(SharingBuild(slug=name, sessions=chance.randint(1, 3)) for name in names),
    )
    stored = StoredSharing(key="", sharing=sharing, since=first.now, settled_until=first.now)
    return SharedLife(plans=PlanCache(), stored=stored, builds=builds)


def bridges(before: dict[str, BuildInput], after: dict[str, BuildInput]) -> dict[str, Bridge]:
    """The bridge of each build from one morning to another."""
    return {
        name: bridge(with_own_hours(build), with_own_hours(after[name]))
        for name, build in before.items()
    }

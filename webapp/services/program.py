"""What the running program is made of."""

import datetime as dt
from dataclasses import dataclass, field

from webapp.build.build_input import BuildInput
from webapp.build.earlier_record import EarlierRecord
from webapp.planning.record.week_figures import WeekSheet
from webapp.services.copies import Copies
from webapp.services.cuttings import Cuttings
from webapp.services.devices import Devices
from webapp.services.feeds import Feeds
from webapp.services.frozen import FrozenBuild
from webapp.services.just_logged import JustLogged
from webapp.services.kept import Kept
from webapp.services.plan_cache import PlanCache
from webapp.services.shop_network import ShopNetwork
from webapp.services.tightenings import Tightenings
from webapp.settings import Settings
from webapp.storage.builds import list_builds
from webapp.storage.database import Database

SHEETS_KEPT = 40
RECORDS_KEPT = 40
BEFORES_KEPT = 60
FROZEN_KEPT = 16
FrozenKey = tuple[object, ...]


def _befores() -> Kept[tuple[str, int], BuildInput]:
    return Kept(BEFORES_KEPT)


def _frozen() -> Kept[FrozenKey, FrozenBuild]:
    return Kept(FROZEN_KEPT)


def _records() -> Kept[tuple[str, int, dt.date], tuple[EarlierRecord, ...]]:
    return Kept(RECORDS_KEPT)


def _sheets() -> Kept[tuple[object, ...], WeekSheet]:
    return Kept(SHEETS_KEPT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Services:
    """Handed to every endpoint.

    befores : the build as it was before a change, by slug and revision, so that the page after
        it can say how far first start moved
    frozen : snapshots that were read
    just_logged : wishes of the last minute
    records : what builds have shown, by slug, revision and day, for others to take along
    sheets : week sheets, by the build they are made of, their week and their baseline
    """

    settings: Settings
    database: Database
    plans: PlanCache
    befores: Kept[tuple[str, int], BuildInput] = field(default_factory=_befores)
    frozen: Kept[FrozenKey, FrozenBuild] = field(default_factory=_frozen)
    sheets: Kept[tuple[object, ...], WeekSheet] = field(default_factory=_sheets)
    records: Kept[tuple[str, int, dt.date], tuple[EarlierRecord, ...]] = field(
        default_factory=_records
    )
    just_logged: JustLogged = field(default_factory=JustLogged)
    tightenings: Tightenings = field(default_factory=Tightenings)
    cuttings: Cuttings = field(default_factory=Cuttings)
    copies: Copies = field(init=False)
    feeds: Feeds = field(init=False)
    devices: Devices = field(init=False)
    network: ShopNetwork = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "copies", Copies(self.settings, self.database))
        object.__setattr__(self, "feeds", Feeds(self.database.path))
        object.__setattr__(self, "devices", Devices(self.database))
        object.__setattr__(self, "network", ShopNetwork(self.settings, self.database))

    def forget_work(self) -> None:
        """End and forget what was searched for builds that now are others."""
        with self.database.reading() as session:
            slugs = [heading.slug for heading in list_builds(session)]
        for slug in slugs:
            self.tightenings.put_away(slug)
            self.cuttings.put_away(slug)

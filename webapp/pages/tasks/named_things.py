"""What tasks name by typing: their subsystem, their setup, their stations; made where ticked.

A setup is made with the hours to get it out that are typed beside its offer, a station as often as
a task needs it; both are changed in the shop's room of setups.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, StationNeed, Subsystem, Task
from webapp.build.by_key import find_by_key
from webapp.build.limits import MOST_RANK
from webapp.build.shop import Setup, Station
from webapp.build.usual_subsystems import usual_named
from webapp.exchange.csv_cells import split_names
from webapp.pages.forms.new_things import NewThings
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_form import TypedForm

TIMES = "\u00d7"
_COUNT = re.compile(rf"(?P<name>.+?)\s*[x{TIMES}*]\s*(?P<count>[0-9]{{1,3}})", re.I | re.S)
"""A name, a times sign however it is typed, a number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedThings:
    """The subsystems, setups and stations that a form of tasks names."""

    subsystems: NewThings
    setups: NewThings
    stations: NewThings

    @classmethod
    def of(cls, form: TypedForm, build: BuildInput) -> "NamedThings":
        return cls(
            subsystems=NewThings.of(form, "subsystem", build.subsystems),
            setups=NewThings.of(form, "setup", build.shop.setups),
            stations=NewThings.of(form, "station", build.shop.stations),
        )

    def offer(self, form: TypedForm) -> None:
        """Note what is named and not there, and offer to make it."""
        for things in (self.subsystems, self.setups, self.stations):
            things.offer(form)

    def stations_of(self, form: TypedForm, name: str, task: Task | None) -> tuple[StationNeed, ...]:
        """The stations that a field names, semicolons between, and of how many: "Lift x 2"."""
        if task is not None and form.is_as_stored(name):
            return task.stations
        there = [need.station for need in task.stations] if task else []
        needs: dict[str, StationNeed] = {}
        for text in split_names(form.typed(name)):
            typed, count = self._counted(text)
            key = self.stations.named(typed, name)
            if key is not None:
                needs[key] = StationNeed(station=key, count=count)
        kept = [key for key in there if key in needs]
        return tuple(needs[key] for key in (*kept, *(key for key in needs if key not in there)))

    def _counted(self, text: str) -> tuple[str, int]:
        """A typed station and how many of it; a name that ends like a number is a name."""
        found = _COUNT.fullmatch(text.strip())
        if found is None or self.stations.picks.exactly(text) is not None:
            return text, 1
        return found["name"], int(found["count"])

    def added_to(self, build: BuildInput) -> BuildInput:
        """The build with what is made by naming it."""
        shop = build.shop
        setups = [
            Setup(key=new.key, name=new.name, hours=new.hours)
            for new in self.setups.made.values()
            if find_by_key(shop.setups, new.key) is None
        ]
        stations = [
            Station(key=new.key, name=new.name, count=max(1, _most_needed(build.tasks, new.key)))
            for new in self.stations.made.values()
            if find_by_key(shop.stations, new.key) is None
        ]
        if setups or stations:
            shop = replace(
                shop, setups=(*shop.setups, *setups), stations=(*shop.stations, *stations)
            )
            build = replace(build, shop=shop)
        return _with_subsystems(build, self.subsystems)


def stations_text(build: BuildInput, task: Task) -> str:
    """The stations of a task as they are typed: "Lift", a times sign, "2; Bench vice"."""
    picks = PickList.of("station", build.shop.stations)
    return "; ".join(
        picks.label(need.station) + (f" {TIMES} {need.count}" if need.count != 1 else "")
        for need in task.stations
    )


def _most_needed(tasks: Iterable[Task], station: str) -> int:
    counts = (need.count for task in tasks for need in task.stations if need.station == station)
    return max(counts, default=0)


def _with_subsystems(build: BuildInput, subsystems: NewThings) -> BuildInput:
    """The build with the subsystems that are made by naming them, last in the working order.

    One of a usual name has the place and the medium that it usually has.
    """
    last = max((each.order for each in build.subsystems), default=0)
    made = []
    for place, new in enumerate(subsystems.made.values(), 1):
        if find_by_key(build.subsystems, new.key) is None:
            plain = Subsystem(key=new.key, name=new.name, order=min(last + place, MOST_RANK))
            usual = usual_named(new.name)
            made.append(plain if usual is None else replace(usual, key=new.key))
    return replace(build, subsystems=(*build.subsystems, *made)) if made else build

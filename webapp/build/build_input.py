"""What a plan is made from: one build, frozen, with everything the planner may know.

Wall-clock moments are naive local `datetime`s to the minute. Hours are shop hours unless the
name says otherwise. Every thing is named by its `key`, the person's own short name.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from webapp.build.data_sheet import EMPTY_SHEET, DataSheet
from webapp.build.earlier_record import EarlierRecord
from webapp.build.first_start import NOTHING_SIGNED, FirstStart
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.plumbing import NOTHING_PLUMBED, Plumbing
from webapp.build.room import Room
from webapp.build.shop import SHOP_WITHOUT_HOURS, Shop
from webapp.build.three_point import ThreePoint
from webapp.build.units import ShopUnits
from webapp.build.wish import WISH_SIZES, Wish, WishSize

Medium = Literal["air", "water", "fuel", "oil", "gas", "vacuum", "electrical", "none"]
MEDIA: tuple[Medium, ...] = (
    "air",
    "water",
    "fuel",
    "oil",
    "gas",
    "vacuum",
    "electrical",
    "none",
)

DEFAULT_CONFIDENCE = 0.8
"""The share of draws that the firm date stands for where nobody asks for another."""

FIRST_START = "first start"
"""What the end of a build is called where it has no other name."""
Moment = dt.date | dt.datetime
"""A date, or a date with a time. `datetime` is a subclass of `date`: test for it first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subsystem:
    """Air, coolant, fuel, ...: `order` is its rank in the working order."""

    key: str
    name: str
    medium: Medium = "none"
    order: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StationNeed:
    """So many of one station, from the start of a task to its end."""

    station: str
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One of the steps of a task, to be ticked; within its task it is told by its text."""

    text: str
    done: bool = False


MeasureKind = Literal["torque", "size"]
MEASURE_KINDS: tuple[MeasureKind, ...] = ("torque", "size")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A torque or a size to work to: what it is of, and the value with its unit as it was typed.

    Within its task it is told by its kind and what it is of: "Adapter plate bolts".
    """

    kind: MeasureKind
    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A piece of work. Facts only; whether it can start is worked out, never stored.

    `steps` and `measures` are for the hands: no plan and no date hangs on them.

    `spread_assumed`: nobody typed the range of its hours, the likely ones alone were said.
    `hours_guessed`: the hours are those of a starter list, nobody changed or confirmed them yet.
    `cost` is what it is thought to cost in money, `paid` what was paid (below zero: came back).
    `offer_cost` and `offer_days`: what somebody else would take for it, and how long.
    `hours_taken`: they are what the same work took in an earlier build.
    """

    key: str
    name: str
    hours: ThreePoint
    subsystem: str | None = None
    setup: str | None = None
    people: int = 1
    helper: bool = False
    in_one_go: bool = False
    stations: tuple[StationNeed, ...] = ()
    outside_days: float | None = None
    space_litres: float = 0.0
    begun_on: Moment | None = None
    finished_on: Moment | None = None
    set_aside_on: dt.date | None = None
    hours_left: float | None = None
    caution: str = ""
    notes: str = ""
    steps: tuple[Step, ...] = ()
    measures: tuple[Measure, ...] = ()
    wish: str | None = None
    spread_assumed: bool = False
    hours_guessed: bool = False
    cost: float | None = None
    paid: float | None = None
    offer_cost: float | None = None
    offer_days: float | None = None
    hours_taken: bool = False

    @property
    def is_open(self) -> bool:
        """Neither finished nor set aside: still to be planned."""
        return self.finished_on is None and self.set_aside_on is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dependency:
    """`after` may not begin before `before` has ended and `wait_hours` have gone by."""

    before: str
    after: str
    wait_hours: float = 0.0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A thing to buy or make. The tasks it `serves` can not begin without it.

    `cost` is the estimate, `paid` what was paid for it; below zero it is money that came back.
    """

    key: str
    name: str
    serves: tuple[str, ...] = ()
    arrives_on: Moment | None = None
    arrived: bool = False
    promised_on: dt.date | None = None
    ordered_on: dt.date | None = None
    lead_days: float | None = None
    cost: float | None = None
    paid: float | None = None
    supplier: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogEntry:
    """Hours worked on a task on one date, and how many were thought to be left.

    `setup_hours` went into getting its setup out and are not among `hours`.
    """

    task: str
    on: dt.date
    hours: float
    left: float | None = None
    setup_hours: float = 0.0

    @property
    def bench_hours(self) -> float:
        """Hours at the bench: the work and getting the setup out."""
        return self.hours + self.setup_hours


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningClock:
    """The task on the bench, and since when: naive local time.

    `gets_out`: its setup was not out when the clock began, so that comes first.
    """

    task: str
    since: dt.datetime
    gets_out: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A picture of a task. One task has it once.

    `digest` is the SHA-256 of its JPEG file, in hexadecimal digits: what the file is called by.
    The sizes are those of the file.
    """

    task: str
    digest: str
    width_px: int
    height_px: int
    size_bytes: int
    added_on: dt.date
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """That on the day `on` something was looked at, in the Sunday half hour, and left as it is.

    It is about one of three: the date of an `evening` on which nobody was in the shop, a `wish`
    that stays undecided for now, a `task` of which was said how many hours are left. No plan, no
    forecast and no figure of the record asks for it.
    """

    on: dt.date
    evening: dt.date | None = None
    wish: str | None = None
    task: str | None = None

    @property
    def about(self) -> tuple[dt.date | None, str | None, str | None]:
        """What tells it from others of its build."""
        return self.evening, self.wish, self.task


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterAnswer:
    """What was answered to one question of a starter list, both by their keys."""

    question: str
    answer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildInput:
    """One build as the planner sees it at the moment `now`.

    `confidence` is the share of draws that "firm" stands for; `calibrated` and `attended` say
    whether the record's factors count in the forecast. `kept_order` are task keys in the order
    that was found by tightening and kept on the day `kept_on`; (): the house rules hold. With
    `kept_setup_first` what needs a setup that is out goes before the rest of it.
    `house_rules` are those that are on, the one that decides first in front.
    `on_bench` is the clock that runs; it is of this moment and in no document.
    `end_name` is what the end is called where it is not first start: "first drive". `starter_list`
    is the key of the starter list the build was begun from, `starter_answers` what its questions
    were answered with, `starter_left_out` the keys of tasks and parts of the list that the person
    took out. `plumbing` is what was drawn, measured or done to its pipes and hoses, `rooms` the
    spaces that pieces are stacked in, `data_sheet` what was typed to check sizes by, `start` what
    was signed, opened and cranked on the way to first start. `units` are those that the shop reads
    and writes in: whatever they are, mm, bar, °C and litres are held. `currency` is the word or
    sign behind every sum of money, `money_limit` what the whole is to cost at most.
    `earlier_records` are what the same person's earlier builds showed, taken along.
    """

    name: str
    now: dt.datetime
    first_start: str | None
    starts_on: dt.date | None = None
    wanted_by: dt.date | None = None
    vehicle: str = ""
    shop: Shop = SHOP_WITHOUT_HOURS
    subsystems: tuple[Subsystem, ...] = ()
    tasks: tuple[Task, ...] = ()
    dependencies: tuple[Dependency, ...] = ()
    parts: tuple[Part, ...] = ()
    wishes: tuple[Wish, ...] = ()
    wish_sizes: tuple[WishSize, ...] = WISH_SIZES
    confidence: float = DEFAULT_CONFIDENCE
    calibrated: bool = True
    attended: bool = True
    log: tuple[LogEntry, ...] = ()
    looked_at: tuple[LookedAt, ...] = ()
    photographs: tuple[Photograph, ...] = ()
    kept_order: tuple[str, ...] = ()
    kept_on: dt.date | None = None
    kept_setup_first: bool = False
    house_rules: tuple[str, ...] = HOUSE_RULES
    end_name: str = ""
    starter_list: str = ""
    starter_answers: tuple[StarterAnswer, ...] = ()
    starter_left_out: tuple[str, ...] = ()
    on_bench: RunningClock | None = None
    plumbing: Plumbing = NOTHING_PLUMBED
    rooms: tuple[Room, ...] = ()
    data_sheet: DataSheet = EMPTY_SHEET
    start: FirstStart = NOTHING_SIGNED
    units: ShopUnits = "metric"
    currency: str = ""
    money_limit: float | None = None
    earlier_records: tuple[EarlierRecord, ...] = ()

    @property
    def the_end(self) -> str:
        """What the end is called: "first start", "first drive"."""
        return self.end_name or FIRST_START


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A mistake in a build, answered with the thing's own name and the remedy.

    `kind` and `key` say which thing it is about (kind one of build, shop, subsystem, setup,
    station, task, dependency, part, wish, wish size, log, looked at, component, port, circuit,
    run, shelf, room, figure, limit, wire, belt, photograph, earlier record; check, first start, or
    a thing it keeps; cut list, stock, piece), `field` which of its fields, "" for the whole.
    `text` is a whole sentence or two for the screen: what is wrong and how to mend it.
    """

    kind: str
    key: str
    field: str
    text: str

"""What stands where in a build document: one table, read to tell faults and to read on after them.

A location in a document is `("tasks", 3, "hours")`. Its names without the numbers lead to a place.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from webapp.build.checks.fault_words import Thing, shown
from webapp.build.checks.shop_checks import THE_SHOP
from webapp.build.data_sheet import FIGURES
from webapp.build.limits import MOST_OF_A_STATION, MOST_PEOPLE
from webapp.build.plumbing import address_of
from webapp.exchange import data_sheet_models as sheets
from webapp.exchange import document_models as models
from webapp.exchange import earlier_models as earlier
from webapp.exchange import plumbing_models as plumbing
from webapp.exchange import room_models as rooms
from webapp.exchange import start_models as starts
from webapp.exchange.shop_models import (
    DayEntry,
    DayRangeEntry,
    GivenAwayEntry,
    LaterWeekEntry,
    SetupEntry,
    ShopEntry,
    StationEntry,
    WeekEntry,
)
from webapp.exchange.wish_models import (
    DecisionEntry,
    WayEntry,
    WishEntry,
    WishPartEntry,
    WishSizeEntry,
)

Fields = dict[str, Any]
Names = tuple[str, ...]
Spot = tuple[str, str]
"""Kind and field of faults, "*" for all fields."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One kind of object of the document, or of an object in one of its lists.

    `thing` is what faults call one, from its fields, its number in the list (from 1), and the
    things it stands in, outermost first. `spot` is the field its faults carry, where it is not
    the refused one. `stand_ins` are read where a field is refused; without one the default is,
    and what has neither, or is `all_or_nothing`, is lost as a whole. `leaning` are the faults
    that would only follow where one is lost.
    """

    model: type[models.Entry]
    thing: Callable[[Fields, int, Sequence[Thing]], Thing]
    spot: str = ""
    stand_ins: Mapping[str, object] = field(default_factory=dict)
    all_or_nothing: bool = False
    leaning: tuple[Spot, ...] = ()

    def can_lack(self, name: str) -> bool:
        """Whether an object without this field can be read."""
        fields = self.model.model_fields
        known = fields.get(name) or next((f for f in fields.values() if f.alias == name), None)
        return known is None or not (known.is_required() or self.all_or_nothing)


def _always(thing: Thing) -> Callable[[Fields, int, Sequence[Thing]], Thing]:
    return lambda _fields, _number, _within: thing


def _build(fields: Fields, _number: int, _within: Sequence[Thing]) -> Thing:
    name = fields.get("name")
    return Thing(kind="build", key="", name=name if isinstance(name, str) else "")


def _entry(kind: str, fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """By its name and key where it has them, else by its place."""
    name, key = _plain(fields.get("name")), _plain(fields.get("key"))
    return Thing(kind=kind, key=key, name=name, number=number)


def _opening(called: str, fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """A session or day exception by its place and its day."""
    day = fields.get("day", fields.get("date"))
    words = shown(day) if isinstance(day, str) else "without a day"
    return Thing(kind="shop", key="", name=f"{called} {number}, {words}")


def _later_week(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    first = _plain(fields.get("from_on"))
    return Thing(kind="shop", key=first, name=f"week from {first or f'(number {number})'}")


def _day_range(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    first, last = _plain(fields.get("first_on")), _plain(fields.get("last_on"))
    days = f"{first or 'no day'} to {last or 'no day'}" if first or last else f"number {number}"
    return Thing(kind="shop", key=first, name=f"range of days {days}")


def _given_away(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    first = _plain(fields.get("first_on"))
    name = f"session of another build on {first or f'no day (number {number})'}"
    return Thing(kind="shop", key=first, name=name)


def _session_of_days(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A session of a later shop week or a range of days."""
    day = fields.get("day")
    words = shown(day) if isinstance(day, str) else "without a day"
    days = within[-1]
    return Thing(kind="shop", key=days.key, name=f"{days.name}, session {number}, {words}")


def _wish(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    key, text = _plain(fields.get("key")), _plain(fields.get("text"))
    name = text.partition("\n")[0].strip() or ("" if key.strip() else f"number {number}")
    return Thing(kind="wish", key=key, name=name)


def _looked_at(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """By what it is about, where it is about one thing."""
    about = [key for name in ("evening", "wish", "task") if (key := _plain(fields.get(name)))]
    return Thing(kind="looked at", key=about[0] if len(about) == 1 else "", number=number)


def _of_a_wish(
    what: str, named_by: str, fields: Fields, number: int, within: Sequence[Thing]
) -> Thing:
    """A thing inside a wish, told by the wish's own name."""
    wish = within[1]
    words = f"{what} {_plain(fields.get(named_by)) or number or ''}".rstrip()
    return Thing(kind="wish", key=wish.key, name=f"{wish.name}, {words}" if wish.name else words)


def _ordered(_fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    part = within[1]
    words = f"{part.name}, what it brings, line {number}".removeprefix(", ")
    return Thing(kind="part", key=part.key, name=words)


def _port(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """By its address; by its place, where it has no name."""
    name = _plain(fields.get("name")).strip() or f"number {number}"
    return Thing(kind="port", key=address_of(within[-1].key or within[-1].name, name))


def _stop(_fields: Fields, _number: int, within: Sequence[Thing]) -> Thing:
    return Thing(kind="port", key=within[-1].key, name=f"what shuts {within[-1].key}")


def _piece(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    run = within[-1]
    what = _plain(fields.get("piece"))
    words = f"piece {number} ({shown(what)})" if what else f"piece {number}"
    name = run.name or run.key
    return Thing(kind="run", key=run.key, name=f"{name}, {words}" if name else words)


def _sold(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    return Thing(kind="sold", key="", name=shown(_plain(fields.get("what"))), number=number)


def _shelf(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    what = _plain(fields.get("piece"))
    words = f"line {number} ({shown(what)})" if what else f"line {number}"
    return Thing(kind="shelf", key="", name=words)


def _held(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A piece or a gap in a room, told by the room's own name."""
    room = within[1]
    words = _plain(fields.get("name")) or f"number {number}"
    return Thing(kind="room", key=room.key, name=f"{room.name}, {words}" if room.name else words)


def _earlier_kind(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A kind of work, told by the earlier build's own name."""
    record = within[1]
    words = _plain(fields.get("name")) or f"kind of work number {number}"
    name = f"{record.name}, {words}" if record.name else words
    return Thing(kind="earlier record", key=record.key, name=name)


def _figure(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """A figure of the data sheet by its name."""
    name = _plain(fields.get("name"))
    kind = next((kind for known, kind in FIGURES.items() if known == name), None)
    return Thing(kind="figure", key=name, name=kind.words if kind else "", number=number)


def _own_limit(fields: Fields, number: int, _within: Sequence[Thing]) -> Thing:
    """A limit by its check and its place."""
    check, at = _plain(fields.get("check")), _plain(fields.get("at"))
    name = f"of {check}" + (f" at {at}" if at else "") if check else ""
    return Thing(kind="limit", key="", name=name, number=number)


def _pulley(fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A pulley, told by its belt's own name."""
    belt = within[-1]
    words = f"pulley {_plain(fields.get('name')) or number}"
    return Thing(kind="belt", key=belt.key, name=f"{belt.name}, {words}" if belt.name else words)


def _of_start(
    kind: str, told_by: str, fields: Fields, number: int, _within: Sequence[Thing]
) -> Thing:
    """A thing of first start by what tells it."""
    name = _plain(fields.get("check")) or _plain(fields.get("name"))
    return Thing(kind=kind, key=_plain(fields.get(told_by)), name=name, number=number)


def _of_signature(_fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A reading or paper, told by its signature."""
    signature = within[-1]
    return Thing(kind="signature", key=signature.key, name=f"{signature.name}, {number}")


def _of_a_task(
    what: str, named_by: str, fields: Fields, number: int, within: Sequence[Thing]
) -> Thing:
    """A thing inside a task, told by the task's own name."""
    task = within[1]
    words = f"{what} {_plain(fields.get(named_by)) or number}"
    return Thing(kind="task", key=task.key, name=f"{task.name}, {words}" if task.name else words)


def _plain(value: object) -> str:
    """A text without halves of characters, which no answer could carry."""
    return value.encode(errors="replace").decode() if isinstance(value, str) else ""


_OF_PORTS: tuple[Spot, ...] = (
    ("run", "from"),
    ("run", "to"),
    ("circuit", "from"),
    ("circuit", "to"),
)
"""Faults that would only follow where a port is lost."""
_OF_PLUMBING: tuple[Spot, ...] = (*_OF_PORTS, ("task", ""))


def _photograph(_fields: Fields, number: int, within: Sequence[Thing]) -> Thing:
    """A photograph by its place among those of its task."""
    task = within[1]
    name = f"{task.name}, photograph {number}" if task.name else f"photograph {number}"
    return Thing(kind="task", key=task.key, name=name)


_NAMED: Fields = {"key": "", "name": ""}
_WORK: Fields = {"hours": 0}
PLACES: dict[Names, Place] = {
    (): Place(
        model=models.BuildDocument,
        thing=_always(Thing(kind="build", key="", name="document")),
        stand_ins={
            "format": models.FORMAT,
            "version": models.VERSION,
            "build": {"name": ""},
            "shop": {},
            "wish_sizes": [],
        },
    ),
    ("build",): Place(
        model=models.BuildEntry, thing=_build, stand_ins={"name": ""}, leaning=(("build", "*"),)
    ),
    ("shop",): Place(
        model=ShopEntry,
        thing=_always(THE_SHOP),
        # So many that no task seems to ask for too many.
        stand_ins={"people": MOST_PEOPLE},
        leaning=(("shop", "*"), ("task", "setup"), ("task", "stations"), ("wish", "setup")),
    ),
    ("shop", "week"): Place(
        model=WeekEntry,
        thing=partial(_opening, "week, session"),
        spot="week",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "days"): Place(
        model=DayEntry,
        thing=partial(_opening, "day exception"),
        spot="days",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "later_weeks"): Place(
        model=LaterWeekEntry,
        thing=_later_week,
        spot="later_weeks",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "ranges"): Place(
        model=DayRangeEntry,
        thing=_day_range,
        spot="ranges",
        stand_ins={"name": ""},
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    **{
        ("shop", name, "week"): Place(
            model=WeekEntry,
            thing=_session_of_days,
            spot=name,
            all_or_nothing=True,
            leaning=(("task", "in_one_go"), ("task", "helper"), ("shop", name)),
        )
        for name in ("later_weeks", "ranges")
    },
    ("shop", "given"): Place(
        model=GivenAwayEntry,
        thing=_given_away,
        spot="given",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "setups"): Place(
        model=SetupEntry,
        thing=partial(_entry, "setup"),
        stand_ins=_NAMED | _WORK,
        leaning=(("shop", "setup_out"), ("task", "setup"), ("wish", "setup")),
    ),
    ("shop", "stations"): Place(
        model=StationEntry,
        thing=partial(_entry, "station"),
        stand_ins=_NAMED | {"count": MOST_OF_A_STATION},
        leaning=(("task", "stations"),),
    ),
    ("subsystems",): Place(
        model=models.SubsystemEntry,
        thing=partial(_entry, "subsystem"),
        stand_ins=_NAMED,
        leaning=(("task", "subsystem"), ("wish", "subsystem"), ("circuit", "subsystem")),
    ),
    ("tasks",): Place(
        model=models.TaskEntry,
        thing=partial(_entry, "task"),
        stand_ins=_NAMED | _WORK,
        leaning=(
            ("build", "first_start"),
            ("build", "kept_order"),
            ("dependency", "before"),
            ("dependency", "after"),
            ("part", "serves"),
            ("log", "task"),
            ("wish", "after"),
            ("wish", "before"),
            ("looked at", "task"),
            ("run", "tasks"),
            ("circuit", "holds"),
        ),
    ),
    ("tasks", "steps"): Place(
        model=models.StepEntry,
        thing=partial(_of_a_task, "step", "text"),
        spot="steps",
        stand_ins={"text": ""},
    ),
    ("tasks", "measures"): Place(
        model=models.MeasureEntry,
        thing=partial(_of_a_task, "measure", "name"),
        spot="measures",
        all_or_nothing=True,
    ),
    ("tasks", "photographs"): Place(
        model=models.PhotographEntry, thing=_photograph, spot="photographs"
    ),
    ("dependencies",): Place(model=models.DependencyEntry, thing=partial(_entry, "dependency")),
    ("parts",): Place(
        model=models.PartEntry,
        thing=partial(_entry, "part"),
        stand_ins=_NAMED,
        leaning=(("component", "part"), ("part", "plumbing")),
    ),
    ("parts", "plumbing"): Place(model=plumbing.OrderedEntry, thing=_ordered, spot="plumbing"),
    ("wishes",): Place(
        model=WishEntry,
        thing=_wish,
        stand_ins={"key": ""},
        leaning=(("task", "wish"), ("looked at", "wish")),
    ),
    ("wishes", "parts"): Place(
        model=WishPartEntry, thing=partial(_of_a_wish, "part", "name"), spot="parts"
    ),
    ("wishes", "decision"): Place(
        model=DecisionEntry, thing=partial(_of_a_wish, "its decision", ""), spot="decision"
    ),
    ("wishes", "decision", "figures"): Place(
        model=WayEntry, thing=partial(_of_a_wish, "figures", "way"), spot="decision"
    ),
    ("wish_sizes",): Place(
        model=WishSizeEntry,
        thing=partial(_entry, "wish size"),
        stand_ins=_NAMED | _WORK,
        leaning=(("wish", "size"), ("build", "wish_sizes")),
    ),
    ("log",): Place(model=models.LogLine, thing=partial(_entry, "log")),
    ("looked_at",): Place(model=models.LookedAtEntry, thing=_looked_at),
    ("earlier_records",): Place(
        model=earlier.EarlierRecordEntry,
        thing=partial(_entry, "earlier record"),
        stand_ins=_NAMED,
    ),
    ("earlier_records", "kinds"): Place(
        model=earlier.EarlierKindEntry, thing=_earlier_kind, spot="kinds", all_or_nothing=True
    ),
    ("rooms",): Place(model=rooms.RoomEntry, thing=partial(_entry, "room"), stand_ins=_NAMED),
    ("rooms", "holds"): Place(
        model=rooms.InRoomEntry, thing=_held, spot="holds", all_or_nothing=True
    ),
    ("data_sheet",): Place(
        model=sheets.DataSheetEntry,
        thing=_always(Thing(kind="build", key="", name="data sheet")),
    ),
    ("data_sheet", "figures"): Place(model=sheets.FigureEntry, thing=_figure),
    ("data_sheet", "limits"): Place(model=sheets.OwnLimitEntry, thing=_own_limit),
    ("data_sheet", "wires"): Place(
        model=sheets.WireEntry, thing=partial(_entry, "wire"), all_or_nothing=True
    ),
    ("data_sheet", "belts"): Place(
        model=sheets.BeltEntry, thing=partial(_entry, "belt"), stand_ins=_NAMED
    ),
    ("data_sheet", "belts", "pulleys"): Place(
        model=sheets.PulleyEntry, thing=_pulley, spot="pulleys", all_or_nothing=True
    ),
    ("start",): Place(
        model=starts.FirstStartEntry,
        thing=_always(Thing(kind="build", key="", name="start")),
    ),
    **{
        ("start", name): Place(
            model=model, thing=partial(_of_start, kind, told_by), all_or_nothing=True
        )
        for name, model, kind, told_by in (
            ("answers", starts.StartAnswerEntry, "start answer", "question"),
            ("signatures", starts.SignatureEntry, "signature", "key"),
            ("set_asides", starts.SetAsideEntry, "check set aside", "key"),
            ("changes", starts.CheckChangeEntry, "check change", "check"),
            ("own_checks", starts.OwnCheckEntry, "own check", "key"),
            ("openings", starts.OpeningEntry, "opening", "what"),
            ("runs", starts.EngineRunEntry, "engine run", "key"),
            ("stop_lines", starts.StopLineEntry, "stop line", "name"),
        )
    },
    ("start", "signatures", "readings"): Place(
        model=starts.ReadingEntry, thing=_of_signature, spot="readings", all_or_nothing=True
    ),
    ("start", "signatures", "paper"): Place(
        model=starts.PaperEntry, thing=_of_signature, spot="paper", all_or_nothing=True
    ),
    ("plumbing",): Place(
        model=plumbing.PlumbingEntry,
        thing=_always(Thing(kind="build", key="", name="plumbing")),
        leaning=_OF_PLUMBING,
    ),
    ("plumbing", "components"): Place(
        model=plumbing.ComponentEntry,
        thing=partial(_entry, "component"),
        stand_ins=_NAMED | {"ports": []},
        leaning=_OF_PORTS,
    ),
    ("plumbing", "components", "ports"): Place(
        model=plumbing.PortEntry,
        thing=_port,
        stand_ins={"end": "open", "flow": "both"},
        leaning=_OF_PORTS,
    ),
    ("plumbing", "components", "ports", "stop"): Place(model=plumbing.StopEntry, thing=_stop),
    ("plumbing", "circuits"): Place(
        model=plumbing.CircuitEntry,
        thing=partial(_entry, "circuit"),
        stand_ins={"name": ""},
        leaning=(
            *(("component", "circuit"), ("component", "litres")),
            *(("port", "circuit"), ("circuit", "holds"), ("task", "")),
        ),
    ),
    ("plumbing", "runs"): Place(
        model=plumbing.RunEntry,
        thing=partial(_entry, "run"),
        leaning=(("port", ""), ("task", "")),
    ),
    ("plumbing", "runs", "pieces"): Place(
        model=plumbing.PieceEntry, thing=_piece, spot="pieces", leaning=(("run", "pieces"),)
    ),
    ("plumbing", "shelf"): Place(model=plumbing.ShelfEntry, thing=_shelf),
    ("plumbing", "sold"): Place(model=plumbing.SoldEntry, thing=_sold),
}
"""Every object of a document by the names that lead to it, in the order in which it is read."""

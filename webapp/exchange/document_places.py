"""What stands where in a build document: one table, read to tell faults and to read on after them.

A location in a document is `("tasks", 3, "hours")`. Its names without the numbers lead to a place.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial

from webapp.build.checks.fault_words import Thing
from webapp.build.checks.shop_checks import THE_SHOP
from webapp.build.limits import MOST_OF_A_STATION, MOST_PEOPLE
from webapp.exchange import data_sheet_models as sheets
from webapp.exchange import document_models as models
from webapp.exchange import document_things as things
from webapp.exchange import earlier_models as earlier
from webapp.exchange import plumbing_models as plumbing
from webapp.exchange import room_models as rooms
from webapp.exchange import start_models as starts
from webapp.exchange.document_things import Fields, Named
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
    thing: Named
    spot: str = ""
    stand_ins: Mapping[str, object] = field(default_factory=dict)
    all_or_nothing: bool = False
    leaning: tuple[Spot, ...] = ()

    def can_lack(self, name: str) -> bool:
        """Whether an object without this field can be read."""
        fields = self.model.model_fields
        known = fields.get(name) or next((f for f in fields.values() if f.alias == name), None)
        return known is None or not (known.is_required() or self.all_or_nothing)


_OF_PORTS: tuple[Spot, ...] = (
    ("run", "from"),
    ("run", "to"),
    ("circuit", "from"),
    ("circuit", "to"),
)
"""Faults that would only follow where a port is lost."""
_OF_PLUMBING: tuple[Spot, ...] = (*_OF_PORTS, ("task", ""))


_NAMED: Fields = {"key": "", "name": ""}
_WORK: Fields = {"hours": 0}
PLACES: dict[Names, Place] = {
    (): Place(
        model=models.BuildDocument,
        thing=things.always(Thing(kind="build", key="", name="document")),
        stand_ins={
            "format": models.FORMAT,
            "version": models.VERSION,
            "build": {"name": ""},
            "shop": {},
            "wish_sizes": [],
        },
    ),
    ("build",): Place(
        model=models.BuildEntry,
        thing=things.the_build,
        stand_ins={"name": ""},
        leaning=(("build", "*"),),
    ),
    ("shop",): Place(
        model=ShopEntry,
        thing=things.always(THE_SHOP),
        # So many that no task seems to ask for too many.
        stand_ins={"people": MOST_PEOPLE},
        leaning=(("shop", "*"), ("task", "setup"), ("task", "stations"), ("wish", "setup")),
    ),
    ("shop", "week"): Place(
        model=WeekEntry,
        thing=partial(things.opening, "week, session"),
        spot="week",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "days"): Place(
        model=DayEntry,
        thing=partial(things.opening, "day exception"),
        spot="days",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "later_weeks"): Place(
        model=LaterWeekEntry,
        thing=things.later_week,
        spot="later_weeks",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "ranges"): Place(
        model=DayRangeEntry,
        thing=things.day_range,
        spot="ranges",
        stand_ins={"name": ""},
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    **{
        ("shop", name, "week"): Place(
            model=WeekEntry,
            thing=things.session_of_days,
            spot=name,
            all_or_nothing=True,
            leaning=(("task", "in_one_go"), ("task", "helper"), ("shop", name)),
        )
        for name in ("later_weeks", "ranges")
    },
    ("shop", "given"): Place(
        model=GivenAwayEntry,
        thing=things.given_away,
        spot="given",
        all_or_nothing=True,
        leaning=(("task", "in_one_go"), ("task", "helper")),
    ),
    ("shop", "setups"): Place(
        model=SetupEntry,
        thing=partial(things.entry, "setup"),
        stand_ins=_NAMED | _WORK,
        leaning=(("shop", "setup_out"), ("task", "setup"), ("wish", "setup")),
    ),
    ("shop", "stations"): Place(
        model=StationEntry,
        thing=partial(things.entry, "station"),
        stand_ins=_NAMED | {"count": MOST_OF_A_STATION},
        leaning=(("task", "stations"),),
    ),
    ("subsystems",): Place(
        model=models.SubsystemEntry,
        thing=partial(things.entry, "subsystem"),
        stand_ins=_NAMED,
        leaning=(("task", "subsystem"), ("wish", "subsystem"), ("circuit", "subsystem")),
    ),
    ("tasks",): Place(
        model=models.TaskEntry,
        thing=partial(things.entry, "task"),
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
        thing=partial(things.of_a_task, "step", "text"),
        spot="steps",
        stand_ins={"text": ""},
    ),
    ("tasks", "measures"): Place(
        model=models.MeasureEntry,
        thing=partial(things.of_a_task, "measure", "name"),
        spot="measures",
        all_or_nothing=True,
    ),
    ("tasks", "photographs"): Place(
        model=models.PhotographEntry, thing=things.photograph, spot="photographs"
    ),
    ("dependencies",): Place(
        model=models.DependencyEntry, thing=partial(things.entry, "dependency")
    ),
    ("parts",): Place(
        model=models.PartEntry,
        thing=partial(things.entry, "part"),
        stand_ins=_NAMED,
        leaning=(("component", "part"), ("part", "plumbing")),
    ),
    ("parts", "plumbing"): Place(
        model=plumbing.OrderedEntry, thing=things.ordered, spot="plumbing"
    ),
    ("wishes",): Place(
        model=WishEntry,
        thing=things.wish,
        stand_ins={"key": ""},
        leaning=(("task", "wish"), ("looked at", "wish")),
    ),
    ("wishes", "parts"): Place(
        model=WishPartEntry, thing=partial(things.of_a_wish, "part", "name"), spot="parts"
    ),
    ("wishes", "decision"): Place(
        model=DecisionEntry, thing=partial(things.of_a_wish, "its decision", ""), spot="decision"
    ),
    ("wishes", "decision", "figures"): Place(
        model=WayEntry, thing=partial(things.of_a_wish, "figures", "way"), spot="decision"
    ),
    ("wish_sizes",): Place(
        model=WishSizeEntry,
        thing=partial(things.entry, "wish size"),
        stand_ins=_NAMED | _WORK,
        leaning=(("wish", "size"), ("build", "wish_sizes")),
    ),
    ("log",): Place(model=models.LogLine, thing=partial(things.entry, "log")),
    ("looked_at",): Place(model=models.LookedAtEntry, thing=things.looked_at),
    ("earlier_records",): Place(
        model=earlier.EarlierRecordEntry,
        thing=partial(things.entry, "earlier record"),
        stand_ins=_NAMED,
    ),
    ("earlier_records", "kinds"): Place(
        model=earlier.EarlierKindEntry, thing=things.earlier_kind, spot="kinds", all_or_nothing=True
    ),
    ("rooms",): Place(model=rooms.RoomEntry, thing=partial(things.entry, "room"), stand_ins=_NAMED),
    ("rooms", "holds"): Place(
        model=rooms.InRoomEntry, thing=things.held, spot="holds", all_or_nothing=True
    ),
    ("data_sheet",): Place(
        model=sheets.DataSheetEntry,
        thing=things.always(Thing(kind="build", key="", name="data sheet")),
    ),
    ("data_sheet", "figures"): Place(model=sheets.FigureEntry, thing=things.figure),
    ("data_sheet", "limits"): Place(model=sheets.OwnLimitEntry, thing=things.own_limit),
    ("data_sheet", "wires"): Place(
        model=sheets.WireEntry, thing=partial(things.entry, "wire"), all_or_nothing=True
    ),
    ("data_sheet", "belts"): Place(
        model=sheets.BeltEntry, thing=partial(things.entry, "belt"), stand_ins=_NAMED
    ),
    ("data_sheet", "belts", "pulleys"): Place(
        model=sheets.PulleyEntry, thing=things.pulley, spot="pulleys", all_or_nothing=True
    ),
    ("start",): Place(
        model=starts.FirstStartEntry,
        thing=things.always(Thing(kind="build", key="", name="start")),
    ),
    **{
        ("start", name): Place(
            model=model, thing=partial(things.of_start, kind, told_by), all_or_nothing=True
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
        model=starts.ReadingEntry, thing=things.of_signature, spot="readings", all_or_nothing=True
    ),
    ("start", "signatures", "paper"): Place(
        model=starts.PaperEntry, thing=things.of_signature, spot="paper", all_or_nothing=True
    ),
    ("plumbing",): Place(
        model=plumbing.PlumbingEntry,
        thing=things.always(Thing(kind="build", key="", name="plumbing")),
        leaning=_OF_PLUMBING,
    ),
    ("plumbing", "components"): Place(
        model=plumbing.ComponentEntry,
        thing=partial(things.entry, "component"),
        stand_ins=_NAMED | {"ports": []},
        leaning=_OF_PORTS,
    ),
    ("plumbing", "components", "ports"): Place(
        model=plumbing.PortEntry,
        thing=things.port,
        stand_ins={"end": "open", "flow": "both"},
        leaning=_OF_PORTS,
    ),
    ("plumbing", "components", "ports", "stop"): Place(model=plumbing.StopEntry, thing=things.stop),
    ("plumbing", "circuits"): Place(
        model=plumbing.CircuitEntry,
        thing=partial(things.entry, "circuit"),
        stand_ins={"name": ""},
        leaning=(
            *(("component", "circuit"), ("component", "litres")),
            *(("port", "circuit"), ("circuit", "holds"), ("task", "")),
        ),
    ),
    ("plumbing", "runs"): Place(
        model=plumbing.RunEntry,
        thing=partial(things.entry, "run"),
        leaning=(("port", ""), ("task", "")),
    ),
    ("plumbing", "runs", "pieces"): Place(
        model=plumbing.PieceEntry, thing=things.piece, spot="pieces", leaning=(("run", "pieces"),)
    ),
    ("plumbing", "shelf"): Place(model=plumbing.ShelfEntry, thing=things.shelf),
    ("plumbing", "sold"): Place(model=plumbing.SoldEntry, thing=things.sold),
}
"""Every object of a document by the names that lead to it, in the order in which it is read."""

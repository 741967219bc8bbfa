"""The build document as models: what the reader checks against and the schema is made from.

An entry with a default may be left out or be null; either means the default.
"""

from functools import cache
from typing import Annotated, Any

from pydantic import (
    ConfigDict,
    Field,
    PlainValidator,
    WithJsonSchema,
)

from webapp.build.build_input import DEFAULT_CONFIDENCE
from webapp.build.house_rules import HOUSE_RULES
from webapp.exchange.data_sheet_models import DataSheetEntry
from webapp.exchange.document_entry import Entry as Entry
from webapp.exchange.document_entry import said as _said
from webapp.exchange.document_format import reads_format, reads_version
from webapp.exchange.document_values import (
    Answers,
    Base64,
    Confidence,
    Cost,
    Currency,
    Day,
    DayOrMinute,
    Days,
    Hours,
    Key,
    Keys,
    Litres,
    LongText,
    MeasureWord,
    MediumName,
    Minute,
    Name,
    Needs,
    Paid,
    PeopleNeeded,
    Rank,
    ShopUnitsName,
    ShortText,
    TaskHours,
    WaitHours,
    YesNo,
)
from webapp.exchange.earlier_models import EarlierRecordEntry
from webapp.exchange.plumbing_models import OrderedEntry, PlumbingEntry
from webapp.exchange.room_models import RoomEntry
from webapp.exchange.shop_models import ShopEntry
from webapp.exchange.start_models import FirstStartEntry
from webapp.exchange.wish_models import WishEntry, WishSizeEntry

FORMAT = "keyturn-build"
VERSION = 1


class BuildEntry(Entry):
    """The build as a whole."""

    name: Name
    vehicle: ShortText | None = _said("The vehicle, in the person's words.", "")
    starts_on: Day | None = _said("The day the build began or begins.")
    wanted_by: Day | None = _said("The day by which first start is wanted.")
    now: Minute | None = _said("The moment the plan counts from; today's if left out.")
    first_start: Key | None = _said("Key of the task at whose end the engine has run.")
    confidence: Confidence | None = _said(
        "The share of draws that “firm” stands for.", DEFAULT_CONFIDENCE
    )
    calibrated: YesNo | None = _said("Whether finished tasks correct the forecast.", True)
    attended: YesNo | None = _said("Whether attendance corrects the forecast.", True)
    kept_order: Keys | None = _said("Keys of tasks in the order that is kept, if one is.", ())
    kept_on: Day | None = _said("The day that order was kept.")
    kept_setup_first: YesNo | None = _said(
        "Whether in that order what needs a setup that is out goes first.", False
    )
    house_rules: Keys | None = _said(
        "The house rules that are on, the one that decides first in front: "
        "working_order, setup_out, big_first, longest_way.",
        HOUSE_RULES,
    )
    end_name: ShortText | None = _said("What the end is called; “first start” if left out.", "")
    starter_list: ShortText | None = _said("Key of the starter list it was begun from.", "")
    starter_answers: Answers | None = _said("What the questions of that list were answered.", ())
    starter_left_out: Keys | None = _said(
        "Keys of tasks and parts of that list that the person took out.", ()
    )
    units: ShopUnitsName | None = _said(
        "The units the shop reads and writes in; this document has mm, bar, °C and litres.",
        "metric",
    )
    currency: Currency | None = _said("The word or sign of money, as it is written.", "")
    money_limit: Cost | None = _said("What the whole build is to cost at most.")


class SubsystemEntry(Entry):
    """Air, coolant, fuel, ..."""

    key: Key
    name: Name
    medium: MediumName | None = _said("What runs in it.", "none")
    order: Rank | None = _said("Its rank in the working order.", 0)


class PhotographEntry(Entry):
    """A picture of a task. It is made anew as it is read: place and camera go, size is bounded."""

    jpeg: Base64 = Field(description="The file, in base64.")
    added_on: Day
    caption: ShortText | None = _said("What it shows.", "")


def _hours_unless_outside(schema: dict[str, Any]) -> None:
    schema["anyOf"] = [
        {"required": ["hours"], "properties": {"hours": {"type": ["number", "array"]}}},
        {"required": ["outside_days"], "properties": {"outside_days": {"type": "number"}}},
    ]


class StepEntry(Entry):
    """A step of a task; told by its text."""

    text: Name
    done: YesNo | None = _said("Whether it is ticked.", False)


class MeasureEntry(Entry):
    """A torque or a size to work to, in the person's words."""

    kind: MeasureWord
    name: Name = Field(description="What it is of: “Adapter plate bolts”.")
    value: Name = Field(description="With its unit: “45 Nm in three passes”, “M18 x 1.5”.")


class TaskEntry(Entry):
    """A piece of work. Whether it can start is worked out, never stored."""

    model_config = ConfigDict(json_schema_extra=_hours_unless_outside)

    key: Key
    name: Name
    subsystem: Key | None = _said("Key of its subsystem.")
    hours: TaskHours | None = _said(
        "Shop hours: one number, or three: if all goes well, likely, if it fights you. "
        "Outside work needs none."
    )
    setup: Key | None = _said("Key of the setup it needs out.")
    people: PeopleNeeded | None = _said("Hands it takes; 0 runs by itself.", 1)
    helper: YesNo | None = _said("Needs the second pair of hands all the time.", False)
    in_one_go: YesNo | None = _said("Must not be split over two sessions.", False)
    stations: Needs | None = _said("So many of each station, by its key.", ())
    outside_days: Days | None = _said("Elapsed days, where someone else does it.")
    space_litres: Litres | None = _said("The room it claims in the bay.", 0)
    begun_on: DayOrMinute | None = None
    finished_on: DayOrMinute | None = None
    set_aside_on: Day | None = None
    hours_left: Hours | None = _said("Of a begun task: the shop hours still to go.")
    caution: LongText | None = _said("What can hurt someone, and how not to be hurt.", "")
    notes: LongText | None = _said("Anything else.", "")
    steps: list[StepEntry] | None = _said("Its steps, in their order.", ())
    measures: list[MeasureEntry] | None = _said("Torques and sizes to work to.", ())
    wish: Key | None = _said("Key of the wish it came from.")
    spread_assumed: YesNo | None = _said(
        "Nobody typed the range: the likely hours alone were said, the other two are assumed.",
        False,
    )
    hours_guessed: YesNo | None = _said(
        "The hours are a starter list's guess that nobody changed or confirmed yet.", False
    )
    cost: Cost | None = _said("What it is thought to cost in money.")
    paid: Paid | None = _said("What was paid for it; below zero: money that came back.")
    offer_cost: Cost | None = _said("What somebody else would take for doing it.")
    offer_days: Days | None = _said("Elapsed days that somebody else would take.")
    hours_taken: YesNo | None = _said(
        "The hours are what the same work took in an earlier build.", False
    )
    photographs: list[PhotographEntry] | None = _said(
        "Its photographs; written only where they are asked for.", ()
    )


class DependencyEntry(Entry):
    """`after` may not begin before `before` has ended and the wait has gone by."""

    before: Key
    after: Key
    wait_hours: WaitHours | None = _said("Wall-clock hours of cure, drain or soak.", 0)
    why: LongText | None = _said("The reason.", "")


class PartEntry(Entry):
    """A thing to buy or make."""

    key: Key
    name: Name
    serves: Keys | None = Field(
        default=(), alias="for", description="Keys of the tasks that cannot begin without it."
    )
    arrives_on: DayOrMinute | None = _said("A date counts from 00:00 of that day.")
    arrived: YesNo | None = _said("Whether it is here.", False)
    promised_on: Day | None = None
    ordered_on: Day | None = None
    lead_days: Days | None = _said("Days from order to arrival.")
    cost: Cost | None = _said("What it is thought to cost.")
    paid: Paid | None = _said("What was paid for it; below zero: money that came back.")
    supplier: ShortText | None = _said("Where it comes from.", "")
    plumbing: list[OrderedEntry] | None = _said("What it brings for the plumbing.", ())


class LogLine(Entry):
    """Hours worked on a task on one date."""

    task: Key
    on: Day
    hours: Hours
    left: Hours | None = _said("How many were thought to be left.")
    setup_hours: Hours | None = _said("Hours of getting the setup out, not among `hours`.", 0)


class LookedAtEntry(Entry):
    """What was looked at in the weekly half hour and left as it is: one of the three."""

    on: Day
    evening: Day | None = _said("A date on which nobody was in the shop.")
    wish: Key | None = _said("Key of a wish that stays undecided for now.")
    task: Key | None = _said("Key of a task of which was said how many hours are left.")


class BuildDocument(Entry):
    """A whole build."""

    format: Annotated[
        str,
        PlainValidator(reads_format(FORMAT, "a build document")),
        WithJsonSchema({"const": FORMAT}),
    ]
    version: Annotated[
        int, PlainValidator(reads_version(VERSION)), WithJsonSchema({"const": VERSION})
    ]
    build: BuildEntry
    shop: ShopEntry
    subsystems: list[SubsystemEntry] | None = _said("In the order of entry.", ())
    tasks: list[TaskEntry] | None = _said("In the order of entry.", ())
    dependencies: list[DependencyEntry] | None = _said("What comes before what.", ())
    parts: list[PartEntry] | None = _said("Things to buy or make.", ())
    wishes: list[WishEntry] | None = _said("Ideas, undecided and decided.", ())
    wish_sizes: list[WishSizeEntry] | None = _said(
        "Quick sizes for wishes; an hour, an evening, a Saturday and a weekend if left out."
    )
    log: list[LogLine] | None = _said("Hours worked.", ())
    looked_at: list[LookedAtEntry] | None = _said("Looked at and left as it is.", ())
    earlier_records: list[EarlierRecordEntry] | None = _said(
        "What the same person's earlier builds showed.", ()
    )
    rooms: list[RoomEntry] | None = _said("Spaces with what is stacked in them.", ())
    data_sheet: DataSheetEntry | None = _said("What was typed to check sizes by.")
    start: FirstStartEntry | None = _said("What was signed and cranked up to first start.")
    plumbing: PlumbingEntry | None = _said("What is plumbed: ports, runs, circuits, the shelf.")


@cache
def document_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of the build document, version 1; made once, not to be changed."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **BuildDocument.model_json_schema(),
        "title": "Keyturn build document, version 1",
    }

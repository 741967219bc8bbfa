"""The build document as models: what the reader checks against and the schema is made from.

An entry with a default may be left out or be null; either means the default.
"""

from typing import Annotated, Any

from pydantic import (
    ConfigDict,
    Field,
    PlainValidator,
    WithJsonSchema,
    model_validator,
)

from webapp.build.build_input import DEFAULT_CONFIDENCE
from webapp.exchange.data_sheet_models import DataSheetEntry
from webapp.exchange.document_entry import Entry as Entry
from webapp.exchange.document_entry import said as _said
from webapp.exchange.document_format import reads_format, reads_version
from webapp.exchange.document_values import (
    Answers,
    AnyNumber,
    Base64,
    ClockTime,
    Confidence,
    Cost,
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
    PeopleNeeded,
    PeopleThere,
    Rank,
    ShopUnitsName,
    ShortText,
    StationCount,
    TaskHours,
    WaitHours,
    Way,
    Weekday,
    YesNo,
)
from webapp.exchange.plumbing_models import OrderedEntry, PlumbingEntry
from webapp.exchange.room_models import RoomEntry
from webapp.exchange.start_models import FirstStartEntry

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


class WeekEntry(Entry):
    """Open hours that come back every week, within one day."""

    day: Weekday
    opens: ClockTime
    closes: ClockTime
    helper: YesNo | None = _said("Whether the second pair of hands is there.", False)


def _closed_or_open(schema: dict[str, Any]) -> None:
    schema["oneOf"] = [
        {
            "required": ["closed"],
            "properties": {
                "closed": {"const": True},
                "opens": {"type": "null"},
                "closes": {"type": "null"},
            },
        },
        {
            "required": ["opens", "closes"],
            "properties": {
                "closed": {"enum": [False, None]},
                "opens": {"type": "string"},
                "closes": {"type": "string"},
            },
        },
    ]


class DayEntry(Entry):
    """Replaces the sessions of one date: closed, or one session. Several entries, several."""

    model_config = ConfigDict(json_schema_extra=_closed_or_open)

    date: Day
    closed: YesNo | None = _said("True where the shop is closed all day.", False)
    opens: ClockTime | None = None
    closes: ClockTime | None = None
    helper: YesNo | None = _said("Whether the second pair of hands is there.", False)


class SetupEntry(Entry):
    """A tool or station got ready for a kind of work."""

    key: Key
    name: Name
    hours: Hours = Field(description="Shop hours to get it out.")


class StationEntry(Entry):
    """Something there is a countable number of."""

    key: Key
    name: Name
    count: StationCount | None = _said("How many there are.", 1)


class ShopEntry(Entry):
    """When the shop is open, who works in it and what can be got out."""

    people: PeopleThere | None = _said("Builders who work in parallel.", 1)
    setup_out: Key | None = _said("Key of the setup that is out at `now`.")
    week: list[WeekEntry] | None = _said("The shop week.", ())
    days: list[DayEntry] | None = _said("Day exceptions.", ())
    setups: list[SetupEntry] | None = _said("What can be got out.", ())
    stations: list[StationEntry] | None = _said("What there is a countable number of.", ())


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
    cost: Cost | None = None
    supplier: ShortText | None = _said("Where it comes from.", "")
    plumbing: list[OrderedEntry] | None = _said("What it brings for the plumbing.", ())


class WishPartEntry(Entry):
    """A part that a wish would need."""

    name: Name
    lead_days: Days | None = _said("Days from order to arrival.", 0)
    cost: Cost | None = _said("Money.", 0)


FORMER_FIGURES = {"safe": "firm", "likely_days": "move_days"}
"""What figures of a decision were called in older documents."""
FIGURES_OF_BEFORE = ("safe_days", "firm_days")
"""Figures that older documents have; they are read over."""


def _also_former(schema: dict[str, Any]) -> None:
    """The names that the figures had in older documents."""
    properties = schema["properties"]
    for former, name in FORMER_FIGURES.items():
        properties[former] = {**properties[name], "deprecated": True}
    for former in FIGURES_OF_BEFORE:
        properties[former] = {**properties["move_days"], "deprecated": True}


class WayEntry(Entry):
    """What one way of deciding a wish was said to do, against the build without it.

    Older documents called `firm` `safe` and `move_days` `likely_days`, and still may; their
    `firm_days` or `safe_days` is read over.
    """

    model_config = ConfigDict(json_schema_extra=_also_former)

    @model_validator(mode="before")
    @classmethod
    def _renamed(cls, raw: object) -> object:
        if not isinstance(raw, dict):
            return raw
        return {
            FORMER_FIGURES[name]
            if name in FORMER_FIGURES and FORMER_FIGURES[name] not in raw
            else name: value
            for name, value in raw.items()
            if name not in FIGURES_OF_BEFORE
        }

    way: Way
    likely: Minute | None = _said("First start, as likely as not.")
    firm: Minute | None = _said("First start at the build's confidence.")
    move_days: AnyNumber | None = _said("Days by which first start moves, the mean of the draws.")
    move_error_days: AnyNumber | None = _said("Standard error of that mean.")
    moved_share: AnyNumber | None = _said("Share of the draws in which first start is later.")
    headroom_hours: AnyNumber | None = _said("Shop hours of headroom left.")
    hours: AnyNumber = Field(description="Hours added over the whole build.")
    cost: AnyNumber = Field(description="Money.")


class DecisionEntry(Entry):
    """What was decided about a wish, with the figures that were on the table."""

    way: Way
    decided_on: Day
    why: LongText | None = _said("The reason.", "")
    figures: list[WayEntry] | None = _said("One for each way.", ())


class WishEntry(Entry):
    """An idea not yet in the plan, and what was decided about it. Only its text is needed."""

    key: Key
    text: LongText
    logged_on: Day
    subsystem: Key | None = _said("Key of the subsystem it belongs to.")
    after: Key | None = _said("Key of the task after which it could begin.")
    before: Key | None = _said("Key of the task that would have to wait for it.")
    size: Key | None = _said("Key of a quick size, used where there are no hours.")
    hours: TaskHours | None = _said("Shop hours to fit it now: one number, or three.")
    setup: Key | None = _said("Key of the setup it needs out.")
    rough_in_hours: TaskHours | None = _said("Shop hours to make provision for it now.")
    later_extra_hours: Hours | None = _said("Shop hours on top, if fitted after first start.")
    cost: Cost | None = _said("Money beside that for its parts.")
    parts: list[WishPartEntry] | None = _said("What would have to be bought.", ())
    decision: DecisionEntry | None = _said("Left out as long as it is undecided.")


class WishSizeEntry(Entry):
    """A quick size for wishes."""

    key: Key
    name: Name
    hours: TaskHours


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
    rooms: list[RoomEntry] | None = _said("Spaces with what is stacked in them.", ())
    data_sheet: DataSheetEntry | None = _said("What was typed to check sizes by.")
    start: FirstStartEntry | None = _said("What was signed and cranked up to first start.")
    plumbing: PlumbingEntry | None = _said("What is plumbed: ports, runs, circuits, the shelf.")


def document_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of the build document, version 1."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **BuildDocument.model_json_schema(),
        "title": "Keyturn build document, version 1",
    }

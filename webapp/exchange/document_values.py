"""The values a build document is made of: what each is, how it is read and described."""

import datetime as dt
from typing import Annotated

from pydantic import PlainValidator, WithJsonSchema

from webapp.build.build_input import (
    MEASURE_KINDS,
    MEDIA,
    MeasureKind,
    Medium,
    Moment,
    StarterAnswer,
    StationNeed,
)
from webapp.build.checks.session_checks import WEEKDAYS
from webapp.build.limits import (
    LEAST_CONFIDENCE,
    MOST_CONFIDENCE,
    MOST_COST,
    MOST_CURRENCY_CHARACTERS,
    MOST_DAYS_AWAY,
    MOST_HOURS,
    MOST_NAME_CHARACTERS,
    MOST_OF_A_STATION,
    MOST_PEOPLE,
    MOST_RANK,
    MOST_SPACE_LITRES,
    MOST_TEXT_CHARACTERS,
    MOST_WAIT_HOURS,
)
from webapp.build.three_point import ThreePoint
from webapp.build.units import SHOP_UNITS, ShopUnits
from webapp.build.wish import WISH_WAYS, WishWay
from webapp.exchange.document_entry import between, whole_between
from webapp.exchange.value_readers import (
    BASE64_PATTERN,
    CLOCK_PATTERN,
    DAY_PATTERN,
    MOST_BASE64_CHARACTERS,
    TIME_PATTERN,
    read_answers,
    read_base64,
    read_clock,
    read_day,
    read_hours,
    read_key_or_keys,
    read_keys,
    read_measure_kind,
    read_medium,
    read_minute,
    read_moment,
    read_needs,
    read_number,
    read_text,
    read_units,
    read_way,
    read_weekday,
    read_whole_number,
    read_yes_no,
)


def _text(most: int, least: int = 0) -> dict[str, object]:
    return {"type": "string", "minLength": least, "maxLength": most}


_DAY_SCHEMA: dict[str, object] = {"type": "string", "format": "date", "pattern": f"^{DAY_PATTERN}$"}
_MINUTE_SCHEMA: dict[str, object] = {"type": "string", "pattern": f"^{DAY_PATTERN}{TIME_PATTERN}$"}
_HOURS: dict[str, object] = {"type": "number", "minimum": 0, "maximum": MOST_HOURS}
_THREE_HOURS = {"type": "array", "items": _HOURS, "minItems": 3, "maxItems": 3}
_COUNT: dict[str, object] = {"type": "integer", "minimum": 1, "maximum": MOST_OF_A_STATION}

Base64 = Annotated[
    str,
    PlainValidator(read_base64),
    WithJsonSchema(
        {
            **_text(MOST_BASE64_CHARACTERS, least=1),
            "pattern": f"^{BASE64_PATTERN.pattern}$",
            "contentEncoding": "base64",
        }
    ),
]
Key = Annotated[
    str, PlainValidator(read_text), WithJsonSchema(_text(MOST_NAME_CHARACTERS, least=1))
]
Name = Annotated[
    str, PlainValidator(read_text), WithJsonSchema(_text(MOST_NAME_CHARACTERS, least=1))
]
ShortText = Annotated[str, PlainValidator(read_text), WithJsonSchema(_text(MOST_NAME_CHARACTERS))]
LongText = Annotated[str, PlainValidator(read_text), WithJsonSchema(_text(MOST_TEXT_CHARACTERS))]
Hours = Annotated[float, PlainValidator(read_number), WithJsonSchema(_HOURS)]
WaitHours = Annotated[float, PlainValidator(read_number), between(0, MOST_WAIT_HOURS)]
Days = Annotated[float, PlainValidator(read_number), between(0, MOST_DAYS_AWAY)]
Litres = Annotated[float, PlainValidator(read_number), between(0, MOST_SPACE_LITRES)]
Cost = Annotated[float, PlainValidator(read_number), between(0, MOST_COST)]
Currency = Annotated[
    str, PlainValidator(read_text), WithJsonSchema(_text(MOST_CURRENCY_CHARACTERS))
]
Paid = Annotated[float, PlainValidator(read_number), between(-MOST_COST, MOST_COST)]
AnyNumber = Annotated[float, PlainValidator(read_number), WithJsonSchema({"type": "number"})]
Confidence = Annotated[
    float,
    PlainValidator(read_number),
    between(LEAST_CONFIDENCE, MOST_CONFIDENCE),
]
Way = Annotated[WishWay, PlainValidator(read_way), WithJsonSchema({"enum": list(WISH_WAYS)})]
MeasureWord = Annotated[
    MeasureKind, PlainValidator(read_measure_kind), WithJsonSchema({"enum": list(MEASURE_KINDS)})
]
Rank = Annotated[int, PlainValidator(read_whole_number), whole_between(-MOST_RANK, MOST_RANK)]
PeopleThere = Annotated[int, PlainValidator(read_whole_number), whole_between(1, MOST_PEOPLE)]
PeopleNeeded = Annotated[int, PlainValidator(read_whole_number), whole_between(0, MOST_PEOPLE)]
StationCount = Annotated[int, PlainValidator(read_whole_number), WithJsonSchema(_COUNT)]
YesNo = Annotated[bool, PlainValidator(read_yes_no), WithJsonSchema({"type": "boolean"})]
Day = Annotated[dt.date, PlainValidator(read_day), WithJsonSchema(_DAY_SCHEMA)]
Minute = Annotated[dt.datetime, PlainValidator(read_minute), WithJsonSchema(_MINUTE_SCHEMA)]
DayOrMinute = Annotated[
    Moment,
    PlainValidator(read_moment),
    WithJsonSchema({"anyOf": [_DAY_SCHEMA, _MINUTE_SCHEMA]}),
]
ClockTime = Annotated[
    int,
    PlainValidator(read_clock),
    WithJsonSchema({"type": "string", "pattern": f"^({CLOCK_PATTERN})$"}),
]
Weekday = Annotated[int, PlainValidator(read_weekday), WithJsonSchema({"enum": list(WEEKDAYS)})]
MediumName = Annotated[Medium, PlainValidator(read_medium), WithJsonSchema({"enum": list(MEDIA)})]
ShopUnitsName = Annotated[
    ShopUnits, PlainValidator(read_units), WithJsonSchema({"enum": list(SHOP_UNITS)})
]
TaskHours = Annotated[
    ThreePoint, PlainValidator(read_hours), WithJsonSchema({"anyOf": [_HOURS, _THREE_HOURS]})
]
Needs = Annotated[
    tuple[StationNeed, ...],
    PlainValidator(read_needs),
    WithJsonSchema({"type": "object", "additionalProperties": _COUNT}),
]
Answers = Annotated[
    tuple[StarterAnswer, ...],
    PlainValidator(read_answers),
    WithJsonSchema(
        {"type": "object", "additionalProperties": _text(MOST_NAME_CHARACTERS, least=1)}
    ),
]
_KEYS: dict[str, object] = {"type": "array", "items": _text(MOST_NAME_CHARACTERS, least=1)}
Keys = Annotated[tuple[str, ...], PlainValidator(read_keys), WithJsonSchema(_KEYS)]
KeyOrKeys = Annotated[
    tuple[str, ...],
    PlainValidator(read_key_or_keys),
    WithJsonSchema({"anyOf": [_text(MOST_NAME_CHARACTERS, least=1), _KEYS]}),
]

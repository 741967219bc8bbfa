"""The values a build document is made of: how each is read, refused and described."""

import datetime as dt
import math
import re
from collections.abc import Sequence
from typing import Annotated, TypeVar

from pydantic import PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from webapp.build.build_input import (
    MEASURE_KINDS,
    MEDIA,
    MeasureKind,
    Medium,
    Moment,
    StarterAnswer,
    StationNeed,
)
from webapp.build.checks.fault_words import shown
from webapp.build.checks.session_checks import WEEKDAYS
from webapp.build.checks.size_checks import megabytes
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
    MOST_PHOTOGRAPH_BYTES,
    MOST_RANK,
    MOST_SPACE_LITRES,
    MOST_TEXT_CHARACTERS,
    MOST_WAIT_HOURS,
)
from webapp.build.three_point import ThreePoint
from webapp.build.units import SHOP_UNITS, ShopUnits
from webapp.build.wish import WISH_WAYS, WishWay

Word = TypeVar("Word", bound=str)
_DAY = r"\d{4}-\d{2}-\d{2}"
_TIME = r"T([01]\d|2[0-3]):[0-5]\d(:00)?"
_CLOCK = r"([01]\d|2[0-3]):[0-5]\d|24:00"
_BASE64 = re.compile(r"([A-Za-z0-9+/]{4})*([A-Za-z0-9+/]{3}=|[A-Za-z0-9+/]{2}==)?")
MOST_BASE64_CHARACTERS = 4 * ((MOST_PHOTOGRAPH_BYTES + 2) // 3)
"""Base64 makes four characters of three bytes (RFC 4648)."""
_ZONE = re.compile(rf"{_DAY}T\d{{2}}:\d{{2}}.*(Z|z|[+-]\d{{2}}:?\d{{2}})")


def refused(words: str) -> PydanticCustomError:
    """A value that is refused; `words` go on after the field's name and hold the remedy."""
    return PydanticCustomError("refused", "{words}", {"words": words})


def found(value: object) -> str:
    """What stands in the document, in a few words."""
    match value:
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case str():
            return f'the text "{shown(value)}"'
        case list():
            return "a list"
        case dict():
            return "an object"
        case float() if not math.isfinite(value):
            return "a number without end"
        case _:
            return f"the number {value:g}"


def one_of(words: Sequence[Word], value: object) -> Word:
    """The one of the words that a value is."""
    for word in words:
        if value == word:
            return word
    what = f"“{shown(value)}”" if isinstance(value, str) else found(value)
    raise refused(f"must be one of {', '.join(words)}, not {what}.")


def read_text(value: object) -> str:
    """Text; half a character (a lone surrogate) is refused, for no file could hold it."""
    if not isinstance(value, str):
        raise refused(f"must be text in double quotes, not {found(value)}.")
    if any("\ud800" <= c <= "\udfff" for c in value):
        raise refused("holds half a character (\\ud800 to \\udfff). Type the text anew.")
    return value


def read_number(value: object) -> float:
    """A finite number; true and numbers in quotes are none."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        remedy = " Write it without quotes." if isinstance(value, str) else ""
        raise refused(f"must be a number, not {found(value)}.{remedy}")
    if math.isnan(value):
        raise refused("is NaN, which is not a number. Enter a number.")
    if math.isinf(value):
        raise refused("is too large. Enter a smaller number.")
    return float(value)


def read_whole_number(value: object) -> int:
    """A whole number; 2.0 is one."""
    number = read_number(value)
    if number != int(number):
        raise refused(f"must be a whole number, not {number:g}.")
    return int(number)


def read_yes_no(value: object) -> bool:
    """True or false."""
    if not isinstance(value, bool):
        raise refused(f"must be true or false, not {found(value)}.")
    return value


def read_day(value: object) -> dt.date:
    """A date as YYYY-MM-DD."""
    text = value if isinstance(value, str) else ""
    if re.fullmatch(_DAY, text):
        try:
            return dt.date.fromisoformat(text)
        except ValueError:
            raise refused(f"{text} is not a date in the calendar. Correct it.") from None
    raise refused(f"must be a date like 2026-03-02, not {found(value)}.")


def read_minute(value: object) -> dt.datetime:
    """A date with a time to the minute, in the shop's local time."""
    text = value if isinstance(value, str) else ""
    if re.fullmatch(_DAY + _TIME, text):
        try:
            return dt.datetime.fromisoformat(text)
        except ValueError:
            raise refused(f"{text} is not a date in the calendar. Correct it.") from None
    if _ZONE.fullmatch(text):
        raise refused(
            f"{shown(text)} carries a time zone. Leave the zone out: "
            "the shop clock is the local time on the wall."
        )
    raise refused(f"must be a date and time like 2026-03-02T09:00, not {found(value)}.")


def read_moment(value: object) -> Moment:
    """A date, or a date with a time to the minute."""
    if isinstance(value, str) and "T" in value:
        return read_minute(value)
    try:
        return read_day(value)
    except PydanticCustomError as error:
        if not isinstance(value, str) or not re.fullmatch(_DAY, value):
            raise refused(
                f"must be a date like 2026-03-02 or 2026-03-02T09:00, not {found(value)}."
            ) from None
        raise error


def read_clock(value: object) -> int:
    """A time of day as HH:MM, in minutes after midnight; 24:00 is the end of the day."""
    if isinstance(value, str) and re.fullmatch(_CLOCK, value):
        return int(value[:2]) * 60 + int(value[3:])
    raise refused(f"must be a time like 09:00, at the latest 24:00, not {found(value)}.")


def read_weekday(value: object) -> int:
    """A day of the week by its three letters; 0 is Monday."""
    if isinstance(value, str) and value in WEEKDAYS:
        return WEEKDAYS.index(value)
    raise refused(f"must be one of {', '.join(WEEKDAYS)}, not {found(value)}.")


def read_units(value: object) -> ShopUnits:
    """The units of a shop."""
    for units in SHOP_UNITS:
        if value == units:
            return units
    raise refused(f"must be one of {', '.join(SHOP_UNITS)}, not {found(value)}.")


def read_medium(value: object) -> Medium:
    """What runs in a subsystem's pipes."""
    for medium in MEDIA:
        if value == medium:
            return medium
    raise refused(f"must be one of {', '.join(MEDIA)}, not {found(value)}.")


def read_measure_kind(value: object) -> MeasureKind:
    """What a measure is."""
    for kind in MEASURE_KINDS:
        if value == kind:
            return kind
    raise refused(f"must be one of {', '.join(MEASURE_KINDS)}, not {found(value)}.")


def read_way(value: object) -> WishWay:
    """A way to decide a wish."""
    for way in WISH_WAYS:
        if value == way:
            return way
    raise refused(f"must be one of {', '.join(WISH_WAYS)}, not {found(value)}.")


def read_hours(value: object) -> ThreePoint:
    """One number, or three: if all goes well, likely, if it fights you."""
    if isinstance(value, list):
        if len(value) != 3:
            raise refused(
                f"has {len(value)} numbers. Give one, or three: "
                "if all goes well, likely, if it fights you."
            )
        optimistic, most_likely, pessimistic = (read_number(part) for part in value)
        return ThreePoint(optimistic=optimistic, most_likely=most_likely, pessimistic=pessimistic)
    return ThreePoint.certain(read_number(value))


def read_needs(value: object) -> tuple[StationNeed, ...]:
    """So many of each station, as an object of station key and count."""
    if not isinstance(value, dict):
        raise refused(f'must be an object like {{"lift": 1}}, not {found(value)}.')
    return tuple(
        StationNeed(station=read_text(station), count=read_whole_number(count))
        for station, count in value.items()
    )


def read_answers(value: object) -> tuple[StarterAnswer, ...]:
    """What was answered, as an object of question key and answer key."""
    if not isinstance(value, dict):
        raise refused(f'must be an object like {{"fuel": "diesel"}}, not {found(value)}.')
    return tuple(
        StarterAnswer(question=read_text(question), answer=read_text(answer))
        for question, answer in value.items()
    )


def read_keys(value: object) -> tuple[str, ...]:
    """A list of keys."""
    if not isinstance(value, list):
        raise refused(f'must be a list of keys like ["t1", "t2"], not {found(value)}.')
    return tuple(read_text(key) for key in value)


def read_key_or_keys(value: object) -> tuple[str, ...]:
    """One key in double quotes, or a list of them."""
    if isinstance(value, str):
        return (read_text(value),)
    if not isinstance(value, list):
        raise refused(f"must be a key in double quotes or a list of keys, not {found(value)}.")
    return read_keys(value)


def read_base64(value: object) -> str:
    """Bytes as base64 writes them; what they are is looked at when they are wanted."""
    if not isinstance(value, str):
        raise refused(f"must be the file in base64, in double quotes, not {found(value)}.")
    if not 0 < len(value) <= MOST_BASE64_CHARACTERS:
        most = megabytes(MOST_PHOTOGRAPH_BYTES)
        raise refused(f"must hold a file of at most {most}. Take the photograph out, or anew.")
    if not _BASE64.fullmatch(value):
        raise refused("is no base64 (RFC 4648). Export the build anew, or take it out.")
    return value


def _number(most: float) -> dict[str, object]:
    return {"type": "number", "minimum": 0, "maximum": most}


def _whole(least: int, most: int) -> dict[str, object]:
    return {"type": "integer", "minimum": least, "maximum": most}


def _text(most: int, least: int = 0) -> dict[str, object]:
    return {"type": "string", "minLength": least, "maxLength": most}


_DAY_SCHEMA: dict[str, object] = {"type": "string", "format": "date", "pattern": f"^{_DAY}$"}
_MINUTE_SCHEMA: dict[str, object] = {"type": "string", "pattern": f"^{_DAY}{_TIME}$"}
_HOURS = _number(MOST_HOURS)
_THREE_HOURS = {"type": "array", "items": _HOURS, "minItems": 3, "maxItems": 3}
_COUNT = _whole(1, MOST_OF_A_STATION)

Base64 = Annotated[
    str,
    PlainValidator(read_base64),
    WithJsonSchema(
        {
            **_text(MOST_BASE64_CHARACTERS, least=1),
            "pattern": f"^{_BASE64.pattern}$",
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
WaitHours = Annotated[float, PlainValidator(read_number), WithJsonSchema(_number(MOST_WAIT_HOURS))]
Days = Annotated[float, PlainValidator(read_number), WithJsonSchema(_number(MOST_DAYS_AWAY))]
Litres = Annotated[float, PlainValidator(read_number), WithJsonSchema(_number(MOST_SPACE_LITRES))]
Cost = Annotated[float, PlainValidator(read_number), WithJsonSchema(_number(MOST_COST))]
Currency = Annotated[
    str, PlainValidator(read_text), WithJsonSchema(_text(MOST_CURRENCY_CHARACTERS))
]
Paid = Annotated[
    float,
    PlainValidator(read_number),
    WithJsonSchema({"type": "number", "minimum": -MOST_COST, "maximum": MOST_COST}),
]
AnyNumber = Annotated[float, PlainValidator(read_number), WithJsonSchema({"type": "number"})]
Confidence = Annotated[
    float,
    PlainValidator(read_number),
    WithJsonSchema({"type": "number", "minimum": LEAST_CONFIDENCE, "maximum": MOST_CONFIDENCE}),
]
Way = Annotated[WishWay, PlainValidator(read_way), WithJsonSchema({"enum": list(WISH_WAYS)})]
MeasureWord = Annotated[
    MeasureKind, PlainValidator(read_measure_kind), WithJsonSchema({"enum": list(MEASURE_KINDS)})
]
Rank = Annotated[
    int, PlainValidator(read_whole_number), WithJsonSchema(_whole(-MOST_RANK, MOST_RANK))
]
PeopleThere = Annotated[
    int, PlainValidator(read_whole_number), WithJsonSchema(_whole(1, MOST_PEOPLE))
]
PeopleNeeded = Annotated[
    int, PlainValidator(read_whole_number), WithJsonSchema(_whole(0, MOST_PEOPLE))
]
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
    WithJsonSchema({"type": "string", "pattern": f"^({_CLOCK})$"}),
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

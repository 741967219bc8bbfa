"""How each value of a build document is read, and what it is refused with."""

import datetime as dt
import math
import re
from collections.abc import Callable, Sequence
from typing import TypeVar

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
from webapp.build.limits import MOST_PHOTOGRAPH_BYTES
from webapp.build.three_point import ThreePoint
from webapp.build.units import SHOP_UNITS, ShopUnits
from webapp.build.wish import WISH_WAYS, WishWay

Word = TypeVar("Word", bound=str)

DAY_PATTERN = r"\d{4}-\d{2}-\d{2}"
TIME_PATTERN = r"T([01]\d|2[0-3]):[0-5]\d(:00)?"
CLOCK_PATTERN = r"([01]\d|2[0-3]):[0-5]\d|24:00"
BASE64_PATTERN = re.compile(r"([A-Za-z0-9+/]{4})*([A-Za-z0-9+/]{3}=|[A-Za-z0-9+/]{2}==)?")
MOST_BASE64_CHARACTERS = 4 * ((MOST_PHOTOGRAPH_BYTES + 2) // 3)
"""Base64 makes four characters of three bytes (RFC 4648)."""
_ZONE = re.compile(rf"{DAY_PATTERN}T\d{{2}}:\d{{2}}.*(Z|z|[+-]\d{{2}}:?\d{{2}})")


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


def quoted(value: object) -> str:
    """What stands in the document, a text without saying that it is one."""
    return f"“{shown(value)}”" if isinstance(value, str) else found(value)


def one_of(words: Sequence[Word], value: object, called: Callable[[object], str] = quoted) -> Word:
    """The one of the words that a value is; `called` says what stands there instead."""
    for word in words:
        if value == word:
            return word
    raise refused(f"must be one of {', '.join(words)}, not {called(value)}.")


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
    if re.fullmatch(DAY_PATTERN, text):
        try:
            return dt.date.fromisoformat(text)
        except ValueError:
            raise refused(f"{text} is not a date in the calendar. Correct it.") from None
    raise refused(f"must be a date like 2026-03-02, not {found(value)}.")


def read_minute(value: object) -> dt.datetime:
    """A date with a time to the minute, in the shop's local time."""
    text = value if isinstance(value, str) else ""
    if re.fullmatch(DAY_PATTERN + TIME_PATTERN, text):
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
        if not isinstance(value, str) or not re.fullmatch(DAY_PATTERN, value):
            raise refused(
                f"must be a date like 2026-03-02 or 2026-03-02T09:00, not {found(value)}."
            ) from None
        raise error


def read_clock(value: object) -> int:
    """A time of day as HH:MM, in minutes after midnight; 24:00 is the end of the day."""
    if isinstance(value, str) and re.fullmatch(CLOCK_PATTERN, value):
        return int(value[:2]) * 60 + int(value[3:])
    raise refused(f"must be a time like 09:00, at the latest 24:00, not {found(value)}.")


def read_weekday(value: object) -> int:
    """A day of the week by its three letters; 0 is Monday."""
    if isinstance(value, str) and value in WEEKDAYS:
        return WEEKDAYS.index(value)
    raise refused(f"must be one of {', '.join(WEEKDAYS)}, not {found(value)}.")


def read_units(value: object) -> ShopUnits:
    """The units of a shop."""
    return one_of(SHOP_UNITS, value, found)


def read_medium(value: object) -> Medium:
    """What runs in a subsystem's pipes."""
    return one_of(MEDIA, value, found)


def read_measure_kind(value: object) -> MeasureKind:
    """What a measure is."""
    return one_of(MEASURE_KINDS, value, found)


def read_way(value: object) -> WishWay:
    """A way to decide a wish."""
    return one_of(WISH_WAYS, value, found)


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
    if not BASE64_PATTERN.fullmatch(value):
        raise refused("is no base64 (RFC 4648). Export the build anew, or take it out.")
    return value

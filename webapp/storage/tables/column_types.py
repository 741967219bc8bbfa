"""What a column can hold beyond the types of SQL."""

import datetime as dt
import zlib
from base64 import b85decode, b85encode

from sqlalchemy import Dialect, String, Text, TypeDecorator

from webapp.build.build_input import Moment
from webapp.build.moments import with_offset

_PRESSED = "zlib:"
_PRESSED_FROM = 1000


class StoredText(TypeDecorator[str]):
    """Any text. What UTF-8 cannot hold (a lone surrogate) is stored as U+FFFD."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, _dialect: Dialect) -> str | None:
        """Text that can be written."""
        if value is None or value.isascii():
            return value
        return value.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


class StoredBulk(StoredText):
    """Text of many kilobytes that is kept for good: pressed together where it is long.

    What an older program stored as it was is read as it is.
    """

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """The text itself where it is short, else its zlib stream in base 85."""
        text = super().process_bind_param(value, dialect)
        if text is None or (len(text) < _PRESSED_FROM and not text.startswith(_PRESSED)):
            return text
        return _PRESSED + b85encode(zlib.compress(text.encode())).decode()

    def process_result_value(self, value: str | None, _dialect: Dialect) -> str | None:
        """The text that was stored."""
        if value is None or not value.startswith(_PRESSED):
            return value
        return zlib.decompress(b85decode(value.removeprefix(_PRESSED))).decode()


class StoredMoment(TypeDecorator[Moment]):
    """A date, or a date with a time, as ISO 8601 text: a date stays a date."""

    impl = String(26)
    cache_ok = True

    def process_bind_param(self, value: Moment | None, _dialect: Dialect) -> str | None:
        """`2026-02-09` or `2026-02-09T18:30:00`."""
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, _dialect: Dialect) -> Moment | None:
        """The date or datetime that was stored."""
        if value is None:
            return None
        return dt.datetime.fromisoformat(value) if "T" in value else dt.date.fromisoformat(value)


class StoredExact(TypeDecorator[dt.datetime]):
    """A moment of first start with its offset from UTC, as ISO 8601 text.

    What was stored without one, by an older program, was of this machine's local clock. The column
    is as long as it was laid out for that: SQLite holds a text to no length.
    """

    impl = String(26)
    cache_ok = True

    def process_bind_param(self, value: dt.datetime | None, _dialect: Dialect) -> str | None:
        """`2026-10-25T02:59:30.250000+02:00`."""
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, _dialect: Dialect) -> dt.datetime | None:
        """The moment that was stored, aware."""
        return None if value is None else with_offset(dt.datetime.fromisoformat(value))


class StoredStamp(TypeDecorator[dt.datetime]):
    """The moment of a record, in UTC, as ISO 8601 text of one width so that it sorts."""

    impl = String(32)
    cache_ok = True

    def process_bind_param(self, value: dt.datetime | None, _dialect: Dialect) -> str | None:
        """Text in UTC."""
        return (
            None if value is None else value.astimezone(dt.UTC).isoformat(timespec="microseconds")
        )

    def process_result_value(self, value: str | None, _dialect: Dialect) -> dt.datetime | None:
        """An aware datetime in UTC."""
        return None if value is None else dt.datetime.fromisoformat(value)

"""A text of a calendar, escaped by RFC 5545, 3.3.11.

A module of its own, so that the library is loaded with the first calendar. The library's own text
takes a backslash before an N that somebody typed (`D:\\New`) for a line end.
"""

from icalendar import vText


class CalendarText(vText):
    """A text as it is read back: nothing in it stands for a line end but a line end."""

    def to_ical(self) -> bytes:
        escaped = self.replace("\\", "\\\\").replace(";", r"\;").replace(",", r"\,")
        return escaped.replace("\n", r"\n").encode()

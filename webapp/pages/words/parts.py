"""What the day of a part that is not here rests on, in words."""

import datetime as dt

from webapp.build.build_input import Part
from webapp.build.due_days import Due
from webapp.pages.words import amounts as words


def assumed(part: Part, due: Due, today: dt.date) -> str:
    """ "assumed: ordered Tue 12 May and 14 days of lead time"; empty for a day of arrival."""
    lead = "" if part.lead_days is None else f"{words.days(part.lead_days)} of lead time"
    match due.basis:
        case "arrives":
            return ""
        case "promised":
            return f"assumed: promised {words.day(due.said, today=today)}"
        case "ordered" if part.ordered_on is not None:
            return f"assumed: ordered {words.day(part.ordered_on, today=today)} and {lead}"
        case _:
            return f"assumed: ordered today and {lead}"

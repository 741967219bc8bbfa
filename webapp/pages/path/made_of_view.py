"""What the time until first start is made of, in words."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.by_key import find_by_key
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.as_promised import as_promised_words
from webapp.pages.words.earlier_records import tasks_behind, weeks_behind
from webapp.pages.words.how import How, made_of_how
from webapp.planning.order.made_of import TimePart, made_of

MOST_NAMED = 3
NAMES = {
    "hands": "Hours of your hands",
    "closed": "The shop is closed",
    "part": "Waiting for a part",
    "outside": "Outside work",
    "cure": "Cures and waits",
    "helper": "Waiting for the helper",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeOfLine:
    name: str
    what: str
    days: str
    share: int
    """Of a thousand of the whole, for the width of its bar."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeOfView:
    lines: tuple[MadeOfLine, ...]
    whole: str
    days: str
    as_promised: str
    how: How


def made_of_view(page: PageContext) -> MadeOfView | None:
    """The parts of the time until first start; None where it has no date."""
    parts = made_of(page.build, page.plan) if page.plan is not None else ()
    if not parts or page.plan is None or page.plan.first_start_at is None:
        return None
    whole = sum(part.seconds for part in parts)
    days = [(NAMES[part.kind], words.number(part.days, 1)) for part in parts]
    return MadeOfView(
        lines=tuple(
            MadeOfLine(
                name=NAMES[part.kind],
                what=_what(page, part),
                days=words.number(part.days, 1),
                share=round(1000 * part.seconds / whole),
            )
            for part in parts
        ),
        whole=f"now to {words.day(page.plan.first_start_at, today=page.today)}",
        days=words.number(whole / 86_400, 1),
        as_promised=_as_promised(page, page.plan.first_start_at),
        how=made_of_how(days, words.number(whole / 86_400, 1)),
    )


def _as_promised(page: PageContext, likely: dt.datetime) -> str:
    """The date without the record and without the spread of the draws, and what lies between."""
    at, factors = page.planned.first_start_as_promised().value, page.planned.factors
    if at is None:
        return ""
    own = factors.level.count
    return as_promised_words(
        words.day(at, today=page.today),
        days=(likely.date() - at.date()).days,
        tasks=tasks_behind(own, page.build) if page.build.calibrated else "",
        level=factors.level.factor,
        weeks=weeks_behind(factors.attendance.weeks, page.build) if page.build.attended else "",
        attendance=factors.attendance.mean,
    )


def _what(page: PageContext, part: TimePart) -> str:
    if part.kind == "hands":
        hours = words.tenth_hours(part.seconds / 3600)
        return f"{hours} at your pace, {words.count(len(part.whats), 'task')} of the path"
    if part.kind == "closed":
        return "between your sessions"
    if part.kind == "helper":
        return "until the helper comes"
    names = [_name(page, key) for key in part.whats]
    more = len(names) - MOST_NAMED
    listed = words.listed(names[:MOST_NAMED]) if more <= 0 else ", ".join(names[:MOST_NAMED])
    return listed if more <= 0 else f"{listed} and {more} more"


def _name(page: PageContext, key: str) -> str:
    thing = find_by_key(page.build.tasks, key) or find_by_key(page.build.parts, key)
    return thing.name if thing is not None else key

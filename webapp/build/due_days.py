"""The day on which a part is reckoned with, and what that day rests on."""

import datetime as dt
import math
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import Moment, Part
from webapp.build.moments import date_of

Basis = Literal["arrives", "promised", "ordered", "lead"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """When a part is reckoned to come.

    `on` is what the plan reckons with, never before today; `said` is the day that the basis
    says, so a part that is not here is overdue once `said` has passed.
    """

    on: Moment
    said: Moment
    basis: Basis

    @property
    def assumed(self) -> bool:
        """Whether nobody entered the day of arrival itself."""
        return self.basis != "arrives"


def due_of(part: Part, today: dt.date) -> Due | None:
    """When a part that is not here is reckoned to come; None: nothing says so.

    The day of arrival, else the day promised, else the day ordered and the lead time, else
    today and the lead time.
    """
    said, basis = _entered(part)
    if said is None and part.lead_days is not None:
        said, basis = _after(today, part.lead_days), "lead"
    if said is None:
        return None
    return Due(on=said if date_of(said) >= today else today, said=said, basis=basis)


def said_day(part: Part) -> Moment | None:
    """The day that was entered for a part, whatever day it is today; None: none was."""
    return _entered(part)[0]


def _entered(part: Part) -> tuple[Moment | None, Basis]:
    if part.arrives_on is not None:
        return part.arrives_on, "arrives"
    if part.promised_on is not None:
        return part.promised_on, "promised"
    if part.ordered_on is not None and part.lead_days is not None:
        return _after(part.ordered_on, part.lead_days), "ordered"
    return None, "lead"


def _after(day: dt.date, lead_days: float) -> dt.date:
    """The lead time counts in whole days, rounded up."""
    return day + dt.timedelta(days=math.ceil(lead_days))

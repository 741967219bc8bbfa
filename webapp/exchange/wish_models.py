"""What a build document says of wishes, and of what was decided about them."""

from typing import Any

from pydantic import ConfigDict, Field, model_validator

from webapp.exchange.document_entry import Entry
from webapp.exchange.document_entry import said as _said
from webapp.exchange.document_values import (
    AnyNumber,
    Cost,
    Day,
    Days,
    Hours,
    Key,
    LongText,
    Minute,
    Name,
    Paid,
    TaskHours,
    Way,
)


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
    paid: Paid | None = _said("What was paid of that; below zero: money that came back.")
    parts: list[WishPartEntry] | None = _said("What would have to be bought.", ())
    decision: DecisionEntry | None = _said("Left out as long as it is undecided.")


class WishSizeEntry(Entry):
    """A quick size for wishes."""

    key: Key
    name: Name
    hours: TaskHours

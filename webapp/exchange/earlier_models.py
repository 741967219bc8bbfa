"""The key `earlier_records` of the build document as models."""

from collections.abc import Sequence
from typing import Annotated, Any

from pydantic import Field, PlainValidator

from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.limits import (
    MOST_EARLIER_HOURS,
    MOST_EARLIER_WEEKS,
    MOST_LOG_SQUARES,
    MOST_SETUPS,
    MOST_TASKS,
)
from webapp.exchange.document_entry import Entry, between, many, said, whole_between
from webapp.exchange.document_values import Day, Key, Name, ShortText, YesNo
from webapp.exchange.entry_nouns import nouns
from webapp.exchange.value_readers import read_number, read_whole_number

SummedHours = Annotated[float, PlainValidator(read_number), between(0, MOST_EARLIER_HOURS)]
TaskCount = Annotated[int, PlainValidator(read_whole_number), whole_between(1, MOST_TASKS)]
Worth = Annotated[float, PlainValidator(read_number), between(1, MOST_TASKS)]
LogSquares = Annotated[float, PlainValidator(read_number), between(0, MOST_LOG_SQUARES)]
WeekCount = Annotated[int, PlainValidator(read_whole_number), whole_between(0, MOST_EARLIER_WEEKS)]


class EarlierKindEntry(Entry):
    """Tasks of one kind of work, those that were finished or had outrun their estimate."""

    name: ShortText | None = said("What its setup is called; empty: work without a setup.", "")
    tasks: TaskCount
    actual_hours: SummedHours = Field(description="What they took together.")
    expected_hours: SummedHours = Field(description="What was expected of them together.")
    worth: Worth = Field(description="So many tasks of one size: (sum e)^2 / sum e^2 (Kish 1965).")
    log_squares: LogSquares | None = said(
        "Sum of the squares by which log(actual / expected) of each lies off their mean.", 0
    )


class EarlierRecordEntry(Entry):
    """What an earlier build of the same person showed, as it stood on the day it was taken."""

    key: Key = Field(description="That build's short name, as in its address.")
    name: Name = Field(description="What that build was called.")
    taken_on: Day
    counts: YesNo | None = said("Whether it counts in this build.", True)
    kinds: list[EarlierKindEntry] | None = many("By kind of work.", MOST_SETUPS + 1)
    weeks: WeekCount | None = said("Whole weeks in which something could be worked.", 0)
    workable_hours: SummedHours | None = said("Hours that could be worked in them.", 0)
    worked_hours: SummedHours | None = said("Hours that were.", 0)


def earlier_record_said(*, kinds: Sequence[EarlierKindEntry] = (), **said: Any) -> EarlierRecord:
    """The record of the fields of its entry."""
    return EarlierRecord(**said, kinds=nouns(EarlierKind, kinds))

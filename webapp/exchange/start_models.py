"""The key `start` of the build document as models, and what they are read into."""

import datetime as dt
import re
from collections.abc import Sequence
from functools import partial
from typing import Annotated, Any

from pydantic import PlainValidator, WithJsonSchema

from webapp.build.first_start import (
    CHOICES,
    ENDINGS,
    OPENED_HOW,
    RUN_KINDS,
    CheckChange,
    Choice,
    Ending,
    EngineRun,
    FirstStart,
    LicensedPaper,
    OpenedHow,
    Opening,
    OwnCheck,
    RunKind,
    SetAside,
    Signature,
    SignedReading,
    StartAnswer,
    StopLine,
)
from webapp.build.limits import (
    MOST_CHECK_CHANGES,
    MOST_ENGINE_RUNS,
    MOST_OPENINGS,
    MOST_OWN_CHECKS,
    MOST_READINGS,
    MOST_SIGNATURES,
    MOST_START_ANSWERS,
    MOST_STOP_LINES,
)
from webapp.build.moments import with_offset
from webapp.exchange.document_entry import Entry, many, said
from webapp.exchange.document_values import Day, Key, Keys, LongText, Name, ShortText, YesNo
from webapp.exchange.entry_nouns import nouns, said_of
from webapp.exchange.value_readers import found, one_of, read_number, read_text, refused

_OFFSET = r"(Z|[+-]\d{2}:\d{2}(:\d{2})?)?"
_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?" + _OFFSET)


def read_exact(value: object) -> dt.datetime:
    """A date with a time, to the fraction of a second where it has one, with its offset from UTC.

    One without an offset is of this machine's local clock.
    """
    if isinstance(value, str) and _MOMENT.fullmatch(value):
        try:
            return with_offset(dt.datetime.fromisoformat(value))
        except ValueError:
            raise refused(f"{value} is not a moment in the calendar. Correct it.") from None
    raise refused(f"must be a date and time like 2026-03-02T09:00:05, not {found(value)}.")


def read_reading(value: object) -> float | str:
    """A number, or a level in words."""
    return read_text(value) if isinstance(value, str) else read_number(value)


def _word(words: Sequence[str]) -> PlainValidator:
    return PlainValidator(partial(one_of, words))


Exact = Annotated[
    dt.datetime,
    PlainValidator(read_exact),
    WithJsonSchema({"type": "string", "pattern": f"^{_MOMENT.pattern}$"}),
]
ReadingValue = Annotated[
    float | str, PlainValidator(read_reading), WithJsonSchema({"type": ["number", "string"]})
]
ChoiceWord = Annotated[Choice, _word(CHOICES), WithJsonSchema({"enum": list(CHOICES)})]
HowWord = Annotated[OpenedHow, _word(OPENED_HOW), WithJsonSchema({"enum": list(OPENED_HOW)})]
RunWord = Annotated[RunKind, _word(RUN_KINDS), WithJsonSchema({"enum": list(RUN_KINDS)})]
EndingWord = Annotated[Ending, _word(ENDINGS), WithJsonSchema({"enum": list(ENDINGS)})]


class StartAnswerEntry(Entry):
    """What a question of first start was answered."""

    question: Key
    answer: Name


class ReadingEntry(Entry):
    """A reading as it was typed."""

    name: Name
    unit: ShortText
    value: ReadingValue
    makers: ShortText | None = said("The maker's figure, typed where it lies outside.", "")


class PaperEntry(Entry):
    """The paper of a licensed person."""

    name: Name
    firm: Name
    number: Name
    on: Day


class SignatureEntry(Entry):
    """A check that was signed."""

    key: Key
    check: Key
    at: Exact
    signer: Name
    helper: ShortText | None = said("Who was there with the signer.", "")
    seen: LongText | None = said("What was seen.", "")
    readings: list[ReadingEntry] | None = many("What was read.", MOST_READINGS)
    paper: PaperEntry | None = said("The licensed person's paper.")
    is_tap: YesNo | None = said("Tapped while it ran.", False)
    taken_back_at: Exact | None = said("It was signed by mistake.")


class SetAsideEntry(Entry):
    """A check that is set aside."""

    key: Key
    check: Key
    at: Exact
    name: Name
    reason: LongText


class CheckChangeEntry(Entry):
    """What a person made of a check of the list."""

    check: Key
    at: Exact
    name: ShortText
    words: LongText | None = said("Other words for it.", "")
    choice: ChoiceWord | None = said("Left out, or taken in of what is offered.")


class OwnCheckEntry(Entry):
    """A check of the person's own."""

    key: Key
    stage: Key
    circuit: Key
    text: LongText
    why: LongText | None = said("Why.", "")
    caution: LongText | None = said("Its caution.", "")


class OpeningEntry(Entry):
    """That something was opened."""

    what: Key
    name: ShortText
    how: HowWord
    at: Exact
    reaches: Keys | None = said("Where it belonged then.", ())


class EngineRunEntry(Entry):
    """A crank, and the run that came of it."""

    key: Key
    kind: RunWord
    begun_at: Exact
    fired_at: Exact | None = said("When it fired.")
    ended_at: Exact | None = said("When it stood still.")
    ending: EndingWord | None = said("How it ended.")
    abort: ShortText | None = said("Which of the list's aborts it was.", "")
    cause: LongText | None = said("What it was, and what was done.", "")
    cause_at: Exact | None = said("When that was written.")
    ran_at: Exact | None = said("When somebody said “it ran”.")


class StopLineEntry(Entry):
    """What is typed into the lines that say how to stop it."""

    name: Name
    words: LongText


class FirstStartEntry(Entry):
    """What was signed, opened and cranked on the way to first start."""

    answers: list[StartAnswerEntry] | None = many("Answers.", MOST_START_ANSWERS)
    signatures: list[SignatureEntry] | None = many("Signatures.", MOST_SIGNATURES)
    set_asides: list[SetAsideEntry] | None = many("Checks set aside.", MOST_SIGNATURES)
    changes: list[CheckChangeEntry] | None = many("Changed checks.", MOST_CHECK_CHANGES)
    own_checks: list[OwnCheckEntry] | None = many("Checks of one's own.", MOST_OWN_CHECKS)
    openings: list[OpeningEntry] | None = many("What was opened.", MOST_OPENINGS)
    runs: list[EngineRunEntry] | None = many("Cranks and runs.", MOST_ENGINE_RUNS)
    stop_lines: list[StopLineEntry] | None = many("How to stop it.", MOST_STOP_LINES)


def first_start_of(entry: FirstStartEntry | None) -> FirstStart:
    """What was signed and done, as far as it could be read."""
    if entry is None:
        return FirstStart()
    return FirstStart(
        answers=nouns(StartAnswer, entry.answers),
        signatures=nouns(_signature, entry.signatures),
        set_asides=nouns(SetAside, entry.set_asides),
        changes=nouns(CheckChange, entry.changes),
        own_checks=nouns(OwnCheck, entry.own_checks),
        openings=nouns(Opening, entry.openings),
        runs=nouns(EngineRun, entry.runs),
        stop_lines=nouns(StopLine, entry.stop_lines),
    )


def _signature(
    *, readings: Sequence[ReadingEntry] = (), paper: PaperEntry | None = None, **said: Any
) -> Signature:
    return Signature(
        **said,
        readings=nouns(SignedReading, readings),
        paper=None if paper is None else LicensedPaper(**said_of(paper)),
    )

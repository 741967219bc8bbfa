"""The tables of first start: answers, signatures, what was set aside, opened and cranked."""

import datetime as dt
import json
from dataclasses import asdict
from typing import Any, ClassVar

from sqlalchemy import UniqueConstraint
from sqlmodel import Field

from webapp.build.first_start import (
    CheckChange,
    EngineRun,
    LicensedPaper,
    Opening,
    OwnCheck,
    SetAside,
    Signature,
    SignedReading,
    StartAnswer,
    StopLine,
)
from webapp.storage.tables.column_types import StoredExact, StoredText
from webapp.storage.tables.noun import Columns, Fields, Noun, column
from webapp.storage.tables.row import OwnedRow, owned


class StartAnswerRow(OwnedRow, table=True):
    """An answer to a question of first start."""

    __tablename__ = "start_answers"
    __table_args__ = owned("start_answers", UniqueConstraint("build_id", "question"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("question",)
    question: str = Field(sa_type=StoredText)
    answer: str = Field(sa_type=StoredText)


class SignatureRow(OwnedRow, table=True):
    """A check that was signed; its readings are a list in one column, they are never asked for."""

    __tablename__ = "signatures"
    __table_args__ = owned("signatures", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    check_key: str = Field(sa_type=StoredText)
    at: dt.datetime = Field(sa_type=StoredExact)
    signer: str = Field(sa_type=StoredText)
    helper: str = Field(sa_type=StoredText)
    seen: str = Field(sa_type=StoredText)
    readings: str = Field(sa_type=StoredText)
    paper_name: str | None = Field(sa_type=StoredText)
    paper_firm: str | None = Field(sa_type=StoredText)
    paper_number: str | None = Field(sa_type=StoredText)
    paper_on: dt.date | None
    is_tap: bool
    taken_back_at: dt.datetime | None = Field(sa_type=StoredExact)


class SetAsideRow(OwnedRow, table=True):
    """A check that is set aside, with its reason."""

    __tablename__ = "checks_set_aside"
    __table_args__ = owned("checks_set_aside", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    check_key: str = Field(sa_type=StoredText)
    at: dt.datetime = Field(sa_type=StoredExact)
    name: str = Field(sa_type=StoredText)
    reason: str = Field(sa_type=StoredText)


class CheckChangeRow(OwnedRow, table=True):
    """What a person made of a check of the list."""

    __tablename__ = "check_changes"
    __table_args__ = owned("check_changes", UniqueConstraint("build_id", "check_key"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("check_key",)
    check_key: str = Field(sa_type=StoredText)
    at: dt.datetime = Field(sa_type=StoredExact)
    name: str = Field(sa_type=StoredText)
    words: str = Field(sa_type=StoredText)
    choice: str | None = Field(sa_type=StoredText)


class OwnCheckRow(OwnedRow, table=True):
    """A check of the person's own."""

    __tablename__ = "own_checks"
    __table_args__ = owned("own_checks", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    stage: str = Field(sa_type=StoredText)
    circuit: str = Field(sa_type=StoredText)
    text: str = Field(sa_type=StoredText)
    why: str = Field(sa_type=StoredText)
    caution: str = Field(sa_type=StoredText)


class OpeningRow(OwnedRow, table=True):
    """That something was opened; what it reaches is a list in one column."""

    __tablename__ = "openings"
    __table_args__ = owned("openings")
    IDENTITY: ClassVar[tuple[str, ...]] = ("what", "at")
    what: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    how: str = Field(sa_type=StoredText)
    at: dt.datetime = Field(sa_type=StoredExact)
    reaches: str = Field(sa_type=StoredText)


class EngineRunRow(OwnedRow, table=True):
    """A crank, and the run that came of it."""

    __tablename__ = "engine_runs"
    __table_args__ = owned("engine_runs", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    kind: str = Field(sa_type=StoredText)
    begun_at: dt.datetime = Field(sa_type=StoredExact)
    fired_at: dt.datetime | None = Field(sa_type=StoredExact)
    ended_at: dt.datetime | None = Field(sa_type=StoredExact)
    ending: str | None = Field(sa_type=StoredText)
    abort: str = Field(sa_type=StoredText)
    cause: str = Field(sa_type=StoredText)
    cause_at: dt.datetime | None = Field(sa_type=StoredExact)
    ran_at: dt.datetime | None = Field(sa_type=StoredExact)


class StopLineRow(OwnedRow, table=True):
    """What is typed into the lines that say how to stop it."""

    __tablename__ = "stop_lines"
    __table_args__ = owned("stop_lines", UniqueConstraint("build_id", "name"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("name",)
    name: str = Field(sa_type=StoredText)
    words: str = Field(sa_type=StoredText)


def _readings(text: str) -> tuple[SignedReading, ...]:
    return tuple(SignedReading(**said) for said in json.loads(text))


def _readings_text(readings: tuple[SignedReading, ...]) -> tuple[str]:
    return (json.dumps([asdict(one) for one in readings], ensure_ascii=False),)


def _paper(name: Any, firm: Any, number: Any, on: Any) -> LicensedPaper | None:
    return None if on is None else LicensedPaper(name=name, firm=firm, number=number, on=on)


def _paper_values(paper: LicensedPaper | None) -> tuple[Any, ...]:
    return (paper.name, paper.firm, paper.number, paper.on) if paper else (None,) * 4


START_ANSWERS = Noun(StartAnswerRow, Fields(StartAnswerRow, StartAnswer), at="start.answers")
SIGNATURES = Noun(
    SignatureRow,
    Fields(
        SignatureRow,
        Signature,
        column("check", "check_key"),
        Columns(field="readings", columns=("readings",), into=_readings, out_of=_readings_text),
        Columns(
            field="paper",
            columns=("paper_name", "paper_firm", "paper_number", "paper_on"),
            into=_paper,
            out_of=_paper_values,
        ),
    ),
    at="start.signatures",
)
SET_ASIDES = Noun(
    SetAsideRow, Fields(SetAsideRow, SetAside, column("check", "check_key")), at="start.set_asides"
)
CHECK_CHANGES = Noun(
    CheckChangeRow,
    Fields(CheckChangeRow, CheckChange, column("check", "check_key")),
    at="start.changes",
)
OWN_CHECKS = Noun(OwnCheckRow, Fields(OwnCheckRow, OwnCheck), at="start.own_checks")
OPENINGS = Noun(
    OpeningRow,
    Fields(
        OpeningRow,
        Opening,
        Columns(
            field="reaches",
            columns=("reaches",),
            into=lambda text: tuple(json.loads(text)),
            out_of=lambda reaches: (json.dumps(reaches, ensure_ascii=False),),
        ),
    ),
    at="start.openings",
)
ENGINE_RUNS = Noun(EngineRunRow, Fields(EngineRunRow, EngineRun), at="start.runs")
STOP_LINES = Noun(StopLineRow, Fields(StopLineRow, StopLine), at="start.stop_lines")
START_NOUNS = (
    *(START_ANSWERS, SIGNATURES, SET_ASIDES, CHECK_CHANGES),
    *(OWN_CHECKS, OPENINGS, ENGINE_RUNS, STOP_LINES),
)

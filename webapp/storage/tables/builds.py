"""The table of builds."""

import datetime as dt
import json
from typing import ClassVar

from sqlalchemy import ForeignKeyConstraint
from sqlmodel import Field

from webapp.build.build_input import DEFAULT_CONFIDENCE, BuildInput, RunningClock, StarterAnswer
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.shop import Shop
from webapp.build.units import ShopUnits
from webapp.storage.tables.column_types import StoredMoment, StoredStamp, StoredText
from webapp.storage.tables.noun import Columns, Fields, Values, column
from webapp.storage.tables.row import Row


class BuildRow(Row, table=True):
    """A build: its heading, its goal and the shop's people and setups that are out.

    setup_out_key : the one last used; `setups_out_beside` : the others, as a list of keys
    """

    __tablename__ = "builds"
    __table_args__ = (
        ForeignKeyConstraint(
            ["id", "first_start_key"], ["tasks.build_id", "tasks.key"], use_alter=True
        ),
        ForeignKeyConstraint(
            ["id", "setup_out_key"], ["setups.build_id", "setups.key"], use_alter=True
        ),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("slug",)
    # said aloud, because a column that is part of a foreign key is not numbered by itself
    id: int | None = Field(default=None, primary_key=True, sa_column_kwargs={"autoincrement": True})
    slug: str = Field(sa_type=StoredText, unique=True)
    revision: int = 1
    changed_at: dt.datetime = Field(sa_type=StoredStamp)
    name: str = Field(sa_type=StoredText)
    vehicle: str = Field(sa_type=StoredText)
    first_start_key: str | None = Field(default=None, sa_type=StoredText)
    starts_on: dt.date | None = None
    wanted_by: dt.date | None = None
    people: int = 1
    setup_out_key: str | None = Field(default=None, sa_type=StoredText)
    setups_out_beside: str = Field(default="[]", sa_type=StoredText)
    confidence: float = DEFAULT_CONFIDENCE
    calibrated: bool = True
    attended: bool = True
    kept_order: str = Field(default="[]", sa_type=StoredText)
    kept_on: dt.date | None = None
    kept_setup_first: bool = False
    house_rules: str = Field(default=json.dumps(HOUSE_RULES), sa_type=StoredText)
    end_name: str = Field(default="", sa_type=StoredText)
    starter_list: str = Field(default="", sa_type=StoredText)
    starter_answers: str = Field(default="[]", sa_type=StoredText)
    starter_left_out: str = Field(default="[]", sa_type=StoredText)
    units: ShopUnits = Field(default="metric", sa_type=StoredText)
    currency: str = Field(default="", sa_type=StoredText)
    money_limit: float | None = None
    bench_task_key: str | None = Field(default=None, sa_type=StoredText)
    bench_since: dt.datetime | None = Field(default=None, sa_type=StoredMoment)
    bench_gets_out: bool = False


def _keys_as_text(field: str) -> Columns:
    """A field of keys, as a list in one column of text."""
    return Columns(
        field=field,
        columns=(field,),
        into=lambda text: tuple(json.loads(text)),
        out_of=lambda keys: (json.dumps(keys, ensure_ascii=False),),
    )


HEADING = Fields(
    BuildRow,
    BuildInput,
    column("first_start", "first_start_key"),
    _keys_as_text("kept_order"),
    _keys_as_text("house_rules"),
    _keys_as_text("starter_left_out"),
    Columns(
        field="starter_answers",
        columns=("starter_answers",),
        into=lambda text: tuple(
            StarterAnswer(question=question, answer=answer) for question, answer in json.loads(text)
        ),
        out_of=lambda said: (
            json.dumps([[each.question, each.answer] for each in said], ensure_ascii=False),
        ),
    ),
    Columns(
        field="on_bench",
        columns=("bench_task_key", "bench_since", "bench_gets_out"),
        into=lambda task, since, gets_out: (
            task and RunningClock(task=task, since=since, gets_out=gets_out)
        ),
        out_of=lambda clock: (
            (clock.task, clock.since, clock.gets_out) if clock else (None, None, False)
        ),
    ),
)
"""What the row of a build says of the build, but for its slug and revision."""
SHOP_HEADING = Fields(
    BuildRow,
    Shop,
    Columns(
        field="setups_out",
        columns=("setups_out_beside", "setup_out_key"),
        into=lambda beside, last: (*json.loads(beside), *([] if last is None else [last])),
        out_of=lambda out: (json.dumps(out[:-1], ensure_ascii=False), out[-1] if out else None),
    ),
)
"""What it says of the shop."""


def heading_values(build: BuildInput) -> Values:
    """What the row of the build itself says, but for its slug and revision."""
    return {**HEADING.values(build), **SHOP_HEADING.values(build.shop)}

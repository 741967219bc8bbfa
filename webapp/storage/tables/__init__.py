"""The tables of the database. Rows stay inside storage; callers get frozen dataclasses.

One module a noun: its tables, and how the fields of its things stand in their columns.
"""

from webapp.storage.tables.builds import BuildRow
from webapp.storage.tables.data_sheet import DATA_SHEET_NOUNS
from webapp.storage.tables.devices import INSTALLATION
from webapp.storage.tables.earlier_records import EARLIER_KINDS, EARLIER_RECORDS
from webapp.storage.tables.first_start import START_NOUNS
from webapp.storage.tables.noun import Noun
from webapp.storage.tables.own_lists import OwnListRow
from webapp.storage.tables.parts import PART_SERVES, PARTS
from webapp.storage.tables.photographs import PHOTOGRAPHS, PhotographRow
from webapp.storage.tables.plumbing import PLUMBING_NOUNS
from webapp.storage.tables.record import LOG, LOOKED_AT, JournalRow, SnapshotRow
from webapp.storage.tables.rooms import ROOM_HOLDS, ROOMS
from webapp.storage.tables.row import Row
from webapp.storage.tables.sharing import SharingRow
from webapp.storage.tables.shop import (
    DAY_EXCEPTIONS,
    DAY_RANGE_SESSIONS,
    DAY_RANGES,
    DAY_SESSIONS,
    GIVEN_AWAY,
    LATER_WEEK_SESSIONS,
    LATER_WEEKS,
    SETUPS,
    STATIONS,
    WEEK_SESSIONS,
)
from webapp.storage.tables.tasks import (
    DEPENDENCIES,
    MEASURES,
    STATION_NEEDS,
    STEPS,
    SUBSYSTEMS,
    TASKS,
    TaskRow,
)
from webapp.storage.tables.wishes import WISH_PARTS, WISH_SIZES, WISHES

__all__ = [
    "INSTALLATION",
    "NOUNS",
    "BuildRow",
    "JournalRow",
    "OwnListRow",
    "PhotographRow",
    "Row",
    "SharingRow",
    "SnapshotRow",
    "TaskRow",
]

NOUNS: tuple[Noun, ...] = (
    SUBSYSTEMS,
    SETUPS,
    STATIONS,
    TASKS,
    STATION_NEEDS,
    STEPS,
    MEASURES,
    DEPENDENCIES,
    PARTS,
    PART_SERVES,
    WEEK_SESSIONS,
    DAY_EXCEPTIONS,
    DAY_SESSIONS,
    LATER_WEEKS,
    LATER_WEEK_SESSIONS,
    DAY_RANGES,
    DAY_RANGE_SESSIONS,
    GIVEN_AWAY,
    LOG,
    PHOTOGRAPHS,
    WISH_SIZES,
    WISHES,
    WISH_PARTS,
    LOOKED_AT,
    EARLIER_RECORDS,
    EARLIER_KINDS,
    ROOMS,
    ROOM_HOLDS,
    *DATA_SHEET_NOUNS,
    *START_NOUNS,
    *PLUMBING_NOUNS,
)
"""Every table that holds a part of a build, what is referred to before what refers to it; only
tasks and wishes refer to each other. References are checked at commit."""

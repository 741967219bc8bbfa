"""The database of a command, and what the person must know of it."""

import sys

from webapp.settings import Settings
from webapp.storage.database import Database


def open_database(settings: Settings) -> Database:
    """The database of the settings. Raises UnusableDatabaseError."""
    database = Database.open(settings.data_file)
    announce_copy(database)
    return database


def announce_copy(database: Database) -> None:
    """Say on standard error where the file was copied to before its schema was changed."""
    if database.copy_before_upgrade is not None:
        print(
            "The data file was brought to the form that this version of the program needs. As it "
            f"was before, it is kept in {database.copy_before_upgrade}.",
            file=sys.stderr,
        )

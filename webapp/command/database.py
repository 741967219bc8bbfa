"""The database of a command, or a refusal that says why it cannot be used."""

from webapp.command.refusal import RefusedError
from webapp.settings import Settings
from webapp.storage.database import Database, UnusableDatabaseError


def open_database(settings: Settings) -> Database:
    """The database of the settings. Raises RefusedError."""
    try:
        return Database.open(settings.data_file)
    except UnusableDatabaseError as error:
        raise RefusedError([str(error)]) from None

"""Settings of a command, or a refusal that says what is wrong with the environment."""

from pathlib import Path

from webapp.command.refusal import RefusedError
from webapp.settings import Settings


def settings_of(
    *, data: Path | None = None, host: str | None = None, port: int | None = None
) -> Settings:
    """Settings from flags and environment. Raises RefusedError."""
    try:
        return Settings.from_environment(data_file=data, host=host, port=port)
    except ValueError as error:
        raise RefusedError([str(error)]) from None

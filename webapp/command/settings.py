"""Settings of a command, or a refusal that says what is wrong with the environment."""

from pathlib import Path
from typing import Any

from webapp.command.refusal import RefusedError
from webapp.settings import Settings


def settings_of(*, data: Path | None = None, **flags: Any) -> Settings:
    """Settings from flags and environment; `flags` as those of `Settings.from_environment`.

    Raises RefusedError.
    """
    try:
        return Settings.from_environment(data_file=data, **flags)
    except ValueError as error:
        raise RefusedError([str(error)]) from None

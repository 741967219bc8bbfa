"""The figures of a decision as JSON text in one column: read as a whole, never searched."""

import datetime as dt
import json
from dataclasses import asdict

from webapp.build.build_input import WayFigures


def figures_text(figures: tuple[WayFigures, ...]) -> str:
    """The figures of every way, moments as ISO 8601."""
    return json.dumps([asdict(each) for each in figures], default=dt.datetime.isoformat)


def figures_of_text(text: str) -> tuple[WayFigures, ...]:
    """What `figures_text` wrote."""
    return tuple(
        WayFigures(
            **each | {name: _moment(each[name]) for name in ("likely", "safe")},
        )
        for each in json.loads(text)
    )


def _moment(text: str | None) -> dt.datetime | None:
    return None if text is None else dt.datetime.fromisoformat(text)

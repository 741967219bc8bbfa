"""The figures of a decision as JSON text in one column: read as a whole, never searched."""

import datetime as dt
import json
from dataclasses import asdict

from webapp.build.wish import WayFigures


def figures_text(figures: tuple[WayFigures, ...]) -> str:
    """The figures of every way, moments as ISO 8601."""
    return json.dumps([asdict(each) for each in figures], default=dt.datetime.isoformat)


FORMER_NAMES = {"safe": "firm", "likely_days": "move_days"}
"""What the figures were called when they were written."""
NO_LONGER_KEPT = ("safe_days", "firm_days")


def figures_of_text(text: str) -> tuple[WayFigures, ...]:
    """What `figures_text` wrote, by whatever version of the program."""
    found = []
    for each in json.loads(text):
        figures = {
            FORMER_NAMES.get(name, name): value
            for name, value in each.items()
            if name not in NO_LONGER_KEPT
        }
        moments = {name: _moment(figures[name]) for name in ("likely", "firm")}
        found.append(WayFigures(**figures | moments))
    return tuple(found)


def _moment(text: str | None) -> dt.datetime | None:
    return None if text is None else dt.datetime.fromisoformat(text)

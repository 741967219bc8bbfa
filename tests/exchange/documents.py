"""Small build documents for tests, as plain JSON values. All of it is invented."""

import json
from typing import Any

Document = dict[str, Any]


def small_document(**changes: Any) -> Document:
    """A document without a fault: two tasks, a part, a shop; `changes` at the top level."""
    return {
        "format": "keyturn-build",
        "version": 1,
        "build": {"name": "The Heron", "now": "2026-02-02T09:00", "first_start": "start"},
        "shop": {
            "people": 1,
            "week": [{"day": "sat", "opens": "09:00", "closes": "17:00", "helper": True}],
            "days": [],
            "setups": [{"key": "tig", "name": "TIG welder out", "hours": 0.75}],
            "stations": [{"key": "lift", "name": "Lift", "count": 1}],
        },
        "subsystems": [{"key": "air", "name": "Air", "medium": "air", "order": 1}],
        "tasks": [small_task("weld", name="Weld bracket"), small_task("start", hours=0)],
        "dependencies": [{"before": "weld", "after": "start"}],
        "parts": [{"key": "p1", "name": "Bracket", "for": ["weld"], "arrived": True}],
        "wishes": [],
        "log": [],
    } | changes


def small_task(key: str, **fields: Any) -> Document:
    """A task of two hours."""
    return {"key": key, "name": key.capitalize(), "hours": 2} | fields


def text_of(document: object) -> str:
    return json.dumps(document)

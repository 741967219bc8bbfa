"""Moves a whole build in time by weeks, so that its shop week stays as it is."""

import datetime as dt
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

from webapp.build.build_input import BuildInput


def weeks_to_present(then: dt.datetime, now: dt.datetime) -> int:
    """Whole weeks from the week (Monday to Sunday) of `then` to that of `now`."""
    return (_monday(now) - _monday(then)).days // 7


def shift_weeks(build: BuildInput, weeks: int) -> BuildInput:
    """The build with every date in it moved by so many weeks, later where positive."""
    moved: BuildInput = _moved(build, dt.timedelta(weeks=weeks))
    return moved


def _moved(value: Any, by: dt.timedelta) -> Any:
    """The value with its dates moved; the very same where it has none, as most pieces have."""
    if isinstance(value, dt.date):
        return value + by
    if isinstance(value, tuple):
        parts = tuple(_moved(part, by) for part in value)
        is_moved = any(new is not old for new, old in zip(parts, value, strict=True))
        return parts if is_moved else value
    kind: Any = type(value)
    changed = {}
    for name in _names_of(kind):
        old = getattr(value, name)
        new = _moved(old, by)
        if new is not old:
            changed[name] = new
    return replace(value, **changed) if changed else value


@cache
def _names_of(kind: type) -> tuple[str, ...]:
    """The fields of a dataclass; of anything else none."""
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else ()


def _monday(moment: dt.datetime) -> dt.date:
    return moment.date() - dt.timedelta(days=moment.weekday())

"""Moves a whole build in time by weeks, so that its shop week stays as it is."""

import datetime as dt
from dataclasses import fields, is_dataclass, replace
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
    if isinstance(value, dt.date):
        return value + by
    if isinstance(value, tuple):
        return tuple(_moved(part, by) for part in value)
    if is_dataclass(value) and not isinstance(value, type):
        names = (field.name for field in fields(value))
        return replace(value, **{name: _moved(getattr(value, name), by) for name in names})
    return value


def _monday(moment: dt.datetime) -> dt.date:
    return moment.date() - dt.timedelta(days=moment.weekday())

"""Moves a whole build in time by weeks, so that its shop week stays as it is."""

import datetime as dt
from dataclasses import replace
from typing import TypeVar

from webapp.build.build_input import BuildInput, Moment, Wish

AnyMoment = TypeVar("AnyMoment", dt.date, dt.datetime, Moment)


def weeks_to_present(then: dt.datetime, now: dt.datetime) -> int:
    """Whole weeks from the week (Monday to Sunday) of `then` to that of `now`."""
    return (_monday(now) - _monday(then)).days // 7


def shift_weeks(build: BuildInput, weeks: int) -> BuildInput:
    """The build with every date in it moved by so many weeks, later where positive."""
    by = dt.timedelta(weeks=weeks)

    def moved(moment: AnyMoment | None) -> AnyMoment | None:
        return None if moment is None else moment + by

    return replace(
        build,
        now=build.now + by,
        starts_on=moved(build.starts_on),
        wanted_by=moved(build.wanted_by),
        kept_on=moved(build.kept_on),
        shop=replace(
            build.shop,
            days=tuple(replace(day, date=day.date + by) for day in build.shop.days),
        ),
        tasks=tuple(
            replace(
                task,
                begun_on=moved(task.begun_on),
                finished_on=moved(task.finished_on),
                set_aside_on=moved(task.set_aside_on),
            )
            for task in build.tasks
        ),
        parts=tuple(
            replace(
                part,
                arrives_on=moved(part.arrives_on),
                promised_on=moved(part.promised_on),
                ordered_on=moved(part.ordered_on),
            )
            for part in build.parts
        ),
        wishes=tuple(_moved_wish(wish, by) for wish in build.wishes),
        log=tuple(replace(entry, on=entry.on + by) for entry in build.log),
    )


def _moved_wish(wish: Wish, by: dt.timedelta) -> Wish:
    decision = wish.decision
    if decision is not None:
        decision = replace(
            decision,
            decided_on=decision.decided_on + by,
            figures=tuple(
                replace(
                    figures,
                    likely=figures.likely and figures.likely + by,
                    safe=figures.safe and figures.safe + by,
                )
                for figures in decision.figures
            ),
        )
    return replace(wish, logged_on=wish.logged_on + by, decision=decision)


def _monday(moment: dt.datetime) -> dt.date:
    return moment.date() - dt.timedelta(days=moment.weekday())

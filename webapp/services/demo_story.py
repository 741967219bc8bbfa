"""The demo build's story: weeks lived through the verbs, so that no moment knows of a later one.

`seed_data/heron/baseline.json` is the build as it was frozen. `story.json` is what happened since,
each line with its date and in the words of the build document: the log, what happened to parts
and tasks, and the wishes with what was decided. Every Sunday evening the week is closed.
`plumbing.json` is what is plumbed in the end: each moment has of it what was done by then.
"""

import datetime as dt
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from webapp.build.build_input import BuildInput, LogEntry, Moment
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.moments import is_after
from webapp.build.plumbing import Plumbing, Port
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time_units import DAY
from webapp.build.verbs.steps import with_step_ticked
from webapp.build.verbs.wish_decisions import accept
from webapp.build.verbs.work import Stop, begun_build, finished_build, stopped_build
from webapp.build.wish import Wish
from webapp.exchange.build_document import read_document

NOON = dt.time(12)
IDEAS_AT = dt.time(19)
"""When wishes are logged and decided: after the shop, before the week is closed."""
CLOSING_AT = dt.time(20)
SUNDAY = 6

Change = Callable[[BuildInput], BuildInput]


@dataclass(frozen=True, slots=True, kw_only=True)
class LivedStory:
    """The baseline, the build at the close of every week since, and the build as it is now."""

    baseline: BuildInput
    weeks: tuple[BuildInput, ...]
    present: BuildInput


def lived(baseline: bytes, story: bytes, plumbing: bytes = b"{}") -> LivedStory:
    """Live a story from its baseline; RuntimeError where the two have faults.

    `plumbing` is the key `plumbing` of a build document, and what its parts bring.
    """
    told = json.loads(story)
    build, wishes = _read(_plumbed(json.loads(baseline), json.loads(plumbing)), told)
    plumbed = build.plumbing
    build = replace(build, plumbing=plumbing_by(plumbed, build.now))
    now, present = build.now, dt.datetime.fromisoformat(told["now"])
    states: list[BuildInput] = []
    changes = sorted(_changes(build, told, wishes), key=lambda change: change[0])
    for until in (*_closings(build.now, present), present):
        state = states[-1] if states else build
        for at, change in changes:
            if now <= at < until:
                state = change(replace(state, now=at))
        now = until
        states.append(replace(state, now=until, plumbing=plumbing_by(plumbed, until)))
    return LivedStory(baseline=build, weeks=tuple(states[:-1]), present=states[-1])


def plumbing_by(plumbing: Plumbing, moment: dt.datetime) -> Plumbing:
    """What is plumbed with only that in it which was done by a moment."""

    def done(on: Moment | None) -> Moment | None:
        return None if on is None or is_after(on, moment) else on

    def with_stop(port: Port) -> Port:
        if port.stop is None or done(port.stop.on) == port.stop.on:
            return port
        return replace(port, stop=replace(port.stop, on=None))

    return replace(
        plumbing,
        components=tuple(
            replace(one, ports=tuple(map(with_stop, one.ports))) for one in plumbing.components
        ),
        circuits=tuple(replace(one, tested_on=done(one.tested_on)) for one in plumbing.circuits),
        runs=tuple(
            replace(
                run,
                cut_on=done(run.cut_on),
                fitted_on=done(run.fitted_on),
                clamped_on=done(run.clamped_on),
                clamps=run.clamps if done(run.clamped_on) else (),
            )
            for run in plumbing.runs
        ),
    )


def _plumbed(document: dict[str, Any], plumbing: Mapping[str, Any]) -> dict[str, Any]:
    """The baseline with what is plumbed in it, and what its parts bring for that."""
    if not plumbing:
        return document
    brought = plumbing["parts"]
    parts = [
        {**part, "plumbing": brought[part["key"]]} if part["key"] in brought else part
        for part in document["parts"]
    ]
    return {**document, "parts": parts, "plumbing": plumbing["plumbing"]}


def _read(document: dict[str, Any], told: Mapping[str, Any]) -> tuple[BuildInput, tuple[Wish, ...]]:
    """The baseline, and the wishes of the whole story as the build document reads them."""
    frozen_at = dt.datetime.fromisoformat(document["build"]["now"])
    seen = {**document, "build": {**document["build"], "now": told["now"]}}
    text = json.dumps({**seen, "wishes": told["wishes"]})
    build, faults = read_document(text, now=frozen_at)
    if build is None or faults:
        raise RuntimeError(f"the story of the demo: {[fault.text for fault in faults]}")
    return replace(build, now=frozen_at, wishes=()), build.wishes


def _closings(since: dt.datetime, until: dt.datetime) -> Iterator[dt.datetime]:
    """Every Sunday evening after `since`, up to `until`."""
    day = since.date() + DAY
    while (closing := dt.datetime.combine(day, CLOSING_AT)) <= until:
        if day.weekday() == SUNDAY:
            yield closing
        day += DAY


def _changes(
    build: BuildInput, told: Mapping[str, Any], wishes: tuple[Wish, ...]
) -> Iterator[tuple[dt.datetime, Change]]:
    yield from _bench(build, [_log_entry(**line) for line in told["log"]])
    for line in told["happened"]:
        said = {name: value for name, value in line.items() if name != "on"}
        yield _at(line["on"], NOON), partial(_happened, **said)
    for wish in wishes:
        bare = replace(wish, decision=None)
        yield dt.datetime.combine(wish.logged_on, IDEAS_AT), partial(_logged, bare)
        if wish.decision is not None:
            yield dt.datetime.combine(wish.decision.decided_on, IDEAS_AT), partial(_decided, wish)


def _bench(build: BuildInput, log: list[LogEntry]) -> Iterator[tuple[dt.datetime, Change]]:
    """Work begins when the shop opens, and one task follows on another."""
    ends: dict[dt.date, dt.datetime] = {}
    for entry in log:
        begins = ends.get(entry.on) or _opening(build, entry.on)
        ends[entry.on] = begins + dt.timedelta(hours=entry.bench_hours)
        yield begins, partial(begun_build, key=entry.task, now=begins)
        yield ends[entry.on], partial(_stopped, entry=entry)


def _opening(build: BuildInput, day: dt.date) -> dt.datetime:
    minute = min(session.opens_minute for session in sessions_on(build, day))
    return dt.datetime.combine(day, dt.time()) + dt.timedelta(minutes=minute)


def _stopped(build: BuildInput, *, entry: LogEntry) -> BuildInput:
    left = entry.left or 0.0
    stop = Stop(
        outcome="stopped" if left else "finished",
        worked_hours=entry.hours,
        left_hours=left,
        setup_hours=entry.setup_hours,
    )
    return stopped_build(build, entry.task, stop, on=entry.on, now=build.now)


def _happened(build: BuildInput, *, part: str = "", task: str = "", **said: Any) -> BuildInput:
    """What happened to a part, or to a task away from the bench; `said` are its fields."""
    fields = {name: _value(name, value) for name, value in said.items()}
    if part:
        changed = replace(get_by_key(build.parts, part), **fields)
        return replace(build, parts=replaced_by_key(build.parts, changed))
    for text in fields.pop("ticked", ()):
        build = with_step_ticked(build, task, text, done=True)
    if fields.pop("sent", False):
        build = begun_build(build, task, now=build.now)
    if fields.pop("back", False):
        build = finished_build(build, task, now=build.now)
    edited = replace(get_by_key(build.tasks, task), **fields)
    return replace(build, tasks=replaced_by_key(build.tasks, edited))


def _logged(wish: Wish, build: BuildInput) -> BuildInput:
    return replace(build, wishes=(*build.wishes, wish))


def _decided(wish: Wish, build: BuildInput) -> BuildInput:
    assert wish.decision is not None
    return accept(build, get_by_key(build.wishes, wish.key), wish.decision)


def _log_entry(*, on: str, **said: Any) -> LogEntry:
    return LogEntry(on=dt.date.fromisoformat(on), **said)


def _value(name: str, value: Any) -> Any:
    return dt.date.fromisoformat(value) if name.endswith("_on") else value


def _at(day: str, time: dt.time) -> dt.datetime:
    return dt.datetime.combine(dt.date.fromisoformat(day), time)

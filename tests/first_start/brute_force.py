"""What is open before the key, worked out the plain way from the raw JSON of the list.

Written apart from `webapp.first_start` and sharing nothing with it: no parsed list, no events, no
memory. A fact is looked for by going through everything again. Rules are those of the list's page,
by their numbers.
"""

import datetime as dt
import json
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.services.seed_builds import SEED_DATA

RAW = json.loads((SEED_DATA / "first_start" / "checks.json").read_text("utf-8"))
KEY_STAGE = {"engine": "start", "electric": "power", "boat": "start"}
OFF_AND_ON = {
    "engine": ("battery_off", "battery_on", ("dry", "fluids")),
    "electric": ("lv_off", "lv_on", ("dry",)),
    "boat": ("power_off", "battery_on", ("dry", "fluids")),
}
DECIDE = {
    "engine": ("fuel", "fuel_system", "control", "gearbox", "air_stop"),
    "electric": (),
    "boat": ("fuel_system", "exhaust", "raw_pump", "water"),
}
Hole = tuple[str, str]


class Plain:
    """One build at one moment."""

    def __init__(self, build: BuildInput, name: str, at: dt.datetime) -> None:
        self.build, self.name, self.at = build, name, at
        self.raw: dict[str, Any] = RAW["lists"][name]
        self.stage_of = {
            check["key"]: stage["key"] for stage in self.raw["stages"] for check in stage["checks"]
        }
        self.by_key = {
            check["key"]: check for stage in self.raw["stages"] for check in stage["checks"]
        }
        self.answers = {one.question: one.answer for one in build.start.answers}

    def is_kept(self, key: str) -> bool:
        check = self.by_key[key]
        for question, keep in check["when"].items():
            if self.answers.get(question, keep[0]) not in keep:
                return False
        choice = {one.check: one.choice for one in self.build.start.changes}.get(key)
        if choice == "left out" and check["waive"] != "never":
            return False
        at_first = check["waive"] == "never" or check["reading"] or check["caution"]
        return bool(at_first) or choice == "taken in"

    def moments(self, key: str) -> list[dt.datetime]:
        """When the check was signed or set aside as the list asks for it."""
        check, found = self.by_key[key], []
        for one in self.build.start.signatures:
            if one.check != key or one.at > self.at or one.taken_back_at is not None:
                continue
            if check["who"] == "licensed" and one.paper is None:
                continue
            if check["who"] == "helper" and not one.helper:
                continue
            found.append(one.at)
        for aside in self.build.start.set_asides:
            if aside.check == key and aside.at <= self.at and check["waive"] == "reason":
                found.append(aside.at)
        return sorted(found)

    def is_set_aside(self, key: str, when: dt.datetime) -> bool:
        return any(one.check == key and one.at == when for one in self.build.start.set_asides)

    def is_opened(self, key: str, since: dt.datetime) -> bool:
        """Whether something that the check names was opened at or after a moment."""
        falls = {one.partition("=")[0] for one in self.by_key[key]["falls"]}
        for opening in self.build.start.openings:
            if since <= opening.at <= self.at:
                for reach in opening.reaches:
                    if reach in falls or reach.removeprefix("said:") in falls:
                        return True
        return False

    def has_fallen(self, key: str, when: dt.datetime) -> bool:
        if self.is_opened(key, when):
            return True
        for fall in self.by_key[key]["falls"]:
            if fall.startswith("more than "):
                days = int(fall.split()[2])
                if self.at > when + dt.timedelta(days=days):
                    return True
            if fall.startswith("check:"):
                other = fall.removeprefix("check:")
                if self.is_kept(other):
                    signed = self.moments(other)
                    if not signed or signed[-1] > when:
                        return True
                    if self.has_fallen(other, signed[-1]) or self.has_lapsed(other, signed[-1]):
                        return True
        off, on, stages = OFF_AND_ON[self.name]
        if key == on:  # rule 9
            if any(one > when for one in self.moments(off)):
                return True
            for early in self.by_key:
                if self.stage_of[early] in stages and early != off:
                    for opening in self.build.start.openings:
                        was = any(one <= opening.at for one in self.moments(early))
                        is_since = when <= opening.at <= self.at
                        if was and is_since and self._names(early, opening.reaches):
                            return True
                    if self._is_over(early, when):
                        return True
        return False

    def _is_over(self, key: str, when: dt.datetime) -> bool:
        """Whether the days of a kept check ran out after a moment."""
        signed = self.moments(key)
        for fall in self.by_key[key]["falls"]:
            if fall.startswith("more than ") and signed and self.is_kept(key):
                over = signed[-1] + dt.timedelta(days=int(fall.split()[2]))
                if when < over < self.at:
                    return True
        return False

    def _names(self, key: str, reaches: tuple[str, ...]) -> bool:
        falls = {one.partition("=")[0] for one in self.by_key[key]["falls"]}
        return any(one in falls or one.removeprefix("said:") in falls for one in reaches)

    def has_lapsed(self, key: str, when: dt.datetime) -> bool:
        lasts = self.by_key[key]["lasts"]
        aborted = [
            run.ended_at
            for run in self.build.start.runs
            if run.ending == "aborted" and run.ended_at is not None
        ]
        if lasts == "this attempt" and any(when <= at <= self.at for at in aborted):
            return True
        check = self.by_key[key]
        fired = [run.fired_at for run in self.build.start.runs if run.fired_at is not None]
        of_a_run = (check["every_run"] and check["engine_running"]) or key == "fire_watch"
        if of_a_run and any(when < at <= self.at for at in fired):
            return True
        return lasts != "until opened" and when.date() != self.at.date()

    def is_met(self, key: str) -> bool:
        """Rules 1 to 5: signed and standing, set aside with a reason, dropped, or spent well."""
        if not self.is_kept(key):
            return True
        signed = self.moments(key)
        if not signed or self.has_fallen(key, signed[-1]):
            return False
        check = self.by_key[key]
        later = check["superseded_by"]
        if later and any(
            one.check == later and one.at > signed[-1] and one.taken_back_at is None
            for one in self.build.start.signatures
        ):
            return self.is_met(later)
        if self.has_lapsed(key, signed[-1]):
            return False
        if self.is_set_aside(key, signed[-1]):
            return True
        last = [
            one
            for one in self.build.start.signatures
            if one.check == key and one.at == signed[-1] and one.taken_back_at is None
        ]
        typed = {reading.name for reading in last[-1].readings}
        return all(reading["name"] in typed for reading in check["reading"])

    def shuts(self, key: str) -> set[str]:
        """Rules 1 and 4: the checks of earlier stages that keep one from being signed.

        What only lapsed shuts none but those of the day; what was tapped in the run that goes on
        gets its figures after the stop. The watch for fire is held by none: it is signed wherever
        a run ended, and shuts what comes after it like any other check.
        """
        found: set[str] = set()
        if key == "fire_watch":
            return found
        running = [r.fired_at for r in self.build.start.runs if r.fired_at and not r.ended_at]
        for stage in self.raw["stages"]:
            if stage["key"] == self.stage_of[key]:
                break
            for check in stage["checks"]:
                other = check["key"]
                if self.is_met(other):
                    continue
                signed = self.moments(other)
                stood = bool(signed) and not self.has_fallen(other, signed[-1])
                lapsed = stood and self.has_lapsed(other, signed[-1])
                if lapsed and not self.by_key[key]["needs_place_today"]:
                    continue
                if stood and not lapsed and running and signed[-1] >= running[0]:
                    continue
                found.add(other)
        return found

    def asks(self, question: str) -> bool:
        """Whether a check hangs on a question that no other answer drops."""
        for check in self.by_key.values():
            if question in check["when"]:
                others = {q: a for q, a in check["when"].items() if q != question}
                if all(self.answers.get(q, keep[0]) in keep for q, keep in others.items()):
                    return True
        return False

    def holes(self) -> set[Hole]:
        found: set[Hole] = set()
        for stage in self.raw["stages"]:
            if stage["key"] == KEY_STAGE[self.name]:
                break
            for check in stage["checks"]:
                if not self.is_met(check["key"]):
                    found.add(("check", check["key"]))
        for question in DECIDE[self.name]:
            if question not in self.answers and self.asks(question):
                found.add(("answer", question))
        typed = {one.name for one in self.build.start.stop_lines if one.words.strip()}
        kind = self.name
        if kind == "engine":
            kind = "petrol" if self.answers.get("fuel") == "petrol" else "diesel"
        for line in RAW["day"]["always_in_sight"][kind]["typed"]:
            if line not in typed:
                found.add(("stop line", line))
        for run in self.build.start.runs:
            if run.ending == "aborted" and not (run.abort and run.cause):
                found.add(("shut", run.key))
                break
        return found | self._of_the_build()

    def _of_the_build(self) -> set[Hole]:
        """Tasks before first start, parts for them; circuits whose one run is not clamped."""
        found: set[Hole] = set()
        before = {self.build.first_start}
        while True:
            more = {one.before for one in self.build.dependencies if one.after in before}
            if more <= before:
                break
            before |= more
        before.discard(self.build.first_start)
        for task in self.build.tasks:
            if task.key in before and task.finished_on is None:
                found.add(("task", task.key))
        for part in self.build.parts:
            if not part.arrived and before.intersection(part.serves):
                found.add(("part", part.key))
        for run in self.build.plumbing.runs:
            if run.clamped_on is None:
                found.add(("circuit", run.from_port.partition(".")[0]))
        return found

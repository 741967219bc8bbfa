"""What every verb of first start begins with: the list as it stands, and what it refuses."""

import datetime as dt
from dataclasses import dataclass, replace
from typing import Any

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited, Lost
from webapp.build.first_start import SetAside, Signature
from webapp.build.limits import LEAST_SECONDS_BETWEEN_SIGNATURES
from webapp.first_start.check_list import CheckList
from webapp.first_start.evaluation import start_standing
from webapp.first_start.names import is_a_name, same_person
from webapp.first_start.standing import CheckStanding, StartStanding


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """A build, what stands of its list at the moment of a verb, and the version the form had."""

    build: BuildInput
    standing: StartStanding
    at: dt.datetime
    version: str | None

    @property
    def stale(self) -> Fault | None:
        """What is said where the list is not what the form showed; then nothing is written."""
        if self.version is None or self.version == self.standing.version:
            return None
        return Fault(
            kind="first start",
            key="",
            field="version",
            text="The list is not what this page showed: something was signed, answered or "
            "opened since. Nothing was written. Look at what changed, then sign.",
        )


def desk_of(build: BuildInput, checks: CheckList, at: dt.datetime, version: str | None) -> Desk:
    """What a verb begins with; `version` None only where a form needs none ("Stopped")."""
    standing = start_standing(build, checks, at=at)
    return Desk(build=build, standing=standing, at=at, version=version)


def refused(build: BuildInput, *faults: Fault) -> Edited[str]:
    """Nothing is written, and why."""
    return Edited(build=build, made="", faults=faults, is_refused=True)


def lost(build: BuildInput, kind: str, key: str) -> Edited[str]:
    """What the verb was about is not there."""
    return Edited(build=build, made="", lost=Lost(kind=kind, key=key))


def check_fault(key: str, field: str, text: str) -> Fault:
    """A fault beside a field of a check's form."""
    return Fault(kind="check", key=key, field=field, text=text)


def with_start(build: BuildInput, **fields: Any) -> BuildInput:
    """The build with something of first start changed."""
    return replace(build, start=replace(build.start, **fields))


def name_fault(key: str, field: str, name: str) -> Fault | None:
    """What is said where nobody signs."""
    if is_a_name(name):
        return None
    return check_fault(key, field, "Nobody can be told by that name. Type the name of who signs.")


def too_soon(build: BuildInput, key: str, name: str, at: dt.datetime) -> Fault | None:
    """What is said to somebody who signs again before he can have looked."""
    said: list[Signature | SetAside] = [*build.start.signatures, *build.start.set_asides]
    for one in said:
        who = one.signer if isinstance(one, Signature) else one.name
        seconds = abs((at - one.at).total_seconds())
        if same_person(who, name) and seconds < LEAST_SECONDS_BETWEEN_SIGNATURES:
            count = int(seconds)
            after = "1 second" if count == 1 else f"{count} seconds"
            text = f"{after} after the last one: look first, then sign."
            return check_fault(key, "at", text)
    return None


def blocked_faults(one: CheckStanding, *kinds: str) -> tuple[Fault, ...]:
    """What stands in the way of a check, each by its name; of these kinds, where any are named."""
    return tuple(
        check_fault(one.check.key, "", f"{_BLOCKED[each.kind]}: {each.name}")
        for each in one.blocked_by
        if not kinds or each.kind in kinds
    )


_BLOCKED = {
    "check": "This comes first",
    "task": "This task is not finished",
    "circuit": "This circuit is open",
    "stage": "An earlier stage is not through",
    "answer": "This question has no answer yet",
    "current on": "The current is on. This comes first",
    "helper": "Not alone",
    "stop line": "Type first, for the lines that say how to stop it",
    "shut": "Nothing is cranked now",
    "watch": "It is watched from the last stop",
}


def next_key(prefix: str, keys: set[str]) -> str:
    """The first of "s1", "s2", ... that is free."""
    number = len(keys) + 1
    while f"{prefix}{number}" in keys:
        number += 1
    return f"{prefix}{number}"

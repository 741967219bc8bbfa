"""Who signs, and with what: the helper, the licensed paper, what was seen, what was opened."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import Fault
from webapp.build.first_start import LicensedPaper
from webapp.first_start.check_list import Check
from webapp.first_start.desk import Desk, check_fault
from webapp.first_start.list_facts import OPENED_SINCE
from webapp.first_start.names import is_a_name, same_person
from webapp.first_start.opened import event_of
from webapp.first_start.typed_readings import TypedReading

BARE_YES = frozenset(("yes", "y", "ok", "okay", "done", "x", "-", "ja", "oui", "si", "seen"))
"""What says nothing of what was seen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signing:
    """What is typed with a signature.

    opened : what was opened since the last one, by circuits of the list or as the list says it;
        () is "nothing"; only for the check that asks it
    saw_paper : "I saw this paper"
    """

    signer: str
    helper: str = ""
    seen: str = ""
    readings: tuple[TypedReading, ...] = ()
    paper: LicensedPaper | None = None
    saw_paper: bool = False
    opened: tuple[str, ...] | None = None


def helper_faults(check: Check, typed: Signing) -> Iterator[Fault]:
    """A helper who is here, and is not the one who signs."""
    if not is_a_name(typed.helper):
        yield check_fault(
            check.key, "helper", "Not alone: type the name of the helper who is here."
        )
    elif same_person(typed.helper, typed.signer):
        text = "Not alone: the helper is somebody other than the one who signs."
        yield check_fault(check.key, "helper", text)


def seen_faults(check: Check, typed: Signing) -> Iterator[Fault]:
    """What was seen, in words: a yes says nothing."""
    said = typed.seen.strip().strip(".!").casefold()
    if check.key != OPENED_SINCE and (len(said) < 2 or said in BARE_YES):
        yield check_fault(check.key, "seen", "Say what was seen, or where: a yes says nothing.")


def paper_faults(desk: Desk, check: Check, typed: Signing) -> Iterator[Fault]:
    """The four fields of a licensed paper, seen, not the signer's, no older than the work."""
    paper, key = typed.paper, check.key
    if not typed.saw_paper:
        yield check_fault(key, "saw_paper", "Sign only what you saw: tick that you saw this paper.")
    if paper is None:
        text = "Type the four of the paper: name, firm or licence, number, date."
        yield check_fault(key, "paper", text)
        return
    for field, words, value in (
        ("paper_name", "the name on the paper", paper.name),
        ("paper_firm", "the firm or licence", paper.firm),
        ("paper_number", "the number of the paper", paper.number),
    ):
        if not value.strip():
            yield check_fault(key, field, f"Type {words}.")
    if same_person(paper.name, typed.signer):
        text = "The name on the paper is that of the licensed person, never the signer's own."
        yield check_fault(key, "paper_name", text)
    if paper.on > desk.at.date():
        yield check_fault(key, "paper_on", "The paper is dated in the future. Correct the date.")
    opened = _last_opening(desk, check)
    if opened is not None and paper.on < opened.date():
        yield check_fault(
            key,
            "paper_on",
            f"The paper is older than what was opened on {opened:%Y-%m-%d}. "
            "It takes one from after that.",
        )


def _last_opening(desk: Desk, check: Check) -> dt.datetime | None:
    found = [
        one.at
        for one in desk.build.start.openings
        if one.at <= desk.at and event_of(desk.standing.checks, one).hits(check)
    ]
    return max(found, default=None)


def opened_faults(desk: Desk, typed: Signing) -> Iterator[Fault]:
    """What was opened since: named, or said to be nothing."""
    if typed.opened is None:
        text = "Name what was opened since the last signature, or say that nothing was."
        yield check_fault(OPENED_SINCE, "opened", text)
        return
    known = {circuit for circuit, _ in desk.standing.checks.groups}
    known.update(desk.standing.checks.named_falls)
    for name in typed.opened:
        if name not in known:
            yield check_fault(OPENED_SINCE, "opened", f"The list has nothing called {name}.")

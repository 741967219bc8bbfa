"""Sentences of First start: what stands of a check, by what it fell, what is in its way.

No sentence here says more than what somebody signed or what is known to be open.
"""

import datetime as dt
from collections.abc import Mapping

from webapp.build.first_start import Signature, SignedReading
from webapp.first_start.check_list import Check, Wanted
from webapp.first_start.records import Fallen
from webapp.first_start.standing import CheckStanding
from webapp.pages.words import amounts as words

LOCAL_CODES = "Local codes and licensed practice come first."
"""Word for word behind every caution."""
ROAD = "Not on a road before the inspection, the papers and the insurer."
WATER = "Not beyond the berth before the surveyor and the insurer have written."
IT_RAN = {"electric": "It drove"}
"""What is said once it has; of the other lists "It ran"."""
DID_IT = {"electric": "Did it drive, and stop the normal way?"}
WITHOUT_PAGE = {"electric": "if it was switched on or drove without this page"}
WHO = {
    "you": "You sign it.",
    "helper": "You sign it, with a helper who is here.",
    "licensed": "Licensed people do it; you sign that you saw the paper.",
}
TAPPED_BEFORE = "Signed already: the other device pressed first."
NOT_TAKEN = "Not taken: another device pressed first."
"""Where it runs there is room for no more."""
NEVER_ASIDE = "Never set aside: it drops out only through an answer."
QUESTIONS: Mapping[str, str] = {
    "fuel": "Fuel",
    "fuel_system": "How the fuel gets in",
    "turbo": "Turbo",
    "intercooler": "Intercooler",
    "control": "What governs the engine",
    "gearbox": "Gearbox",
    "driven_by": "Driven by",
    "steering": "Help for the steering",
    "servo": "Vacuum servo of the brakes",
    "ac": "Refrigerant circuit",
    "compressor": "Its compressor",
    "fan": "Fan",
    "air_stop": "What shuts the air off",
    "oil_filter": "Oil filter",
    "stood_long": "The engine stood for years",
    "earth": "Earth side of the battery",
    "volts": "Volts of the system",
    "water": "Cooling water on the day",
    "drive": "Drive",
    "exhaust": "Exhaust",
    "raw_pump": "Raw water pump",
    "cooling": "Cooling",
    "gas_aboard": "Cooking gas aboard",
    "blower": "Blower of the engine room",
}
_HOW = {
    "begun": "was begun",
    "logged": "was worked on",
    "edited": "was changed",
    "deleted": "was taken out",
    "added": "was added",
    "reopened": "was opened again",
    "not here": "is not here any more",
    "answered": "was answered anew",
    "said": "was opened",
    "copied": "came with a copy of the data",
    "aborted": "made it fall after a stop",
    "cranked": "was cranked",
    "check": "does not stand, or was signed since",
}
_RAN_OUT = {
    "day": "It lasts one day",
    "attempt": "The attempt is over",
    "run": "It ran since",
}


def it_ran(kind: str) -> str:
    """What is pressed and told once it ran, by the list of a build."""
    return IT_RAN.get(kind, "It ran")


def did_it_run(kind: str) -> str:
    """The question before that."""
    return DID_IT.get(kind, "Did it run, and stop the normal way?")


def ran_without_page(kind: str) -> str:
    """When "Stopped" is pressed though nothing was turned on this page."""
    return WITHOUT_PAGE.get(kind, "if it was cranked or ran without this page")


def question(key: str) -> str:
    """What a question of the list is called."""
    return QUESTIONS.get(key, words.sentence(key.replace("_", " ")))


def moment(at: dt.datetime, *, today: dt.date) -> str:
    """A day with its time: "Sat 2 May 09:10"."""
    return f"{words.day(at, today=today)} {at:%H:%M}"


def with_local_codes(caution: str) -> str:
    """A caution, and behind it always the sentence of local codes."""
    return caution if not caution or LOCAL_CODES in caution else f"{caution} {LOCAL_CODES}"


def state_words(one: CheckStanding, *, today: dt.date) -> str:
    """What became of a check, in one line."""
    signature = one.signature
    match one.state:
        case "stands" | "figures missing" if signature is not None:
            said = signed_words(signature, today=today)
            if one.state == "figures missing":
                return f"{said}; its figures are still to be typed"
            return f"{said}; asked anew before the next run" if one.asks_again else said
        case "fallen" | "lapsed" if one.fallen is not None:
            return fallen_words(one.fallen, one.state, today=today)
        case "spent":
            return "spent: what undoes it was signed since"
        case "set aside" if one.set_aside is not None:
            aside = one.set_aside
            at = moment(aside.at, today=today)
            return f"set aside by {aside.name}, {at}: {aside.reason}"
        case "dropped" if one.dropped_by is not None:
            return f"dropped by the answer to “{question(one.dropped_by)}”"
        case "offered":
            return "offered, not taken in"
        case "left out":
            return "left out"
    return "not signed"


def signed_words(signature: Signature, *, today: dt.date) -> str:
    """Who signed and when, with helper, paper and readings."""
    said = f"signed by {signature.signer}, {moment(signature.at, today=today)}"
    if signature.helper:
        said += f", with {signature.helper}"
    paper = signature.paper
    if paper is not None:
        said += f"; paper seen: {paper.name}, {paper.firm}, no. {paper.number}"
        said += f", {words.day(paper.on, today=today)}. The paper says so, this page does not"
    if signature.readings:
        said += f"; {', '.join(map(reading_words, signature.readings))}"
    if signature.seen:
        said += f"; seen: {signature.seen}"
    return said


def reading_words(reading: SignedReading) -> str:
    """A reading as it was signed; with the maker's figure where that was typed."""
    value = f"{reading.value:g}" if isinstance(reading.value, float) else str(reading.value)
    said = f"{reading.name} {value} {reading.unit}"
    return f"{said} (the maker's figure is {reading.makers})" if reading.makers else said


def fallen_words(fallen: Fallen, state: str, *, today: dt.date) -> str:
    """By what a signature fell or ran out, and when."""
    at = moment(fallen.at, today=today)
    if state == "lapsed":
        return f"ran out: {_RAN_OUT.get(fallen.how, 'its time is over')}, {at}"
    if fallen.how == "days":
        return f"the signature fell: {fallen.name} days were over on {at}"
    how = _HOW.get(fallen.how, "was opened")
    return f"the signature fell: {fallen.name} {how}, {at}"


def range_words(wanted: Wanted, volts: str | None) -> str:
    """The unit and the usual range of a reading; the maker's figure comes first."""
    low, high = wanted.bounds(volts)
    usual = wanted.usual
    if wanted.doubles_at_24_volts and volts == "24":
        ends = [f"{end:g}" for end in (low, high) if end is not None]
        usual = f"{' to '.join(ends)} at 24 V"
    return f"{wanted.unit}; usual {usual}; the maker's figure comes first"


def hangs_on(check: Check, names: Mapping[tuple[str, str], str]) -> str:
    """What a check hangs on; `names` are what things are called, by kind and key."""
    said = []
    for need in check.needs:
        if need.kind == "earlier stages":
            said.append("everything in the stages before")
        else:
            kind = f"{need.kind} " if need.kind in ("task", "circuit") else ""
            name = names.get((need.kind, need.key), need.key.replace("_", " ")).rstrip(".")
            said.append(f"{kind}“{name}”" + (f" or {need.or_else}" if need.or_else else ""))
    return f"Hangs on: {', '.join(said)}." if said else ""


BLOCKED = {
    "check": "This comes first",
    "task": "This task is not finished",
    "circuit": "This circuit is open",
    "stage": "An earlier stage is not through. First there",
    "answer": "This question has no answer yet",
    "current on": "The current is on. This comes first",
    "helper": "Not alone",
    "stop line": "Type first, for the lines that say how to stop it",
    "shut": "Nothing is cranked now",
    "watch": "It is watched from the last stop",
}
HOLES = {
    "check": "Checks",
    "task": "Tasks",
    "part": "Parts",
    "circuit": "Circuits",
    "not tested": "Circuits to be tested",
    "answer": "Questions",
    "stop line": "Lines that say how to stop it",
    "shut": "What shuts the start",
    "fluid": "Fluids",
}
"""What may be open, by kind; the checks of fluids are told apart from the others."""
SHUT = {
    "running": "It is cranked or running.",
    "abort to name": "It was stopped. What was it, and what was done?",
    "cause to write": "Find out why first: what was it, and what was done?",
    "enough for today": "Enough for today: find it cold. It opens again in the morning.",
    "rest": "The starter rests.",
    "pause": "The starter cools and raw fuel airs out. Meanwhile find out why.",
}

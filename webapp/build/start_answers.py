"""What a build has answered to the questions of first start: asked there, or by its starter list.

A question that both ask is asked once: what the starter list was answered holds. Not known, where
its answer leaves it open (petrol, injected: at the port or direct), the question is asked here.
"""

from collections.abc import Mapping

from webapp.build.build_input import BuildInput

Says = Mapping[tuple[str, str], Mapping[str, str]]
"""Question and answer of a starter list, and what they say to questions of first start."""

_SWAP: Says = {
    ("fuel", "diesel"): {"fuel": "diesel"},
    ("fuel", "injected"): {"fuel": "petrol"},
    ("fuel", "carburettor"): {"fuel": "petrol", "fuel_system": "carburettor"},
    ("turbo", "yes"): {"turbo": "yes"},
    ("turbo", "no"): {"turbo": "no", "intercooler": "none"},
    ("intercooler", "new"): {"intercooler": "new"},
    ("intercooler", "used"): {"intercooler": "used"},
    ("intercooler", "none"): {"intercooler": "none"},
    ("control", "unit_meter"): {"control": "unit"},
    ("control", "unit"): {"control": "unit"},
    ("control", "mechanical"): {"control": "mechanical"},
    ("gearbox", "manual"): {"gearbox": "manual"},
    ("gearbox", "automatic"): {"gearbox": "automatic"},
    ("driven_by", "propshaft"): {"driven_by": "propshaft"},
    ("driven_by", "none"): {"driven_by": "front drive"},
    ("steering", "new_pump"): {"steering": "hydraulic"},
    ("steering", "old_pump"): {"steering": "hydraulic"},
    ("servo", "new"): {"servo": "yes"},
    ("servo", "old"): {"servo": "yes"},
    ("servo", "none"): {"servo": "no"},
    ("ac", "no"): {"ac": "none"},
    ("fan", "electric"): {"fan": "electric"},
    ("fan", "belt"): {"fan": "belt"},
    ("oil_filter", "clears"): {"oil_filter": "where it was"},
    ("oil_filter", "moved"): {"oil_filter": "moved"},
}
_ELECTRIC: Says = {
    ("servo", "vacuum"): {"servo": "yes"},
    ("servo", "other"): {"servo": "no"},
}
_BOAT: Says = {
    ("cooling", "indirect"): {"cooling": "heat exchanger"},
    ("cooling", "raw"): {"cooling": "raw water", "raw_pump": "yes"},
}
_SAID_BY: Mapping[str, Says] = {"swap": _SWAP, "electric": _ELECTRIC, "boat": _BOAT}
LIST_OF: Mapping[str, str] = {"swap": "engine", "electric": "electric", "boat": "boat"}
"""The list of checks of a starter list, by their keys."""


def check_list_key(build: BuildInput) -> str:
    """The key of the list of checks that is a build's: another engine, unless its kind says so."""
    return LIST_OF.get(build.starter_list, "engine")


def starter_says(build: BuildInput) -> dict[str, str]:
    """What the starter list's answers say to questions of first start; the first to say it holds:
    without a turbo there is no intercooler, whatever was answered of it before."""
    says = _SAID_BY.get(build.starter_list, {})
    said: dict[str, str] = {}
    for each in build.starter_answers:
        for question, answer in says.get((each.question, each.answer), {}).items():
            said.setdefault(question, answer)
    return said


def start_answers(build: BuildInput) -> dict[str, str]:
    """Every answer by its question; questions without one are left out."""
    own = {each.question: each.answer for each in build.start.answers}
    return own | starter_says(build)

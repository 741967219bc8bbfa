"""What the trade says of each list beyond its file: where the key is, what a crank is for."""

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.first_start import RunKind
from webapp.first_start.check_list import CheckList, StartQuestion


@dataclass(frozen=True, slots=True, kw_only=True)
class ListFacts:
    """Facts of a list.

    key_stage : the stage in which the key is turned; "nothing known is open" is about those before
    place_stage : the day itself
    current_off : the stages of which nothing is signed while the current is on
    off, on : the checks that take the current away and give it
    helper : the check that names the helper, anew each day
    gates : what has to be free to be signed before a crank or run of that kind begins
    ran : what must stand before "it ran"
    decides : questions without whose answers nothing is turned (rule 6)
    fire_watch : the check that waits for the clock, and is looked at twice
    soak : the check that waits until the heat after a hot stop was watched; "" for none
    charge, charge_look : the check of the first charge, and the look an hour after it; "" for none
    siphon : the check that looks an hour after a stop whether water stood; "" for none
    cold : the check that waits until all is cold again
    after_work : checks that wait on the Bench as tasks once it ran
    """

    key_stage: str
    place_stage: str
    current_off: tuple[str, ...]
    off: str
    on: str
    helper: str
    gates: Mapping[RunKind, str]
    ran: str
    decides: tuple[str, ...]
    fire_watch: str
    cold: str
    after_work: tuple[str, ...]
    soak: str = ""
    siphon: str = ""
    charge: str = ""
    charge_look: str = ""


_ENGINE = ListFacts(
    key_stage="start",
    place_stage="place",
    current_off=("dry", "fluids"),
    off="battery_off",
    on="battery_on",
    helper="helper_here",
    gates={"prime": "oil_cranked", "start": "cranked"},
    ran="normal_stop",
    decides=("fuel", "fuel_system", "control", "gearbox", "air_stop"),
    fire_watch="fire_watch",
    cold="cold_now",
    after_work=("levels_again", "clamps_again", "torque_again"),
    soak="hot_stop",
)
_ELECTRIC = ListFacts(
    key_stage="power",
    place_stage="place",
    current_off=("dry",),
    off="lv_off",
    on="lv_on",
    helper="helper_at_stop",
    gates={"power": "stays_still", "spin": "spin_slow", "drive": "first_roll"},
    ran="first_roll",
    decides=(),
    fire_watch="watch_pack",
    cold="cold_look",
    after_work=("cold_look", "firm_second_look"),
    charge="first_charge",
    charge_look="watched_after_charge",
)
_BOAT = ListFacts(
    key_stage="start",
    place_stage="place",
    current_off=("dry", "fluids"),
    off="power_off",
    on="battery_on",
    helper="helper_here",
    gates={"prime": "oil_cranked", "start": "cranked"},
    ran="normal_stop",
    decides=("fuel_system", "exhaust", "raw_pump", "water"),
    fire_watch="fire_watch",
    cold="levels_again",
    after_work=("levels_again",),
    soak="hot_stop",
    siphon="no_siphon",
)
_FACTS = {"engine": _ENGINE, "electric": _ELECTRIC, "boat": _BOAT}
OPENED_SINCE = "opened_since"
"""The check without which the day does not open, in every list."""
ENDS_THE_DAY = frozenset(("fire", "fire_boat", "injected", "pack_smokes", "shocked"))
"""Aborts after which nothing is started again that day."""


def facts_of(checks: CheckList) -> ListFacts:
    """The facts of a list."""
    return _FACTS[checks.key]


def asked_questions(checks: CheckList, answers: Mapping[str, str]) -> tuple[StartQuestion, ...]:
    """The questions on which a check hangs that no answer to another question drops."""
    asked = set[str]()
    for check in checks.checks:
        for question, _ in check.when:
            others = {key: said for key, said in answers.items() if key != question}
            if check.dropped_by(others) is None:
                asked.add(question)
    # volts double readings and earth is said in words: no check hangs on either
    return tuple(one for one in checks.questions if one.key in asked | {"volts", "earth"})

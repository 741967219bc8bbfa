"""The usual subsystems: offered where a build has none, as the starter list has them."""

import json
from dataclasses import replace
from pathlib import Path

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import Subsystem
from webapp.build.usual_subsystems import USUAL_SUBSYSTEMS, subsystems_offered, usual_named

SWAP = Path(__file__).parents[2] / "seed_data" / "starter" / "swap.json"


def test_they_are_those_of_the_starter_list_in_its_order() -> None:
    listed = json.loads(SWAP.read_text(encoding="utf-8"))["subsystems"]
    assert [(one.name, one.medium, one.order) for one in USUAL_SUBSYSTEMS] == [
        (one["name"], one["medium"], one["order"]) for one in listed
    ]


def test_a_build_with_subsystems_of_its_own_is_offered_those_alone() -> None:
    build = build_of([task("a", 1)], now=MONDAY)
    assert subsystems_offered(build) == USUAL_SUBSYSTEMS
    own = replace(build, subsystems=(Subsystem(key="trim", name="Trim"),))
    assert subsystems_offered(own) == own.subsystems


def test_a_name_is_known_in_any_case() -> None:
    found = usual_named("  heat AND a/c ")
    assert found is not None
    assert found.medium == "gas"
    assert usual_named("Trim") is None

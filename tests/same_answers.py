"""Whether the planner still answers as it did: 200 random pairs of builds, to the second.

`python -m tests.same_answers keep FILE` writes the pairs and what is answered for each;
`python -m tests.same_answers compare FILE` reads the pairs back, asks anew, and ends with exit
status 1 where an answer differs. For changes that shall change nothing.
"""

import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, seed, settings

from tests.build.builds import MONDAY
from tests.planning.bridge.test_bridge import pairs
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document
from webapp.exchange.document_writer import write_document
from webapp.exchange.plan_document import plan_document
from webapp.pages.words.bridge import item_name, no_answer_words, order_words
from webapp.pages.words.unplanned import unplanned_words
from webapp.planning.bridge.bridge import Bridge, bridge
from webapp.planning.chances.criticality import criticality_of
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.luck import Luck
from webapp.planning.order.job_order import days_cost, make_plan
from webapp.planning.record.calibration import factors_of

PAIRS = 200
DRAWS = 200


def main(verb: str, file: str) -> int:
    """Keep or compare; the exit status."""
    if verb == "keep":
        kept = [[*pair, _answers(*pair)] for pair in _pairs()]
        Path(file).write_text(json.dumps(kept), "utf-8")
        print(f"{len(kept)} pairs kept")
        return 0
    kept = json.loads(Path(file).read_text("utf-8"))
    differing = 0
    for number, (earlier, later, answers) in enumerate(kept):
        for question, answer in _answers(earlier, later).items():
            if answer != answers[question]:
                differing += 1
                print(f"pair {number}: {question} differs")
    print(f"{len(kept)} pairs compared, {differing} answers differ")
    return 1 if differing else 0


def _pairs() -> list[tuple[str, str]]:
    """The documents of random builds, each with itself some days later."""
    found: list[tuple[str, str]] = []

    @seed(9)
    @settings(
        max_examples=PAIRS, database=None, deadline=None, suppress_health_check=list(HealthCheck)
    )
    @given(pairs())
    def collect(pair: tuple[BuildInput, BuildInput]) -> None:
        found.append((write_document(pair[0]), write_document(pair[1])))

    collect()
    return found[:PAIRS]


def _answers(earlier_text: str, later_text: str) -> dict[str, Any]:
    """Every figure of plan, forecast and bridge as plain JSON values."""
    earlier, later = (_read(text) for text in (earlier_text, later_text))
    plan = make_plan(later)
    forecast = forecast_of(later, Luck(DRAWS), factors=factors_of(later))
    chances = forecast and {
        "dates": [str(forecast.at(share)) for share in (0.1, 0.5, 0.8, 0.9)],
        "criticality": dict(
            sorted(criticality_of(later, Luck(DRAWS), factors=factors_of(later)).items())
        ),
    }
    document = plan_document(plan, days_cost(later), unplanned=unplanned_words(later, plan))
    answers = {
        "document": write_document(later),
        "plan": {**document, "path": [asdict(step) for step in plan.path]},
        "forecast": chances,
        "bridge": _in_words(bridge(earlier, later)),
    }
    return dict(json.loads(json.dumps(answers, default=str)))


def _in_words(way: Bridge) -> dict[str, Any]:
    """A bridge with everything that is said of it."""
    told = asdict(way)
    for share, line in zip(way.shares, told["shares"], strict=True):
        del line["order"]
        line["words"] = "" if share.order is None else order_words(share.order)
        for item, entry in zip(share.items, line["items"], strict=True):
            entry["name"] = item_name(item)
    return {**told, "no_answer": no_answer_words(way)}


def _read(text: str) -> BuildInput:
    build, faults = read_document(text, now=MONDAY)
    assert build is not None, faults
    assert not faults, faults
    return build


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))

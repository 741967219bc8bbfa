"""The command `keyturn plumbing`, run as a person runs it on the demo build with its plumbing."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.exchange.documents import small_document, text_of
from tests.forked_command import keyturn
from tests.plumbing.heron import circuit, heron, heron_document, run
from webapp.exchange.build_document import write_document


def answered(document: dict[str, Any]) -> dict[str, Any]:
    done = keyturn("plumbing", "-", "--json", typed=json.dumps(document))
    assert done.returncode == 0, done.stderr
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer


def test_the_answer_has_its_nine_parts_and_their_fields() -> None:
    answer = answered(heron_document())
    fields = {
        "circuits": "key kind closed complete tested way open litres litres_without",
        "runs": "key state flow joints",
        "joints": "run at how pieces from",
        "held": "task by",
        "cut": "what kerf_mm pieces",
        "nearest": "run at left right buy",
        "checks": (
            "check at circuit answer value unit limit tight_to at_least limit_from missing "
            "inputs also remarks"
        ),
    }
    parts = ("circuits", "runs", "joints", "buy", "cut", "held", "look", "nearest", "checks")
    assert [*answer] == [*parts]
    for name, said in fields.items():
        assert answer[name]
        for one in answer[name]:
            assert [*one] == said.split()
    for line in answer["buy"]:
        assert {*line} in ({"what", "count", "ordered"}, {"what", "metres", "ordered"})
    assert [line["what"] for line in answer["buy"]] == sorted(x["what"] for x in answer["buy"])
    for one in answer["circuits"]:
        for line in one["open"]:
            assert [*line] == [
                "what",
                "why",
                "joint",
                "ends",
                "alike",
                "mend",
                "needs",
                "part",
                "tasks",
            ]


def test_a_faulty_document_ends_with_every_fault_and_nothing_on_standard_output() -> None:
    document = heron_document()
    run(document, "w_top")["pieces"][0]["size"] = 0
    circuit(document, "coolant")["to"] = "engine.pump"
    done = keyturn("plumbing", "-", "--json", typed=json.dumps(document))
    assert done.returncode == 2
    assert done.stdout == ""
    told = done.stderr.splitlines()
    assert len(told) == 2
    assert "w_top" in told[1]
    assert "engine.pump" in told[0]


def test_a_build_without_plumbing_has_an_empty_answer() -> None:
    answer = answered(small_document())
    assert all(part == [] for part in answer.values())
    done = keyturn("plumbing", "-", typed=text_of(small_document()))
    assert done.stdout == "Nothing is plumbed in this build.\n"


def test_without_json_it_says_what_is_open_what_to_buy_and_what_is_held() -> None:
    done = keyturn("plumbing", "-", typed=json.dumps(heron_document()))
    assert done.returncode == 0
    assert "  rad.drain: cap missing" in done.stdout.splitlines()
    assert "  2 x bend 60 90° aluminium  (2 ordered)" in done.stdout.splitlines()
    assert "  Fill and bleed the coolant: coolant open" in done.stdout.splitlines()


@pytest.mark.slow
def test_runs_come_before_what_their_circuit_holds_in_the_plan() -> None:
    """Two tasks without a dependency: the fill is planned behind the run's task all the same."""
    week = [{"day": day, "opens": "09:00", "closes": "17:00"} for day in ("mon", "tue", "wed")]
    document = small_document()
    document["shop"]["week"] = week
    # entered first, so that without the circuit it would be first
    document["tasks"] = [
        {"key": "fill", "name": "Fill", "hours": 2},
        {"key": "fit", "name": "Fit the hose", "hours": 2},
        {"key": "start", "name": "Start", "hours": 1},
    ]
    document["dependencies"] = [{"before": "fill", "after": "start"}]
    document["parts"] = []
    ports = [
        {"name": "in", "end": "bead", "size": 38, "flow": "in"},
        {"name": "out", "end": "bead", "size": 38, "flow": "out"},
    ]
    document["plumbing"] = {
        "components": [
            {"key": key, "name": key, "circuit": "water", "ports": ports} for key in ("pump", "rad")
        ],
        "circuits": [
            {
                "key": "water",
                "name": "Water",
                "medium": "water",
                "from": "pump.out",
                "to": "pump.in",
                "holds": ["fill"],
            }
        ],
        "runs": [
            {"key": "r1", "from": "pump.out", "to": "rad.in", "tasks": ["fit"]},
            {"key": "r2", "from": "rad.out", "to": "pump.in"},
        ],
        "shelf": [],
    }

    def order(build: dict[str, Any]) -> list[str]:
        done = keyturn("plan", "-", "--json", typed=json.dumps(build))
        assert done.returncode == 0, done.stderr
        tasks = json.loads(done.stdout)["tasks"]
        return [task["key"] for task in sorted(tasks, key=lambda task: task["begins"])]

    assert order(document)[:2] == ["fit", "fill"]
    del document["plumbing"]
    assert order(document)[0] == "fill"


def test_an_import_keeps_the_plumbing_and_the_export_gives_it_back(tmp_path: Path) -> None:
    file = str(tmp_path / "data.db")
    done = keyturn("import", "-", "--data", file, typed=json.dumps(heron_document()))
    assert done.returncode == 0, done.stderr
    out = json.loads(keyturn("export", "the-heron", "--data", file).stdout)
    assert out["plumbing"] == json.loads(write_document(heron()))["plumbing"]
    brought = {part["key"]: part.get("plumbing") for part in out["parts"]}
    assert brought == {part["key"]: part.get("plumbing") for part in heron_document()["parts"]}


def test_checks_are_told_with_their_limit_and_where_it_comes_from() -> None:
    found = {(one["check"], one["at"]): one for one in answered(heron_document())["checks"]}
    hot = found["charge_speed", "hot1"]
    assert (hot["answer"], hot["value"], hot["unit"]) == ("ok", 36.5, "m/s")
    assert (hot["limit"], hot["tight_to"], hot["at_least"]) == (61, 91, False)
    assert hot["limit_from"] == "a turbo maker's published note, 200 to 300 ft/s"
    assert {"name": "narrowest bore", "value": 51, "unit": "mm", "from": "drawn"} in hot["inputs"]
    missing = found["air_filter", "airbox"]
    assert missing["answer"] == "not checked: the filter's rated flow is missing"
    assert (missing["value"], missing["missing"]) == (None, ["filter's rated flow"])
    assert found["expansion", "coolant"]["at_least"]


def test_without_json_checks_stand_below_the_rest() -> None:
    done = keyturn("plumbing", "-", typed=json.dumps(heron_document()))
    lines = done.stdout.splitlines()
    (begin,) = (at for at, line in enumerate(lines) if line.startswith("Checks. Steady flow"))
    assert "  air filter, airbox: not checked: the filter's rated flow is missing" in lines[begin:]
    assert (
        "  hose on the hot side, hot1: ok, 139 °C (ok to 160 °C, tight to 180: typed in: hose "
        "seller's page)"
    ) in lines[begin:]


def test_a_fault_of_the_data_sheet_is_told_and_nothing_checked() -> None:
    document = heron_document()
    document["data_sheet"]["figures"][0]["value"] = "steam"
    done = keyturn("plumbing", "-", "--json", typed=json.dumps(document))
    assert (done.returncode, done.stdout) == (2, "")
    assert "it must be one of diesel, petrol. Pick one." in done.stderr

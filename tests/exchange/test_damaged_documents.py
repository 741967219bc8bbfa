"""Damaged documents are answered, whatever was done to them; readings are compared truly."""

import gzip
import json
from pathlib import Path
from random import Random

import pytest

from tests.exchange.damage import damaged
from tests.exchange.same_readings import main, reading_of
from tests.storage.rich_build import RICH_BUILD
from webapp.exchange.build_document import write_document


@pytest.mark.parametrize("luck", range(150))
def test_a_damaged_document_is_answered_with_sentences(luck: int) -> None:
    answer = reading_of(damaged(write_document(RICH_BUILD), Random(luck)))
    faults = answer["faults"]
    # The rich build has one fault of its own: it is told, unless it was the damage that took it.
    assert faults or answer["build"] != "None"
    for *_, text in faults:
        assert text.endswith((".", "?", ")"))
        assert text.encode()


def test_readings_that_were_kept_are_the_same_and_a_difference_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "kept.gz"
    assert main("keep", str(file), "5") == 0
    assert main("compare", str(file)) == 0
    kept = json.loads(gzip.decompress(file.read_bytes()))
    kept[3][1]["faults"].append(["task", "t1", "name", "Task t1: a fault that was told before."])
    file.write_bytes(gzip.compress(json.dumps(kept).encode()))
    assert main("compare", str(file)) == 1
    assert "no more: ['task', 't1', 'name'" in capsys.readouterr().out

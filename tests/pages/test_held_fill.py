"""What a circuit holds is asked about at Begin: told why, and begun where it is meant."""

import html
import re
from dataclasses import replace
from pathlib import Path

from tests.pages.conftest import Shop, opened
from tests.plumbing.heron import heron
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.build.first_start import FirstStart, StartAnswer
from webapp.storage.builds import create_build


def test_a_fill_of_an_open_circuit_is_asked_about_with_what_is_open(shop: Shop) -> None:
    status, text = shop.post("bench/begin", task="coolant_fill")
    text = html.unescape(text)
    assert status == 422
    # With the flow from the thermostat: the upper hose is on hand, the radiator's drain has no cap.
    assert "Coolant is open: Upper hose (to make), Radiator, re-cored drain (cap is not on)" in text
    assert "Begin it all the same?" in text
    assert get_by_key(shop.stored().tasks, "coolant_fill").begun_on is None
    status, _ = shop.post("bench/begin", task="coolant_fill", sure="on")
    assert status == 200
    assert get_by_key(shop.stored().tasks, "coolant_fill").begun_on is not None


def test_work_that_no_circuit_holds_is_begun_without_a_question(shop: Shop) -> None:
    status, text = shop.post("bench/begin", task="coolant_fit")
    assert status == 200
    assert "all the same?" not in text
    assert get_by_key(shop.stored().tasks, "coolant_fit").begun_on is not None


def test_what_circuits_hold_is_a_reason_beside_the_task_three_circuits_by_name(shop: Shop) -> None:
    # Three of the coolant's open things stand in the question above; one of them goes on a line.
    fill = "held by: Coolant is open: Upper hose (to make) and "
    assert fill in shop.page("order?every=1")
    assert "Held by" in (card := shop.page("tasks/coolant_fill"))
    assert "Coolant is open: Upper hose (to make), Radiator, re-cored drain (cap is not on)" in card
    # First start needs ten circuits; the vent of the gearbox is closed. Three are told, six not.
    needed = sum(one.needed_to_start for one in shop.stored().plumbing.circuits)
    assert needed == 10
    first_start = shop.page("tasks/first_start")
    assert "It waits for 6 circuits more" in first_start
    assert "can not be planned" not in first_start
    assert "Held by" not in shop.page("tasks/coolant_fit")


def test_the_bench_waits_for_circuits_where_nothing_else_holds_a_task(tmp_path: Path) -> None:
    plain = heron()
    runs = tuple(replace(run, tasks=()) for run in plain.plumbing.runs)
    build = replace(
        plain,
        dependencies=(),
        parts=tuple(replace(part, arrived=True) for part in plain.parts),
        plumbing=replace(plain.plumbing, runs=runs),
    )
    data_file = tmp_path / "heron.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, build)))
    for shop in opened(data_file):
        bench = shop.page("bench")
        waits = bench[bench.index("<h2>Waiting for</h2>") :]
        assert "Fill and bleed the coolant" in waits
        assert "held by: Coolant is open: Upper hose (to make) and " in waits


def test_a_task_is_made_of_an_open_port_that_has_none(shop: Shop) -> None:
    page = shop.page("plumbing/coolant")
    found = re.search(r'href="([^"]+)">make one of it<span class="hush">: Radiator[^<]*drain', page)
    assert found is not None
    form = html.unescape(shop.client.get(found[1]).text)
    assert 'value="Put on what shuts it: Radiator, re-cored, drain"' in form
    assert "Fill and bleed the coolant" in form[: form.index("Row 2")]


def test_the_list_of_first_start_is_a_reason_beside_it_once_it_is_begun(tmp_path: Path) -> None:
    # One question of the list is answered; nothing of it is signed.
    build = heron()
    assert "Before fluids" not in held_words(tmp_path / "none", build)
    said = FirstStart(answers=(StartAnswer(question="volts", answer="12"),))
    text = held_words(tmp_path / "begun", replace(build, start=said))
    assert "of “Before fluids” not signed, the first: Take the battery's earth lead off" in text


def held_words(folder: Path, build: BuildInput) -> str:
    """The card of first start."""
    folder.mkdir()
    data_file = folder / "keyturn.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, build)))
    (card,) = [shop.page("tasks/first_start") for shop in opened(data_file)]
    return card

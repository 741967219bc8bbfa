"""The plumbing of the demo build worked off, press by press, until nothing is open.

Nothing is known here of what the demo lacks: what a page offers is pressed, from the first line
down, and what it says is missing is bought and said to be here.
"""

import re
from collections.abc import Callable

import httpx

from tests.benchmarks.forms_found import Form, forms_in
from tests.pages.conftest import Shop

CLOSED = "Closed: nothing is open."
MOST_PRESSES = 250
"""It takes 153; a press that does nothing would be pressed for ever."""
ROUNDS = range(2)
"""What is bought by the first list asks for a few things more."""
Part = Callable[[str], str]
"""The part of a page in which is pressed."""


def whole(page: str) -> str:
    return page


def open_list(page: str) -> str:
    """What is open in a circuit; "" where nothing is."""
    found = re.search(r'<ul class="rows open-list">.*?\n</ul>', page, re.S)
    return found[0] if found else ""


def lede(page: str) -> str:
    found = re.search(r'<p class="lede"><b>(.*?)</b>', page)
    assert found is not None
    return found[1]


class Walk:
    """A person on the pages of The Heron, and how often they have pressed."""

    def __init__(self, shop: Shop) -> None:
        self.client, self.presses = shop.client, 0

    def page(self, name: str) -> str:
        answer = self.client.get(f"/builds/the-heron/{name}")
        assert answer.status_code == 200, answer.text
        return answer.text

    def press(self, form: Form) -> httpx.Response:
        """Press; the page that answers tells what it did."""
        self.presses += 1
        assert self.presses < MOST_PRESSES
        answer = self.client.post(form.action, data=form.sent)
        assert answer.status_code == 200, answer.text
        assert 'id="notice"' in answer.text
        return answer

    def press_while_there(self, name: str, words: str, part: Part = whole) -> None:
        """Press the first button of a page whose words begin so, until none is left."""
        page = self.page(name)
        while forms := self.buttons(part(page), words):
            answer = self.press(forms[0])
            is_there = answer.url.path == f"/builds/the-heron/{name}"
            page = answer.text if is_there else self.page(name)

    def buttons(self, page: str, words: str) -> list[Form]:
        """The forms that have one button, whose words begin so."""
        forms = re.findall(r'<form method="post".*?</form>', page, re.S)
        button = re.compile(rf"<button[^>]*>\s*(?:{words})")
        return [forms_in(form)[0] for form in forms if button.search(form)]

    def circuits(self) -> tuple[str, ...]:
        """The pages of the circuits that Plumbing leads to."""
        page = self.page("plumbing")
        heads = re.findall(r'class="circuit-head".*?href="/builds/the-heron/([^"]+)"', page, re.S)
        return tuple(heads)


def test_the_heron_is_worked_off_to_nothing_open_and_a_hose_comes_off_again(shop: Shop) -> None:
    walk = Walk(shop)
    circuits = walk.circuits()
    assert len(circuits) == 11
    assert "1 of 11 is closed; 44 things are open." in lede(walk.page("plumbing"))
    for circuit in circuits:
        walk.press_while_there(circuit, "Put (?:it|them) in", open_list)
    _measure_the_heater_core(walk)
    for _ in ROUNDS:
        _buy_what_lacks(walk)
        for circuit in circuits:
            walk.press_while_there(circuit, "", open_list)
    for circuit in circuits:
        assert (lede(walk.page(circuit)), open_list(walk.page(circuit))) == (CLOSED, "")
    _take_the_upper_hose_off(walk)


def _measure_the_heater_core(walk: Walk) -> None:
    link = re.search(
        r'href="/builds/the-heron/([^"]+)"[^>]*>Type its size',
        open_list(walk.page("plumbing/coolant")),
    )
    assert link is not None
    (form,) = walk.buttons(walk.page(link[1]), "Save the port")
    fields = tuple((n, "16" if n == "port_size" else value) for n, value in form.fields)
    assert fields != form.fields
    walk.press(Form(action=form.action, fields=fields, ticked=form.ticked))


def _buy_what_lacks(walk: Walk) -> None:
    walk.press_while_there("buy-list", "Put what lacks into Parts")
    walk.press_while_there("parts", "It is here")  # which lays it on the shelf


def _take_the_upper_hose_off(walk: Walk) -> None:
    """Off it is one thing that is open; taken out of the drawing it leaves its two ends open."""
    (off,) = walk.buttons(walk.page("runs/w_top"), "It is off again")
    walk.press(off)
    still_open = open_list(walk.page("plumbing/coolant"))
    assert still_open.count("<li") == 1
    assert "Upper hose is cut and not fitted" in still_open
    (remove,) = walk.buttons(walk.page("remove-run?key=w_top"), "Remove the run")
    walk.press(remove)
    ends = re.findall("<b><a[^>]*>(.*?)</a></b>", open_list(walk.page("plumbing/coolant")))
    assert ends == [
        "Engine, 2.2 turbo-diesel, stat out (bead 38)",
        "Radiator, re-cored, top (bead 38)",
    ]
    assert "10 of 11 are closed; 2 things are open." in lede(walk.page("plumbing"))

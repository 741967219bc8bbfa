"""The Heron from all that is open in it to the key and "it ran", by the forms of its pages.

Its circuits are closed by the verbs of plumbing and their tests pressed on their pages: closing
them press by press takes 153 presses, which the walk of the plumbing makes. Of its tasks one of
each subsystem is finished on its page: they all have the same form.
"""

import datetime as dt
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.benchmarks.forms_found import Form, forms_in
from tests.first_start.lists import DIESEL
from tests.pages.first_start.conftest import Bay, BayOf
from tests.pages.first_start.hand import Hand
from tests.plumbing.test_heron import closed
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.build.edited import Edited
from webapp.first_start.standing import StartStanding
from webapp.services.changes import Stored, change
from webapp.services.program import Services
from webapp.services.seed_builds import demo_build


class Presses:
    """Sends forms as they stand on their pages, and counts them by what they were about."""

    def __init__(self, bay: Bay) -> None:
        self.bay, self.count = bay, Counter[str]()

    def form(self, address: str, to: str = "", **holding: str) -> Form:
        """The form of a page that is sent `to` there (to the page itself), with such fields."""
        action = f"/builds/{self.bay.slug}/{to or address}"
        forms = forms_in(self.bay.client.get(f"/builds/{self.bay.slug}/{address}").text)
        wanted = {name: [value] for name, value in holding.items()}
        return next(f for f in forms if f.action == action and wanted.items() <= f.sent.items())

    def send(self, what: str, form: Form, **typed: str | list[str]) -> None:
        """Send it; what is asked beside it is answered with yes, once."""
        typed = {**form.sent, **typed}
        answer = self.bay.client.post(form.action, data=typed, follow_redirects=False)
        if answer.status_code == 422:
            again = next(one for one in forms_in(answer.text) if one.action == form.action)
            asked = {name: box for name, box in again.unticked if (name, box) not in form.unticked}
            assert asked, answer.text
            typed = {**again.sent, **asked}
            answer = self.bay.client.post(form.action, data=typed, follow_redirects=False)
            self.count[f"{what}, asked"] += 1
        assert answer.status_code == 303, (form.action, answer.text)
        self.count[what] += 1
        self.bay.wait(seconds=9)


def services_of(bay: Bay) -> Services:
    services = bay.client.app.state.services
    assert isinstance(services, Services)
    return services


def become(press: Presses, after: Callable[[BuildInput], BuildInput]) -> None:
    """Change the build beside its pages, as they do."""
    bay = press.bay

    def edit(build: BuildInput) -> Edited[None]:
        return Edited(build=after(build), made=None)

    assert isinstance(change(services_of(bay), bay.slug, edit), Stored)


def receive_parts(press: Presses) -> None:
    for part in press.bay.build.parts:
        if not part.arrived:
            press.send("parts", press.form("parts", "part-here", key=part.key))


def close_circuits(press: Presses) -> None:
    become(press, lambda build: replace(build, plumbing=closed()[0].plumbing))
    for key in ("coolant", "fuel", "vacuum"):  # the three that want a test, tests/plumbing
        press.send("tests", press.form(f"plumbing/{key}", "circuit-tested"))


def in_order(build: BuildInput) -> list[str]:
    """The open tasks but first start, each behind what comes before it."""
    left = {task.key for task in build.tasks if task.is_open} - {build.first_start}
    found: list[str] = []
    while left:
        waiting = {link.after for link in build.dependencies if link.before in left}
        found += sorted(left - waiting)
        left &= waiting
    return found


def finish_tasks(press: Presses) -> None:
    """The first task of each subsystem by its form, all others beside, each in its turn."""
    build, today = press.bay.build, press.bay.at.date()
    begun, beside = set[str | None](), set[str]()
    for key in in_order(build):
        subsystem = get_by_key(build.tasks, key).subsystem
        if subsystem in begun:
            beside.add(key)
            continue
        begun.add(subsystem)
        finish_beside(press, beside)
        beside = set()
        press.send("tasks", press.form(f"tasks/{key}"), finished_on=f"{today}", hours_left="")
    finish_beside(press, beside)
    assert press.count["tasks"] == len(begun) > 1


def finish_beside(press: Presses, keys: set[str]) -> None:
    today = press.bay.at.date()

    def with_finished(build: BuildInput) -> BuildInput:
        tasks = (
            replace(task, finished_on=today, hours_left=None) if task.key in keys else task
            for task in build.tasks
        )
        return replace(build, tasks=tuple(tasks))

    become(press, with_finished)


def answer_and_type(press: Presses) -> None:
    form = press.form("first-start/answers")
    said = {name: DIESEL[name.removeprefix("answer-")] for name in form.sent if "answer-" in name}
    press.send("questions", form, **said)
    form = press.form("first-start/stop-lines")
    names = [name for name in form.sent if name.startswith("line")]
    press.send("stop lines", form, **dict.fromkeys(names, "by the left wing"))


def ready(standing: StartStanding) -> list[str]:
    """What can be signed of the first six stages while nothing has turned yet."""
    return [
        one.check.key
        for stage in standing.stages[:6]
        for one in stage.checks
        if one.can_be_signed and not one.check.engine_running and one.check.key != "oil_cranked"
    ]


def sign_what_can_be(press: Presses) -> None:
    bay = press.bay
    while keys := ready(standing := bay.standing):
        for key in keys:
            form = press.form(f"first-start/check?key={key}")
            fields = form.sent.keys() | {name for name, _ in form.unticked}
            said = bay.filled(key, standing)
            typed = {n: said[n] for n in said if n in fields and n not in ("version", "shown_at")}
            press.send("checks", form, **typed)


@pytest.mark.slow
def test_the_heron_is_led_from_what_is_open_to_the_key_and_to_it_ran(bay_of: BayOf) -> None:
    bay = bay_of(build=demo_build(dt.datetime(2026, 5, 2, 9)))
    press, holes = Presses(bay), bay.standing.holes
    opened = Counter(hole.kind for hole in holes)
    assert opened.keys() == {"check", "task", "part", "circuit", "answer", "stop line"}
    assert f"{len(holes)} things are open." in bay.get("first-start")
    receive_parts(press)
    close_circuits(press)
    finish_tasks(press)
    answer_and_type(press)
    sign_what_can_be(press)
    assert press.count["parts"] >= opened["part"]
    left = [hole.key for hole in bay.standing.holes]
    assert left == ["oil_cranked", "dry_after_turning"]  # what only cranking can show
    hand = Hand(bay)
    hand.look()
    hand.to("sign", "dry_after_turning")
    hand.step()
    assert bay.standing.is_nothing_known_open
    assert "Nothing known is open." in bay.get("first-start")
    hand.to("turn")
    bay.wait(minutes=1)  # the starter rests
    hand.look()
    assert "Crank it" in hand.buttons
    hand.to("it ran")
    hand.step()
    assert not next(t for t in bay.build.tasks if t.key == bay.build.first_start).is_open
    waiting = bay.get("bench").partition('id="ran"')[2]
    for words in ("It ran: ", "Second look at", "Torque exhaust, mounts", "Not on a road before"):
        assert words in waiting

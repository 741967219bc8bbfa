"""The largest build there may be: the command, and each page the first time it is asked for."""

import json
import random
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

import httpx

from tests.benchmarks.forms_found import forms_in
from tests.benchmarks.served import served
from tests.benchmarks.timing import Table
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput, Dependency, Step
from webapp.build.limits import MOST_DEPENDENCIES, MOST_TASKS
from webapp.exchange.build_document import write_document

TICKED = "t7"
PAGES = ("bench", "order", "path", "parts", "tasks", "tasks/t7", "wishes", "week", "shop")
SLUG = f"workshop-build-{MOST_TASKS}"
REACH = 60
"""How far back a dependency reaches among the tasks as they were entered."""


def largest_build() -> BuildInput:
    """A workshop build of as many tasks and dependencies as there may be."""
    build, chance = workshop_build(MOST_TASKS), random.Random(7)
    links = {(link.before, link.after): link for link in build.dependencies}
    while len(links) < MOST_DEPENDENCIES:
        after = chance.randrange(1, MOST_TASKS - 1)
        before = chance.randrange(max(0, after - REACH), after)
        pair = f"t{before}", f"t{after}"
        links.setdefault(pair, Dependency(before=pair[0], after=pair[1]))
    tasks = (
        replace(task, steps=(Step(text="Marked out"), Step(text="Drilled")))
        if task.key == TICKED
        else task
        for task in build.tasks
    )
    return replace(build, tasks=tuple(tasks), dependencies=tuple(links.values()))


def largest_build_planned(table: Table) -> None:
    """`keyturn plan FILE --json`: every task planned and priced."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "build.json"
        file.write_text(write_document(largest_build()), "utf-8")
        began = time.perf_counter()
        command = [sys.executable, "-m", "webapp", "plan", str(file), "--json"]
        done = subprocess.run(command, check=True, capture_output=True)
        seconds = time.perf_counter() - began
    assert all(task["days_cost"] is not None for task in json.loads(done.stdout)["tasks"])
    megabytes = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1e3
    measured = f"{seconds:.1f} s, {megabytes:.0f} MB"
    table.row("the command, 2,000 tasks, 20,000 dependencies", measured, seconds, "30 s, 600 MB")


def largest_build_on_pages(table: Table) -> None:
    """Each page from a server that has just begun: nothing of the build is at hand."""
    build = largest_build()
    for page in PAGES:
        with served(build) as server, httpx.Client(timeout=120, follow_redirects=True) as client:
            client.get(f"{server}/")
            began = time.perf_counter()
            status = client.get(f"{server}/builds/{SLUG}/{page}").status_code
            seconds = time.perf_counter() - began
        measured = f"{seconds:.2f} s" if status == 200 else "not there"
        table.row(f"page {page} of 2,000 tasks, the first time", measured, seconds, "2 s")


def step_ticked_on_the_largest(table: Table) -> None:
    """A step ticked and its page back, once the page was there."""
    page = f"/builds/{SLUG}/tasks/{TICKED}"
    with (
        served(largest_build()) as server,
        httpx.Client(
            base_url=server, timeout=120, follow_redirects=True, headers={"Origin": server}
        ) as client,
    ):
        shown = client.get(page).text
        form = next(form for form in forms_in(shown) if form.action.endswith("/tick-step"))
        began = time.perf_counter()
        status = client.post(form.action, data=form.sent).status_code
        seconds = time.perf_counter() - began
    measured = f"{seconds:.2f} s" if status == 200 else f"answered {status}"
    table.row("a step of one of 2,000 tasks ticked", measured, seconds, "2 s")

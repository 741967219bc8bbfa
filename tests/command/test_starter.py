"""The command `keyturn starter`: the list that a build makes for the next one."""

import json

from tests.forked_command import keyturn
from tests.pages.conftest import HERON


def test_the_list_is_a_build_document_that_can_be_planned_and_made_a_list_again() -> None:
    done = keyturn("starter", str(HERON), "--json", "--name", "A van")
    assert done.returncode == 0, done.stderr
    made = json.loads(done.stdout)
    assert made["build"]["name"] == "A van"
    assert (len(made["tasks"]), made["log"]) == (92, [])
    assert sum(task.get("hours_taken", False) for task in made["tasks"]) == 28
    planned = keyturn("plan", "-", "--json", typed=done.stdout)
    assert planned.returncode == 0, planned.stderr
    assert json.loads(planned.stdout)["first_start"]["at"]
    again = keyturn("starter", "-", "--json", "--name", "A van", typed=done.stdout)
    assert again.stdout == done.stdout


def test_the_table_says_the_rule_and_where_each_estimate_is_from() -> None:
    done = keyturn("starter", str(HERON))
    assert done.returncode == 0, done.stderr
    head = "The Heron, as it took\n92 tasks, 28 of them with the hours they took\n\nHours that work"
    assert done.stdout.startswith(head)
    assert done.stdout.count("(as it took last time)") == 28
    assert done.stdout.count("(a guess of the starter list)") == 64


def test_a_faulty_document_is_refused() -> None:
    done = keyturn("starter", "-", typed="{}")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr

"""The questions of a starter list: asked, tried out, taken, and answered anew later."""

import datetime as dt
import html
import re
from dataclasses import replace

import pytest

from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.starter.fitting import begun_with, kept
from webapp.build.verbs.task_links import without_task
from webapp.exchange.build_document import read_document
from webapp.pages.frame.notice import SENT_TWICE
from webapp.services.seed_builds import starter_list
from webapp.storage.builds import create_build, revision_of

SWAP = starter_list("swap")
assert SWAP is not None
USUAL = {f"answer-{key}": answer for key, answer in SWAP.usual.items()}
ADDRESS = "/builds/the-gull/starter"


def gull(**said: str) -> BuildInput:
    assert SWAP is not None
    bare = BuildInput(name="The Gull", now=NOW, first_start=None)
    return begun_with(bare, SWAP, {**SWAP.usual, **said})


def store(shop: Shop, build: BuildInput) -> None:
    shop.client.get("/")  # the data file is there from now on
    with shop.database.writing() as session:
        create_build(session, build)


def page(shop: Shop, **answers: str) -> str:
    """The page of questions, with other answers tried out where there are any."""
    fields = {**USUAL, **answers} if answers else {}
    answer = shop.client.get(ADDRESS, params=fields)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def hidden(text: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', text)
    assert found, name
    return html.unescape(found[1])


def take(shop: Shop, **answers: str) -> tuple[int, str]:
    """Try answers out, then take them as they were shown."""
    shown = shop.client.get(ADDRESS, params={**USUAL, **answers}).text
    fields = {**USUAL, **answers, "seen": hidden(shown, "seen"), "shown": hidden(shown, "shown")}
    answer = shop.client.post(ADDRESS, data=fields)
    return answer.status_code, html.unescape(answer.text)


def keys(build: BuildInput) -> set[str]:
    return {task.key for task in build.tasks}


def test_a_new_build_from_the_list_comes_to_its_questions(bare: Shop) -> None:
    answer = bare.client.post("/builds/new", data={"name": "The Gull", "begin_with": "swap"})
    assert answer.url.path == ADDRESS
    text = html.unescape(answer.text)
    assert "What is in this build?" in text
    assert "143 of 165 tasks" in text  # counted by hand in the list: 22 hang on other answers
    assert text.count("<fieldset") == len(SWAP.questions) if SWAP else False
    assert text.count(" checked>") == len(USUAL)


def test_every_question_says_what_its_answer_drops_names_behind_a_disclosure(bare: Shop) -> None:
    store(bare, gull())
    text = page(bare, **{"answer-turbo": "no"})
    asked = text.split("Is there a turbo?</legend>")[1].split("</fieldset>")[0]
    assert "No: 9 tasks and 4 parts dropped." in asked
    inside = asked.split("<details")[1].split("</details>")[0]
    assert "Turn the turbo housings to suit" in inside
    assert "Charge tube: straights and bends" in inside
    cooler = text.split("An intercooler?</legend>")[1].split("</fieldset>")[0]
    assert "Counts only where “Is there a turbo?” is answered “Yes”." in cooler


def test_trying_answers_out_stores_nothing_and_says_what_would_go_and_come(bare: Shop) -> None:
    store(bare, gull())
    text = page(bare, **{"answer-turbo": "no", "answer-ac": "yes"})
    assert "9 tasks and 4 parts would go" in text
    assert "8 tasks and 2 parts would come" in text
    assert "Not taken yet" in text
    assert bare.stored("the-gull").tasks == gull().tasks


def test_answers_that_were_looked_at_are_taken_and_kept_with_the_build(bare: Shop) -> None:
    store(bare, gull())
    status, text = take(bare, **{"answer-turbo": "no"})
    assert status == 200
    assert "Saved. First start moves" in text
    assert "Not taken yet" not in text
    build = bare.stored("the-gull")
    assert keys(build) == keys(gull(turbo="no"))
    said = {each.question: each.answer for each in build.starter_answers}
    assert said["turbo"] == "no"
    out = bare.client.get("/builds/the-gull/document")
    again, faults = read_document(out.content, now=NOW)
    assert not faults
    assert again is not None
    assert again.starter_answers == build.starter_answers


def test_a_change_that_was_not_looked_at_is_shown_first(bare: Shop) -> None:
    store(bare, gull())
    answer = bare.client.post(ADDRESS, data={**USUAL, "answer-turbo": "no"})
    assert answer.status_code == 422
    text = html.unescape(answer.text)
    assert "Nothing is changed yet." in text
    assert "9 tasks and 4 parts would go" in text
    assert bare.stored("the-gull").tasks == gull().tasks
    fields = {**USUAL, "answer-turbo": "no", "seen": hidden(answer.text, "seen")}
    assert bare.client.post(ADDRESS, data=fields).status_code == 200
    assert keys(bare.stored("the-gull")) == keys(gull(turbo="no"))


def test_a_double_post_takes_the_answers_once(bare: Shop) -> None:
    store(bare, gull())
    shown = bare.client.get(ADDRESS, params={**USUAL, "answer-turbo": "no"}).text
    fields = {**USUAL, "answer-turbo": "no"} | {
        name: hidden(shown, name) for name in ("seen", "shown", "once")
    }
    first = bare.client.post(ADDRESS, data=fields)
    second = bare.client.post(ADDRESS, data=fields)
    assert (first.status_code, second.status_code) == (200, 200)
    assert first.url.copy_remove_param("since") == second.url.copy_remove_param("since")
    assert html.unescape(second.text).count(SENT_TWICE) == 1
    with bare.database.reading() as session:
        assert revision_of(session, "the-gull") == 2  # entered, then answered once


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("answer-fuel", "coal", "What does it burn?: “coal” is not in the list."),
        ("answer-fuel", "", "What does it burn? Nothing is picked."),
        ("answer-paint", "nobody\x00", "is not in the list."),
    ],
)
def test_an_answer_that_is_not_offered_or_missing_is_a_sentence(
    bare: Shop, field: str, value: str, said: str
) -> None:
    store(bare, gull())
    fields = {**USUAL, field: value, "answer-turbo": "no"}
    for answer in (bare.client.post(ADDRESS, data=fields), bare.client.get(ADDRESS, params=fields)):
        assert answer.status_code == 422
        text = html.unescape(answer.text)
        assert said in text
        kept_answer = re.search(r'name="answer-turbo" value="no"( checked)?>', text)
        assert kept_answer is not None
        assert kept_answer[1], "what was picked elsewhere is kept"
    assert bare.stored("the-gull").tasks == gull().tasks


def test_answers_that_were_not_sent_are_those_that_are_kept(bare: Shop) -> None:
    store(bare, gull(ac="yes"))
    tried = html.unescape(bare.client.get(ADDRESS, params={"answer-turbo": "no"}).text)
    posted = bare.client.post(ADDRESS, data={"answer-turbo": "no"})
    assert posted.status_code == 422
    for text in (tried, html.unescape(posted.text)):
        assert "9 tasks and 4 parts would go" in text
        assert 'name="answer-ac" value="yes" checked>' in text
    fields = {"answer-turbo": "no", "seen": hidden(posted.text, "seen")}
    assert bare.client.post(ADDRESS, data=fields).status_code == 200
    assert keys(bare.stored("the-gull")) == keys(gull(turbo="no", ac="yes"))


def test_work_is_not_lost_and_edits_are_asked_about(bare: Shop) -> None:
    build = gull()
    worked = replace(get_by_key(build.tasks, "hot_tubes"), begun_on=dt.date(2026, 2, 9))
    edited = replace(get_by_key(build.tasks, "turbo_clock"), notes="Two bolts are seized.")
    for task in (worked, edited):
        build = replace(build, tasks=replaced_by_key(build.tasks, task))
    store(bare, build)
    text = page(bare, **{"answer-turbo": "no"})
    stays = text.split("Stays, although the answers drop it")[1].split("</ul>")[0]
    assert worked.name in stays
    assert "You have worked on it" in stays
    assert 'name="out-turbo_clock"' in text
    assert 'name="out-hot_tubes"' not in text
    status, _ = take(bare, **{"answer-turbo": "no", "out-hot_tubes": "on"})
    assert status == 200
    stored = bare.stored("the-gull")
    assert worked in stored.tasks
    assert edited in stored.tasks
    status, _ = take(bare, **{"answer-turbo": "no", "out-turbo_clock": "on"})
    assert status == 200
    assert keys(bare.stored("the-gull")) == keys(gull(turbo="no")) | {"hot_tubes"}


def test_what_was_taken_out_comes_back_only_where_it_is_ticked(bare: Shop) -> None:
    store(bare, without_task(gull(), "bay_photos", keep_order=True))
    text = page(bare, **{"answer-ac": "yes"})
    assert "You took these out of the list" in text
    take(bare, **{"answer-ac": "yes"})
    assert "bay_photos" not in keys(bare.stored("the-gull"))
    take(bare, **{"answer-ac": "yes", "back-bay_photos": "on"})
    stored = bare.stored("the-gull")
    assert keys(stored) == keys(gull(ac="yes"))
    assert stored.starter_left_out == ()


def test_answers_that_change_no_task_are_kept_at_once(bare: Shop) -> None:
    store(bare, gull(turbo="no"))
    fields = {**USUAL, "answer-turbo": "no", "answer-intercooler": "used"}
    assert bare.client.post(ADDRESS, data=fields).status_code == 200
    stored = bare.stored("the-gull")
    assert stored.tasks == gull(turbo="no").tasks
    assert get_by_key(SWAP.questions, "intercooler") if SWAP else None
    assert {e.question: e.answer for e in stored.starter_answers}["intercooler"] == "used"


def test_a_build_that_was_not_begun_from_a_list_says_so(shop: Shop) -> None:
    answer = shop.client.get("/builds/the-heron/starter")
    assert answer.status_code == 404
    assert "was not begun from a starter list" in answer.text
    assert "/the-heron/starter" not in shop.page("shop")


def test_a_list_that_the_program_does_not_have_is_named_and_its_answers_are_kept(
    bare: Shop,
) -> None:
    store(bare, replace(gull(), starter_list="steam"))
    answer = bare.client.get(ADDRESS)
    assert answer.status_code == 404
    assert "“steam”" in html.unescape(answer.text)
    assert bare.stored("the-gull").starter_answers == gull().starter_answers


def test_the_shop_page_leads_to_the_questions(bare: Shop) -> None:
    store(bare, gull())
    assert f'href="{ADDRESS}"' in bare.client.get("/builds/the-gull/shop").text


def test_hours_that_are_changed_are_a_guess_no_more(bare: Shop) -> None:
    store(bare, gull())
    key = "bay_photos"
    form = bare.client.get(f"/builds/the-gull/tasks/{key}").text
    assert "a guess of the starter list" in html.unescape(form)
    fields = {"shown": hidden(form, "shown"), "name": get_by_key(gull().tasks, key).name}
    fields |= {"subsystem": "bay", "well": "1", "likely": "2.5", "fights": "4", "people": "1"}
    assert bare.client.post(f"/builds/the-gull/tasks/{key}", data=fields).status_code == 200
    task = get_by_key(bare.stored("the-gull").tasks, key)
    assert (task.hours.most_likely, task.hours_guessed) == (2.5, False)
    assert "a guess of" not in bare.client.get(f"/builds/the-gull/tasks/{key}").text


def test_hours_can_be_confirmed_as_they_are(bare: Shop) -> None:
    store(bare, gull())
    key = "bay_photos"
    form = bare.client.get(f"/builds/the-gull/tasks/{key}").text
    fields = {"shown": hidden(form, "shown"), "name": get_by_key(gull().tasks, key).name}
    fields |= {"subsystem": "bay", "well": "1", "likely": "2", "fights": "4", "people": "1"}
    bare.client.post(f"/builds/the-gull/tasks/{key}", data=fields)
    assert get_by_key(bare.stored("the-gull").tasks, key).hours_guessed
    bare.client.post(f"/builds/the-gull/tasks/{key}", data={**fields, "confirmed": "on"})
    assert not get_by_key(bare.stored("the-gull").tasks, key).hours_guessed


def test_the_usual_answers_are_those_of_the_list() -> None:
    assert SWAP is not None
    assert keys(gull()) == kept(SWAP, SWAP.usual).tasks

"""A form is taken once, however often it is sent; what differs is never taken for the same."""

import asyncio
import re
from typing import Any
from urllib.parse import urlencode

import pytest

from tests.pages.conftest import HERON, Shop, without_tokens
from tests.pages.test_bad_requests import routes
from webapp.pages.frame.once_only import OnceOnly, once_field
from webapp.settings import resource_root

FORM = re.compile(r"<form\b[^>]*method=\"post\".*?</form>", re.S)
TOKEN = re.compile(r'<input type="hidden" name="once" value="([\w-]{16})">')
WISH_LINE = "/builds/the-heron/bench/wish"


def wishes_named(shop: Shop, text: str) -> int:
    return sum(wish.text == text for wish in shop.stored().wishes)


def sent(shop: Shop, address: str, **fields: str) -> tuple[int, str]:
    """Send a form; the status, and where it leads."""
    answer = shop.client.post(address, data=fields, follow_redirects=False)
    return answer.status_code, answer.headers.get("location", "")


def again(answer: tuple[int, str]) -> tuple[int, str]:
    """Where the same form leads when it is sent once more later: to what says that it was stored.

    The first one made revision 1 of 0, "0" in the address, or 2 of 1, "1".
    """
    status, address = answer
    return status, re.sub(
        r"since=(\d+)", lambda at: f"since={at[1]}-{int(at[1]) + 1}-again", address
    )


# --- the token in the pages -----------------------------------------------------------------
def test_every_form_of_every_page_carries_a_token_of_its_own(shop: Shop) -> None:
    tokens: list[str] = []
    for method, path in routes():
        if method == "GET":
            for form in FORM.findall(shop.client.get(path).text):
                found = TOKEN.findall(form)
                assert len(found) == 1, (path, form)
                tokens += found
    assert len(tokens) > 50
    assert len(set(tokens)) == len(tokens)


def test_every_form_of_every_template_will_carry_one() -> None:
    for template in (resource_root() / "templates").rglob("*.html"):
        if template.name == "pairing.html":
            continue  # before the door, the same to the byte for all; a code is good once
        text = template.read_text("utf-8")
        forms = re.findall(r"<form\b[^>]*post", text)
        carrying = re.findall(r"<form\b[^>]*post[^>]*\{\{ form_attributes \}\}[^>]*>", text)
        assert len(forms) == len(carrying), template


def test_a_form_does_not_see_the_token(shop: Shop) -> None:
    # The press of a button: a shop form without any field of its own is told apart by that.
    with_token = shop.client.post("/builds/the-heron/shop/people", data={"once": "t"}).text
    without = shop.client.post("/builds/the-heron/shop/people", data={}).text
    told = re.compile(r'<div class="said" id="notice".*?</div>', re.DOTALL)  # its figures follow
    pages = [told.sub("", without_tokens(text)) for text in (with_token, without)]
    assert pages[0] == pages[1]


# --- the same post --------------------------------------------------------------------------
def test_the_same_line_sent_twice_is_stored_once_and_answered_alike(shop: Shop) -> None:
    first, second = (sent(shop, WISH_LINE, wish="Second battery", once="t1") for _ in "ab")
    assert again(first) == second
    assert first[0] == 303
    assert wishes_named(shop, "Second battery") == 1


def test_the_same_tasks_sent_twice_are_entered_once(shop: Shop) -> None:
    row = {"name-0": "Weld the tray", "likely-0": "2", "needed-0": "on", "once": "t1"}
    first, second = (sent(shop, "/builds/the-heron/tasks/new", **row) for _ in "ab")
    assert again(first) == second
    assert first[0] == 303
    assert sum(task.name == "Weld the tray" for task in shop.stored().tasks) == 1


def test_a_document_sent_twice_makes_one_build_whatever_stands_between_its_parts(
    bare: Shop,
) -> None:
    answers = [
        bare.client.post(
            "/builds/import",
            data={"once": "t1"},
            files={"file": ("heron.json", HERON.read_bytes(), "application/json")},
            headers={"content-type": f"multipart/form-data; boundary={edge}"},
            follow_redirects=False,
        )
        for edge in ("----edge1", "----edge2")
    ]
    first, second = (answer.request.content for answer in answers)
    assert first != second, "each browser puts another edge between the parts"
    assert [answer.status_code for answer in answers] == [303, 303]
    assert answers[0].headers["location"] == answers[1].headers["location"]
    assert bare.client.get("/").text.count("/bench") == 1


def test_a_form_sent_again_later_is_told_that_it_was_stored_already(shop: Shop) -> None:
    address = "/builds/the-heron/tasks/new"
    row = {"name-0": "Weld the tray", "likely-0": "2", "needed-0": "on", "once": "t1"}
    pages = [shop.client.post(address, data=row).text for _ in "ab"]
    assert "Stored already" not in pages[0]
    assert "Stored already: the same was sent before, and nothing was stored twice." in pages[1]
    assert 'class="undo"' in pages[1]  # of the one change there was
    assert sum(task.name == "Weld the tray" for task in shop.stored().tasks) == 1


def test_a_form_that_changes_nothing_says_so(shop: Shop) -> None:
    page = "/builds/the-heron/tasks/rad_bracket"
    for token in ("t1", "t2"):
        answer = shop.client.post(page, data={"notes": "mine", "shown": "{}", "once": token})
    assert "Nothing was changed: it stands as it did." in answer.text
    assert "Saved" not in answer.text
    assert 'class="undo"' not in answer.text


# --- the same post, once somebody else has changed the build --------------------------------
def test_the_same_post_after_another_window_changed_the_build_is_looked_at_anew(
    shop: Shop,
) -> None:
    address = "/builds/the-heron/tasks/rad_bracket"

    def notes() -> str:
        return next(task.notes for task in shop.stored().tasks if task.key == "rad_bracket")

    mine = {"notes": "mine", "shown": "{}", "once": "t1"}
    first = sent(shop, address, **mine)
    assert first[0] == 303
    assert sent(shop, address, **mine) == again(first)  # a second tap, nobody was there meanwhile
    assert sent(shop, address, notes="theirs", once="t2")[0] == 303
    assert sent(shop, address, **mine)[0] == 422  # Back, and again: asked, not acknowledged
    assert notes() == "theirs"


def test_a_press_whose_work_was_undone_elsewhere_is_done_again(shop: Shop) -> None:
    part = next(part for part in shop.stored().parts if not part.arrived)
    here = {"key": part.key, "once": "t1"}
    assert sent(shop, "/builds/the-heron/part-here", **here)[0] == 303
    page = f"/builds/the-heron/parts/{part.key}"
    # the other window unticks it
    assert sent(shop, page, shown='{"arrived": "on"}', once="t2")[0] == 303
    assert not next(each for each in shop.stored().parts if each.key == part.key).arrived
    assert sent(shop, "/builds/the-heron/part-here", **here)[0] == 303
    assert next(each for each in shop.stored().parts if each.key == part.key).arrived


# --- what is not the same post --------------------------------------------------------------
def test_another_line_from_the_same_page_is_stored_too(shop: Shop) -> None:
    sent(shop, WISH_LINE, wish="Second battery", once="t1")
    sent(shop, WISH_LINE, wish="Second batteries", once="t1")
    assert wishes_named(shop, "Second battery") == wishes_named(shop, "Second batteries") == 1


@pytest.mark.parametrize("tokens", [("t1", "t2"), ("", "")])
def test_the_same_task_from_two_pages_or_without_a_token_is_stored_twice(
    shop: Shop, tokens: tuple[str, str]
) -> None:
    row = {"name-0": "Weld the tray", "likely-0": "2", "needed-0": "on"}
    for token in tokens:
        sent(shop, "/builds/the-heron/tasks/new", **row, once=token)
    assert sum(task.name == "Weld the tray" for task in shop.stored().tasks) == 2


def test_what_was_not_taken_may_come_again_as_it_is(shop: Shop) -> None:
    begin = {"task": "rad_bracket", "once": "t1"}
    assert sent(shop, "/builds/none/bench/begin", **begin)[0] == 404
    assert sent(shop, "/builds/none/bench/begin", **begin)[0] == 404
    wrong = {"name-0": "Weld the tray", "likely-0": "two", "once": "t1"}
    shown = [shop.client.post("/builds/the-heron/tasks/new", data=wrong) for _ in "ab"]
    assert [answer.status_code for answer in shown] == [422, 422]
    assert "Weld the tray" in shown[1].text


# --- at once --------------------------------------------------------------------------------
class SlowPage:
    """Takes posts one after another when it is let; redirects, or answers `statuses` first."""

    def __init__(self, *statuses: int) -> None:
        self.statuses, self.taken, self.let = list(statuses), 0, asyncio.Event()

    async def __call__(self, _scope: Any, receive: Any, send: Any) -> None:
        body = (await receive())["body"]
        assert b"once=" in body or body == b"wish=Lift", "the body comes through whole"
        self.taken += 1
        number = self.taken
        await self.let.wait()
        status = self.statuses.pop(0) if self.statuses else 303
        headers = [(b"location", b"/said/%d" % number)]
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": b""})


async def posted(once_only: OnceOnly, **fields: str) -> tuple[int, bytes]:
    """Post a form as the server hands it over; status and where it leads."""
    body = urlencode(fields).encode()
    kind = (b"content-type", b"application/x-www-form-urlencoded")
    scope = {"type": "http", "method": "POST", "path": "/", "query_string": b""}
    scope["headers"] = [kind, (b"content-length", b"%d" % len(body))]
    messages: list[Any] = []

    async def receive() -> Any:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: Any) -> None:
        messages.append(message)

    await once_only(scope, receive, send)
    return messages[0]["status"], dict(messages[0]["headers"])[b"location"]


async def both(page: SlowPage, *forms: dict[str, str]) -> list[tuple[int, bytes]]:
    """The answers to forms of which the second comes while the first is being worked on."""
    once_only = OnceOnly(page)
    posts = [asyncio.create_task(posted(once_only, **form)) for form in forms]
    for _ in range(20):
        await asyncio.sleep(0)
    page.let.set()
    return list(await asyncio.gather(*posts))


def test_the_second_of_two_at_once_waits_for_the_first_and_is_sent_where_it_was() -> None:
    page, form = SlowPage(), {"wish": "Lift", "once": "t1"}
    assert asyncio.run(both(page, form, form, form)) == [(303, b"/said/1")] * 3
    assert page.taken == 1


def test_two_differing_forms_at_once_do_not_wait_for_one_another() -> None:
    page = SlowPage()
    forms = ({"wish": "Lift", "once": "t1"}, {"wish": "Lift", "once": "t2"}, {"wish": "Lift"})
    answers = asyncio.run(both(page, *forms, forms[2]))
    assert answers == [(303, b"/said/%d" % number) for number in (1, 2, 3, 4)]


def test_where_the_first_was_not_taken_the_second_is_looked_at() -> None:
    page, form = SlowPage(422), {"wish": "Lift", "once": "t1"}
    assert asyncio.run(both(page, form, form)) == [(422, b"/said/1"), (303, b"/said/2")]


def test_only_the_last_posts_are_kept_in_mind() -> None:
    async def one_again(others: int) -> int:
        page = SlowPage()
        page.let.set()
        once_only = OnceOnly(page, posts_kept=3)
        await posted(once_only, wish="Lift", once="t1")
        for number in range(others):
            await posted(once_only, wish="Lift", once=f"other {number}")
        await posted(once_only, wish="Lift", once="t1")
        return page.taken - others

    assert asyncio.run(one_again(2)) == 1
    assert asyncio.run(one_again(3)) == 2


def test_tokens_are_long_enough_never_to_meet() -> None:
    # 12 random bytes: among a million tokens, 2 ** 40 / 2 ** 97 that any two are alike
    assert len({once_field() for _ in range(1000)}) == 1000

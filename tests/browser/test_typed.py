"""What is typed: kept over a reload, asked about, never in another form, sent once it can be."""

import re

import pytest
from playwright.sync_api import Browser, Dialog, Page, Route, expect

from tests.browser.conftest import PHONE, watched

pytestmark = pytest.mark.browser

WISH = "Second battery under the seat"


@pytest.fixture
def page(browser: Browser) -> Page:
    return browser.new_page(viewport=PHONE)  # type: ignore[arg-type]


def wishes(page: Page, heron: str) -> int:
    page.goto(f"{heron}/wishes")
    return page.get_by_role("heading", name=re.compile(WISH)).count()


def test_the_wish_line_is_empty_once_it_logged(page: Page, heron: str) -> None:
    page.goto(f"{heron}/bench")
    line = page.get_by_label("A wish")
    line.fill(WISH)
    line.press("Enter")
    expect(page.get_by_text(f"Logged: {WISH}.")).to_be_visible()
    expect(line).to_have_value("")
    page.close()


def test_what_is_typed_stays_over_a_reload_and_is_gone_once_it_is_saved(
    page: Page, heron: str
) -> None:
    complaints = watched(page)
    page.goto(f"{heron}/tasks/rad_bracket")
    page.locator("#fold-words > summary").click()
    page.locator("[name=notes]").fill("M8 captive nuts")
    page.locator("#fold-takes > summary").click()
    page.locator("[name=in_one_go]").check()
    page.reload()
    expect(page.locator("[name=notes]")).to_be_visible()  # what was typed is not folded away
    expect(page.locator("[name=notes]")).to_have_value("M8 captive nuts")
    expect(page.locator("[name=in_one_go]")).to_be_checked()
    page.get_by_role("button", name="Save the task").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    assert page.evaluate("sessionStorage.length") == 0
    assert not complaints
    page.close()


def test_leaving_what_is_typed_asks_first(page: Page, heron: str) -> None:
    asked: list[str] = []
    page.goto(f"{heron}/tasks/rad_bracket")
    page.locator("#fold-words > summary").click()
    notes = page.locator("[name=notes]")
    notes.fill("M8 captive nuts")

    def stay(dialog: Dialog) -> None:
        asked.append(dialog.message)
        dialog.dismiss()

    page.once("dialog", stay)
    page.get_by_role("link", name="Bench").last.click()
    expect(notes).to_have_value("M8 captive nuts")
    assert asked == ["What you typed here is not saved. Leave it?"]
    page.once("dialog", lambda dialog: dialog.accept())
    page.get_by_role("link", name="Bench").last.click()
    expect(page.get_by_text("Do this now")).to_be_visible()
    page.goto(f"{heron}/tasks/rad_bracket")
    expect(notes).not_to_have_value("M8 captive nuts")
    page.close()


def test_what_is_typed_for_one_task_never_stands_in_the_form_of_another(
    page: Page, heron: str
) -> None:
    """Both pages have the same fields, and htmx keeps what it can of the page before."""
    page.goto(f"{heron}/tasks/rad_bracket")
    page.locator("[name=outside_days]").fill("5")
    page.once("dialog", lambda dialog: dialog.accept())
    page.locator(".card details > summary").first.click()
    page.locator(".card .rows a").first.click()
    expect(page.locator("h1")).not_to_have_text("Radiator lower bracket")
    expect(page.locator("[name=outside_days]")).not_to_have_value("5")
    page.close()


def test_typing_while_the_next_page_comes_lands_in_no_field_of_it(page: Page, heron: str) -> None:
    """The time log and one entry of it have a field “Hours worked” in the same place."""
    page.goto(f"{heron}/log")

    def late(route: Route) -> None:
        page.wait_for_timeout(300)
        route.continue_()

    page.route("**/log-entry*", late)
    page.get_by_role("link", name=re.compile("^Correct")).first.click()
    page.locator("#hours").focus()
    expect(page.get_by_role("heading", name="Correct an entry")).to_be_visible()
    page.keyboard.insert_text("2:15")
    value = page.locator("#hours").input_value()
    assert re.fullmatch(r"\d+:\d\d", value), value
    page.close()


def test_a_wish_said_while_nobody_answers_is_kept_and_sent_once(page: Page, heron: str) -> None:
    page.goto(f"{heron}/bench")
    page.context.set_offline(True)
    line = page.get_by_label("A wish")
    line.fill(WISH)
    line.press("Enter")
    expect(page.locator("#waiting")).to_contain_text(
        f"Kept on this device and sent as soon as it does: “{WISH}”"
    )
    expect(line).to_have_value("")
    page.get_by_role("link", name="Order").locator("visible=true").first.click()
    expect(page.locator("#waiting")).to_be_visible()  # one note says it, not two over one another
    expect(page.locator("#unanswered")).to_be_hidden()
    page.context.set_offline(False)
    expect(page.locator("#waiting")).to_contain_text(f"Sent: “{WISH}”")
    assert page.evaluate("localStorage.getItem('keyturn waiting')") == "[]"
    assert wishes(page, heron) == 1
    page.close()


def test_hours_said_while_nobody_answers_are_logged_once(page: Page, heron: str) -> None:
    page.goto(f"{heron}/bench")
    page.get_by_role("button", name=re.compile("^Go on.*Radiator")).click()
    page.get_by_role("link", name="Stop").click()
    page.get_by_label("Hours worked").fill("1:05")
    page.get_by_label("Hours left").fill("1")
    page.context.set_offline(True)
    page.get_by_role("button", name="Stop for now").click()
    expect(page.locator("#waiting")).to_contain_text("1:05 worked on Radiator lower bracket")
    page.context.set_offline(False)
    expect(page.locator("#waiting")).to_contain_text("Sent: 1:05 worked")
    expect(page.locator("form.stop")).to_have_count(0)  # the page shows what is so by now
    expect(page.locator("#clock")).to_have_count(0)
    page.goto(f"{heron}/log")
    expect(page.locator("td").filter(has_text=re.compile("^1 h 5 min$"))).to_have_count(1)
    page.close()


def test_hours_of_an_evening_said_while_nobody_answers_are_written_down_once(
    page: Page, heron: str
) -> None:
    entries = _entries(page, heron)
    page.goto(f"{heron}/week")
    line = page.locator("#to-do details.line[open]")
    told = " ".join(line.locator("summary").inner_text().split())
    line.get_by_label("Hours worked").fill("1:20")
    page.context.set_offline(True)
    line.get_by_role("button", name="Write the hours down").click()
    expect(page.locator("#waiting")).to_contain_text("1:20 worked, ")
    page.context.set_offline(False)
    expect(page.locator("#waiting")).to_contain_text("Sent: 1:20 worked")
    gone = page.locator("#to-do summary").filter(has_text=told)
    expect(gone).to_have_count(0)
    assert _entries(page, heron) == entries + 1
    page.close()


def _entries(page: Page, heron: str) -> int:
    page.goto(f"{heron}/log")
    said = re.search(r"(\d+) entries", page.locator("main").inner_text())
    assert said is not None
    return int(said[1])


def test_a_stop_that_is_asked_about_after_nobody_answered_shows_its_question(
    page: Page, heron: str
) -> None:
    """Seven hours on a clock that ran a minute: the program asks before it takes them."""
    page.goto(f"{heron}/bench")
    page.get_by_role("button", name=re.compile("^Go on.*Radiator")).click()
    page.get_by_role("link", name="Stop").click()
    page.route("**/bench/stop", lambda route: route.abort())
    page.get_by_label("Hours worked").fill("7:10")
    page.get_by_role("button", name="Stop for now").click()
    expect(page.locator("#waiting")).to_contain_text("7:10 worked on Radiator lower bracket")
    page.unroute("**/bench/stop")
    asked = page.get_by_role("button", name="See what is asked")
    expect(asked).to_be_visible()
    page.reload()  # it is still to be answered after that
    asked.click()
    expect(page.locator("#waiting")).to_be_hidden()
    expect(page.get_by_label("Hours worked")).to_have_value("7:10")
    expect(page.locator("main .mend").first).to_be_visible()
    assert page.evaluate("localStorage.getItem('keyturn waiting')") == "[]"
    page.close()

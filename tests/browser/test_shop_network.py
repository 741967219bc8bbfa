"""A phone in the shop's network: paired by the code, let in, turned away."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import LAPTOP, PHONE, watched
from tests.browser.server import demo_server
from tests.browser.test_boxes import wrong_in

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def heron(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The Heron, served in the network too."""
    with demo_server(tmp_path_factory.mktemp("network") / "heron.sqlite3", shop=True) as server:
        yield f"{server}/builds/the-heron"


def shown_code(machine: Page, heron: str) -> str:
    """Have a new code shown."""
    machine.goto(f"{heron}/shop/network")
    machine.get_by_role("button", name="Show").click()
    expect(machine.get_by_text("The code stands below")).to_be_visible()
    return machine.locator(".code").inner_text()


def log_in_the_wish_line(page: Page, wish: str) -> None:
    page.get_by_label("A wish").fill(wish)
    page.get_by_role("button", name="Log it").click()
    expect(page.get_by_text(f"Logged: {wish}.")).to_be_visible()


@pytest.mark.parametrize("scripts", [True, False])
def test_a_phone_is_paired_logs_a_wish_and_is_turned_away(
    browser: Browser, heron: str, scripts: bool
) -> None:
    machine = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    context = browser.new_context(viewport=PHONE, java_script_enabled=scripts)  # type: ignore[arg-type]
    phone = context.new_page()
    complaints, found = watched(machine), []
    code = shown_code(machine, heron)
    place = machine.locator(".where b").first.inner_text().rstrip("/")
    if scripts:
        found += wrong_in(machine, "the code")

    answer = phone.goto(f"{place}/builds/the-heron/bench")
    assert answer is not None
    assert answer.status == 403
    assert "Heron" not in phone.content()
    if scripts:
        found += wrong_in(phone, "how to pair")
        phone.set_viewport_size(PHONE)  # type: ignore[arg-type]
    phone.get_by_label("The code").fill("AAAA-AAAA")
    phone.get_by_label("What you call this device").fill("Phone at the bench")
    phone.get_by_role("button", name="Pair this device").click()
    expect(phone.get_by_role("alert")).to_contain_text("That is not the code")
    phone.get_by_label("The code").fill(code.lower().replace("-", " "))
    phone.get_by_role("button", name="Pair this device").click()

    phone.get_by_role("link", name="The Heron").first.click()
    wish = f"A lamp over the bench, {'with' if scripts else 'without'} scripts"
    log_in_the_wish_line(phone, wish)
    # the machine's page asks by itself whether somebody came
    expect(machine.get_by_text("“Phone at the bench” is paired.")).to_be_visible()
    expect(machine.locator(".code")).to_have_count(0)
    if scripts:
        found += wrong_in(machine, "a device that came")
    machine.goto(f"{heron}/wishes")
    expect(machine.get_by_text(wish).first).to_be_visible()

    phone.goto(f"{place}/network")
    expect(phone.get_by_text("This device is “Phone at the bench”")).to_be_visible()
    if scripts:
        found += wrong_in(phone, "of a device")
    machine.goto(f"{heron}/shop/network")
    machine.get_by_role("button", name="Turn away Phone at the bench").click()
    expect(machine.get_by_text("That device is turned away.")).to_be_visible()
    phone.goto(f"{place}/builds/the-heron/bench")
    expect(phone.get_by_role("heading", name="Pair this device")).to_be_visible()
    assert phone.locator("a[href*=builds]").count() == 0
    for page in (machine, phone):
        page.close()
    context.close()
    assert not found
    assert not complaints


def test_what_was_said_on_a_device_that_was_turned_away_is_sent_once_it_is_paired_again(
    browser: Browser, heron: str
) -> None:
    """A wish that waits on the device is not dropped by whoever answers that it must be paired."""
    machine = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    context = browser.new_context(viewport=PHONE)  # type: ignore[arg-type]
    phone = context.new_page()

    def pair() -> None:
        phone.get_by_label("The code").fill(shown_code(machine, heron))
        phone.get_by_role("button", name="Pair this device").click()

    machine.goto(f"{heron}/shop/network")
    place = machine.locator(".where b").first.inner_text().rstrip("/")
    phone.goto(place)
    pair()
    phone.get_by_role("link", name="The Heron").first.click()
    expect(phone.get_by_label("A wish")).to_be_visible()
    context.set_offline(True)
    phone.get_by_label("A wish").fill("A hook for the lamp")
    phone.get_by_role("button", name="Log it").click()
    expect(phone.locator("#waiting")).to_contain_text("A hook for the lamp")
    machine.reload()
    machine.get_by_role("button", name="Turn away").click()
    expect(machine.get_by_text("That device is turned away.")).to_be_visible()
    context.set_offline(False)
    phone.wait_for_timeout(6000)  # longer than it waits before it tries again
    assert "A hook for the lamp" in phone.evaluate("localStorage.getItem('keyturn waiting')")
    phone.goto(place)
    pair()
    phone.get_by_role("link", name="The Heron").first.click()
    expect(phone.locator("#waiting")).to_contain_text("Sent: “A hook for the lamp”")
    for page in (machine, phone):
        page.close()
    context.close()

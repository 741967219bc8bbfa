"""The data file out of reach while somebody types: nothing typed is lost, scripts or not."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import PHONE, unsound
from tests.browser.server import demo_server

pytestmark = pytest.mark.browser

WISH = "A lamp under the bonnet & a <switch>"


@pytest.fixture
def data_file(tmp_path: Path) -> Path:
    return tmp_path / "heron.sqlite3"


@pytest.fixture
def heron(data_file: Path) -> Iterator[str]:
    with demo_server(data_file) as address:
        yield f"{address}/builds/the-heron"


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_a_line_typed_while_the_file_is_away_is_kept_and_sent_again(
    browser: Browser, heron: str, data_file: Path, scripts: bool
) -> None:
    page = browser.new_page(viewport=PHONE, java_script_enabled=scripts)  # type: ignore[arg-type]
    page.goto(f"{heron}/bench")
    page.get_by_label("A wish").fill(WISH)
    away = data_file.rename(data_file.with_name("away.sqlite3"))
    page.get_by_role("button", name="Log it").click()
    expect(page.get_by_role("heading", name="The data file is not in its place")).to_be_visible()
    expect(page.get_by_role("alert").filter(has_text="is gone: it was moved")).to_be_visible()
    expect(page.get_by_role("definition").filter(has_text=WISH)).to_be_visible()
    if scripts:
        assert unsound(page) == []
    with page.expect_response(lambda answer: answer.request.method == "POST"):
        page.get_by_role("button", name="Try again").click()  # too early
    expect(page.get_by_role("button", name="Try again")).to_be_enabled()
    expect(page.get_by_role("definition").filter(has_text=WISH)).to_be_visible()
    away.rename(data_file)
    page.get_by_role("button", name="Try again").click()
    expect(page.get_by_text(f"Logged: {WISH}.")).to_be_visible()

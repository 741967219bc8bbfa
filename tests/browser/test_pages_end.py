"""Pages that end: none is longer than eight screens of a phone, none has two things to do next."""

import html
import re
from collections.abc import Iterator
from urllib.parse import urlsplit

import httpx
import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import PHONE
from tests.browser.server import demo_server
from tests.settled import settled

pytestmark = pytest.mark.browser

MOST_PX = 8 * 844
"""Eight screens of 390 x 844."""
ASKED_FOR = ("every=1", "whole=1")
"""What the query says where a person asked for all of it: that may be long."""
MOST_OF_A_KIND = {
    "tasks/": 120,
    "parts/": 120,
    "week/": 6,
    "order?rule&rule&rule": 4,
    "order?rule&rule&rule&every": 4,
}
FEW_OF_A_KIND = 10
"""So many pages of one kind are read: tasks and parts all, of the others enough to tell; few trials
of the order, which have the same lines in another order, and are worked out when asked for."""
WHICH = re.compile(r"(?<=/)[^/?]+$|(?<=^runs/)[^/?]+|(?<=^week/)[^/?]+|=[^&]*")
"""What of an address says which page of its kind it is."""
MEASURED = 3
"""So many pages of each kind are measured, those with the most text in them; fewer where one is
not even half as long as it may be."""
HEIGHT = "document.documentElement.getBoundingClientRect().height"
URGED = re.compile(r"<(?:button|a)\b[^>]*\bclass=\"(?:[^\"]* )?do(?: [^\"]*)?\"")
"""A button or link for the one thing to do next."""


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The demo build, which the program makes by living its story, with a wish to be decided."""
    with demo_server(tmp_path_factory.mktemp("ends") / "heron.sqlite3") as server:
        with httpx.Client(headers={"Origin": server}, timeout=120, follow_redirects=True) as client:
            made = client.post(f"{server}/builds/demo").url
            build = re.sub(r"(/builds/[^/]+).*", r"\1", str(made))
            client.post(f"{build}/bench/wish", data={"wish": "A lamp behind the seat"})
            for page in ("wishes", "path", "order"):  # what is worked out beside is at hand then
                settled(client, f"{build}/{page}", seconds=120)
        yield build


def _is_told_apart(address: str) -> bool:
    """Whether it is no document, nor one of the many trials of the order by other rules: three of
    the four tell enough."""
    return "/document" not in address and address.count("rule=") in (0, 3)


def _pages(build: str) -> dict[str, list[tuple[str, str]]]:
    """Every page of the build that a link leads to, by kind: its address below the build and what
    it says, the ones with most text first."""
    base = urlsplit(build).path
    seen, ahead, kinds = {f"{base}/bench"}, [f"{base}/bench"], dict[str, dict[str, str]]()
    with httpx.Client(base_url=build.removesuffix(base), timeout=60, follow_redirects=True) as web:
        while ahead:
            address = ahead.pop(0)
            name = address.removeprefix(base)
            kind = WHICH.sub("", name[1:])
            found = kinds.setdefault(kind, {})
            if len(found) >= MOST_OF_A_KIND.get(kind, FEW_OF_A_KIND):
                continue
            answer = web.get(address)
            if not answer.is_success or "Content-Disposition" in answer.headers:
                continue  # a file to keep is no page
            found[name] = answer.text
            for link in re.findall(r'<a[^>]* href="([^"#]*)[^>]*>', answer.text):
                to = html.unescape(link)
                if to.startswith(f"{base}/") and to not in seen and _is_told_apart(to):
                    seen.add(to)
                    ahead.append(to)
    return {
        kind: sorted(found.items(), key=lambda page: -len(page[1])) for kind, found in kinds.items()
    }


def test_no_page_is_longer_than_eight_screens_or_has_two_things_to_do_next(
    browser: Browser, lived: str
) -> None:
    """Without scripts: what is folded there is folded with them, and nothing is asked for again."""
    kinds = _pages(lived)
    assert {"tasks/", "parts/", "wishes/", "week/", "shop", "log"} <= kinds.keys()
    urged = {name: len(URGED.findall(text)) for of in kinds.values() for name, text in of}
    assert urged["/bench"] == 1
    assert {name: count for name, count in urged.items() if count > 1} == {}
    page = browser.new_page(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    lengths: dict[str, int] = {}
    for found in kinds.values():
        unasked = [name for name, _ in found if not any(each in name for each in ASKED_FOR)]
        for name in unasked[:MEASURED]:
            page.goto(f"{lived}{name}")
            lengths[name] = round(page.evaluate(HEIGHT))
            if lengths[name] < MOST_PX / 2:
                break
    page.close()
    for name, length in sorted(lengths.items(), key=lambda each: -each[1])[:12]:
        print(f"{length:6} px  {name}")  # pytest -s: the longest pages
    assert {name: px for name, px in lengths.items() if px > MOST_PX} == {}

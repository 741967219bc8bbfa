"""An export of any size comes in again through the browser; what is larger is answered."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.build.builds import EVENINGS, build_of, task
from tests.pages.conftest import NOW, Shop
from webapp.build.limits import MOST_DOCUMENT_BYTES, MOST_TASKS, MOST_TEXT_CHARACTERS
from webapp.exchange.build_document import write_document
from webapp.pages import addresses


def sent(shop: Shop, document: str) -> tuple[int, str]:
    """Upload a document as the form does; status and page, without going on to the build."""
    answer = shop.client.post(
        addresses.import_build(),
        files={"file": ("build.json", document.encode(), "application/json")},
        data={"document": ""},
        follow_redirects=False,
    )
    return answer.status_code, answer.text


@pytest.mark.slow
def test_a_build_of_as_many_tasks_as_there_may_be_comes_in_again(bare: Shop) -> None:
    names = [f"t{n}" for n in range(MOST_TASKS)]
    build = build_of(
        [replace(task(key, (1, 2.5, 4)), name="n" * 60, notes="o" * 3_000) for key in names],
        pairwise(names),
        first_start=names[-1],
        week=EVENINGS,
        now=NOW,
    )
    document = write_document(build)
    assert len(document) > 5 * 1024 * 1024
    assert sent(bare, document)[0] == 303
    assert bare.client.get("/builds/test-bench/document").text == document


def test_a_pasted_document_may_be_as_large_as_one_in_a_file(bare: Shop) -> None:
    text = '"' * MOST_TEXT_CHARACTERS
    tasks = [replace(task(f"t{n}", 1), notes=text, caution=text) for n in range(150)]
    document = write_document(build_of(tasks, first_start="t0", week=EVENINGS, now=NOW))
    assert len(document) > 5 * 1024 * 1024
    # A browser sends the lines of a text area with a carriage return each.
    answer = bare.client.post(
        addresses.import_build(),
        files={"file": ("", b"", "application/octet-stream")},
        data={"document": document.replace("\n", "\r\n")},
        follow_redirects=False,
    )
    assert answer.status_code == 303
    assert bare.stored("test-bench").tasks[7].notes == text


def test_a_large_file_with_a_fault_is_answered_and_not_shown_again(bare: Shop) -> None:
    status, page = sent(bare, '{"format": "other"}' + " " * 2_000_000)
    assert status == 422
    assert "keyturn-build" in page
    assert len(page) < 1_000_000


def test_a_small_file_with_a_fault_is_shown_to_be_mended(bare: Shop) -> None:
    status, page = sent(bare, '{"format": "a great heron"}')
    assert status == 422
    assert "a great heron" in page.split("<textarea")[1]


def test_a_document_that_is_too_large_is_refused_with_the_limit(bare: Shop) -> None:
    status, page = sent(bare, " " * MOST_DOCUMENT_BYTES + "{}")
    assert status == 422
    assert "64 MB is the most" in page


def test_what_is_far_too_large_is_refused_before_it_is_all_here(
    bare: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("webapp.pages.frame.security.UPLOAD_LIMIT_BYTES", 69_000_000)

    def pieces() -> Iterator[bytes]:
        yield b"document="
        for _ in range(200):
            yield b"x" * 1_000_000

    headers = {"content-type": "application/x-www-form-urlencoded"}
    answer = bare.client.post(addresses.import_build(), content=pieces(), headers=headers)
    assert answer.status_code == 413
    assert "64 MB is the most" in answer.text


@pytest.mark.parametrize("length", [400_000_000, 10**30])
def test_what_says_that_it_is_far_too_large_is_refused_at_once(bare: Shop, length: int) -> None:
    headers = {"content-length": str(length)}
    answer = bare.client.post(addresses.import_build(), content=b"x", headers=headers)
    assert answer.status_code == 413
    assert "64 MB is the most" in answer.text

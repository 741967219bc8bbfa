"""The report of the build: one file with everything in it, and no name that is not wanted."""

import datetime as dt
import html
import random
import re
from base64 import b64decode
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from tests.first_start.lists import DAY, ENGINE, start_build
from tests.first_start.walker import Walker, to_it_ran
from tests.pages.conftest import HERON, NOW, Shop
from tests.photographs import file_of, photograph
from webapp.__main__ import main
from webapp.build.build_input import BuildInput, Part, Photograph, Task
from webapp.build.first_start import LicensedPaper
from webapp.build.three_point import ThreePoint
from webapp.exchange.build_document import document_pieces, read_document
from webapp.exchange.photographs import made_smaller
from webapp.pages.frame.kept_files import PACKET_CHARACTERS, packets
from webapp.pages.report import pictures as pictures_module
from webapp.pages.report.choice import MOST_PICTURE_BYTES, ReportChoice, side_px_of
from webapp.pages.report.pictures import Pictures
from webapp.pages.report.writer import report_pieces
from webapp.pages.words import amounts

NAMES = ("A. Builder", "B. Second", "J. Ferro")


def nothing(_: Photograph) -> bytes | None:
    return None


def report_of(
    build: BuildInput,
    at: dt.datetime = DAY,
    read: Callable[[Photograph], bytes | None] = nothing,
    **choice: bool,
) -> str:
    return "".join(report_pieces(build, ENGINE, ReportChoice(**choice), at=at, read=read))


def said(text: str) -> str:
    body = re.sub(r"<style>.*?</style>", "", text, flags=re.S)
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", body)))


def heron() -> BuildInput:
    build, faults = read_document(HERON.read_bytes(), now=NOW)
    assert build is not None
    assert not faults
    return build


@pytest.fixture(scope="module")
def walked() -> Walker:
    """A build whose every check up to its first start was signed by three people."""
    walker = Walker(start_build(ENGINE), ENGINE)
    to_it_ran(walker)
    return walker


def a_photograph(task: str, digest: str = "a" * 64, caption: str = "") -> Photograph:
    return Photograph(
        task=task,
        digest=digest,
        width_px=640,
        height_px=480,
        size_bytes=1000,
        added_on=dt.date(2026, 2, 1),
        caption=caption,
    )


def test_every_signature_is_in_it_with_its_readings(walked: Walker) -> None:
    text = said(report_of(walked.build, walked.at))
    signatures = [one for one in walked.standing.all if one.signature is not None]
    assert len(signatures) > 40
    for one in signatures:
        assert one.check.text in text
        assert one.signature is not None
        for reading in one.signature.readings:
            value = f"{reading.value:g}" if isinstance(reading.value, float) else reading.value
            assert f"{reading.name} {value} {reading.unit}" in text
    assert "Engine runs" in text


def test_no_name_of_a_person_is_in_it_unless_it_is_wanted(walked: Walker) -> None:
    first, *others = walked.build.start.signatures
    paper = LicensedPaper(name="J. Ferro", firm="Ferro", number="118", on=DAY.date())
    signatures = (replace(first, paper=paper), *others)
    build = replace(walked.build, start=replace(walked.build.start, signatures=signatures))
    without = said(report_of(build, walked.at))
    assert [name for name in (*NAMES, "by the wing") if name in without] == []
    assert "paper seen: Ferro, no. 118" in without
    with_them = said(report_of(build, walked.at, names=True))
    assert [name for name in (*NAMES, "by the wing") if name not in with_them] == []


def test_it_never_says_that_anything_is_safe(walked: Walker) -> None:
    for build in (walked.build, heron()):
        text = said(report_of(build, walked.at, names=True)).casefold()
        own = " ".join(task.name for task in build.tasks).casefold()
        assert text.count("safe") <= own.count("safe")
    assert "It is no inspection and replaces none." in said(report_of(walked.build, walked.at))


def test_parts_hours_and_circuits_of_a_build_are_in_it() -> None:
    build = heron()
    text = report_of(build, NOW)
    for part in build.parts:
        assert part.name in said(text)
        assert part.supplier in said(text)
    for circuit in build.plumbing.circuits:
        assert circuit.name in said(text)
    assert text.count("<svg") == 2 * len(build.plumbing.circuits)
    # hours of the log of the demo, and 5 hours of getting out among them
    assert sum(entry.hours + entry.setup_hours for entry in build.log) == 121.25
    assert "121 h 15 min in the shop" in said(text)
    assert "in the shop, written down" not in said(report_of(build, NOW, hours=False))


def test_costs_are_in_it_only_where_they_are_wanted() -> None:
    build = replace(heron(), parts=(Part(key="p", name="Hose", cost=1234.56),))
    assert "1,234.56" not in report_of(build, NOW)
    assert "1,234.56 for 1 part." in said(report_of(build, NOW, costs=True))


def test_every_date_tells_its_year(walked: Walker) -> None:
    months = "January|February|March|April|May|June|July|August|September|October|November|December"
    for build, at in ((heron(), NOW), (walked.build, walked.at)):
        text = said(report_of(build, at))
        dates = re.findall(rf"\b\d{{1,2}} (?:{months})(.{{5}})", text)
        assert len(dates) > 10
        assert [rest for rest in dates if not re.match(r" \d{4}", rest)] == []


def test_nothing_is_loaded_nothing_runs_and_no_text_becomes_a_tag() -> None:
    bad = '<script>alert(1)</script><img src="http://x/y"> & "quotes"'
    task = Task(key="t", name=bad, hours=ThreePoint.certain(1))
    build = BuildInput(
        name=bad,
        vehicle=bad,
        now=NOW,
        first_start=None,
        tasks=(task,),
        parts=(Part(key="p", name=bad, supplier=bad),),
        photographs=(a_photograph("t", caption=bad),),
    )
    text = report_of(build, NOW, lambda _: photograph())
    assert said(text).count(bad) >= 5
    assert "<script" not in text
    addresses = re.findall(r'(?:src|href|action)="([^"]+)"|url\(([^)]+)\)', text)
    addresses = [one or other for one, other in addresses]
    assert addresses
    assert [one for one in addresses if not one.startswith("data:")] == []
    assert "default-src 'none'" in text


def test_photographs_are_inside_and_what_is_lost_is_said() -> None:
    tasks = tuple(
        Task(key=key, name=f"Task {key}", hours=ThreePoint.certain(1)) for key in ("a", "b")
    )
    photographs = (
        a_photograph("a", "1" * 64, "the left side"),
        a_photograph("b", "2" * 64),
        a_photograph("b", "3" * 64),
    )
    build = BuildInput(name="B", now=NOW, first_start=None, tasks=tasks, photographs=photographs)
    files = {"1" * 64: photograph(60, (1600, 1200)), "2" * 64: photograph(160, (640, 480))}
    text = report_of(build, NOW, lambda one: files.get(one.digest))
    inside = re.findall(r'<img src="data:image/jpeg;base64,([^"]+)"', text)
    sizes = [Image.open(BytesIO(b64decode(one))).size for one in inside]
    assert sizes == [(1000, 750), (640, 480)]
    assert said(text).count("The picture is not in this report.") == 1
    assert "the left side, Sun 1 February 2026" in said(text)
    assert "<img" not in report_of(build, NOW, lambda one: files[one.digest], photographs=False)


def noise(width: int, height: int) -> bytes:
    """The picture of which a JPEG is largest: every point by chance."""
    data = random.Random(1).randbytes(width * height * 3)
    return file_of(Image.frombytes("RGB", (width, height), data))


@pytest.mark.parametrize("count", [30, 300, 1000])
def test_photographs_stay_within_their_room_however_many_there_are(
    count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Noise is what a JPEG takes most for: 0.4 MB at 800 points; what has no room is left out."""
    monkeypatch.setattr(pictures_module, "made_smaller", cache(made_smaller))  # all are the same
    jpeg = noise(800, 600)
    pictures = Pictures(read=lambda _: jpeg, count=count)
    addresses = [pictures.address(a_photograph("t")) for _ in range(min(count, 320))]
    inside = sum(len(b64decode(one.partition(",")[2])) for one in addresses)
    assert 0 < inside <= MOST_PICTURE_BYTES
    assert pictures.left_bytes == MOST_PICTURE_BYTES - inside
    assert addresses[0]


def test_the_more_photographs_the_smaller_each_is() -> None:
    assert [side_px_of(count) for count in (1, 60, 61, 300, 301, 1000)] == [
        *(1000, 1000, 800, 800, 400, 400)
    ]


def test_it_is_sent_in_packets_and_not_word_by_word() -> None:
    """A template makes twenty thousand pieces, and to send one took longer than to make it."""
    no_photographs = ReportChoice()
    pieces = [*report_pieces(heron(), ENGINE, no_photographs, at=NOW, read=nothing)]
    sent = [*packets(pieces)]
    assert "".join(sent) == "".join(pieces)
    assert len(sent) > 1
    assert all(len(packet) >= PACKET_CHARACTERS for packet in sent[:-1])
    longest = max(map(len, pieces))
    assert all(len(packet) < PACKET_CHARACTERS + longest for packet in sent)


# over HTTP and by the command ----------------------------------------------------------------
def test_the_page_asks_and_the_file_is_kept(shop: Shop) -> None:
    page = shop.page("report")
    assert 'name="names" value="on">' in page
    assert 'name="hours" value="on" checked>' in page
    answer = shop.client.get("/builds/the-heron/report/file?hours=on&photographs=on")
    assert answer.status_code == 200
    disposition = answer.headers["content-disposition"]
    assert disposition == 'attachment; filename="the-heron-report.html"'
    assert "121 h 15 min in the shop" in said(answer.text)
    without = said(shop.client.get("/builds/the-heron/report/file").text)
    assert "in the shop, written down" not in without
    for address in ("report", "report/file"):
        assert shop.client.get(f"/builds/no-such/{address}").status_code == 404


def test_a_photograph_of_a_task_gets_into_the_file(shop: Shop) -> None:
    shop.client.post(
        "/builds/the-heron/photographs?task=rad_bracket",
        data={"caption": "Hose labels"},
        files={"picture": ("a.jpg", photograph(60, (640, 480)), "image/jpeg")},
    )
    text = shop.client.get("/builds/the-heron/report/file?photographs=on").text
    assert text.count('<img src="data:image/jpeg;base64,') == 1
    assert "Hose labels" in text
    assert "the photographs, 1" in shop.page("report")


def test_the_command_makes_the_same_file_with_the_photographs_of_a_document(
    tmp_path: Path,
) -> None:
    build = heron()
    jpeg = photograph(60, (640, 480))
    build = replace(build, photographs=(a_photograph("rad_bracket", caption="Labels"),))
    document = tmp_path / "heron.json"
    document.write_text("".join(document_pieces(build, lambda *_: jpeg)), "utf-8")
    out = tmp_path / "report.html"
    assert main(["report", str(document), "-o", str(out), "--with-costs"]) == 0
    text = out.read_text("utf-8")
    assert text.count('<img src="data:image/jpeg;base64,') == 1
    costs = [part.cost for part in build.parts if part.cost is not None]
    assert f"{amounts.number(sum(costs))} for {len(costs)} part" in said(text)
    assert main(["report", str(document), "-o", str(out), "--without-photographs"]) == 0
    assert "<img" not in out.read_text("utf-8")


def test_the_command_reports_a_build_that_ran(tmp_path: Path) -> None:
    walker = Walker(start_build(ENGINE), ENGINE)
    to_it_ran(walker)
    now = walker.at.replace(second=0, microsecond=0, tzinfo=None)
    build = replace(heron(), start=walker.build.start, now=now)
    document, out = tmp_path / "ran.json", tmp_path / "report.html"
    document.write_text("".join(document_pieces(build)), "utf-8")
    assert main(["report", str(document), "-o", str(out)]) == 0
    assert said(out.read_text("utf-8")) == said(report_of(build, at=walker.at))


def test_the_command_refuses_what_is_no_document(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "x.json").write_text("[]")
    assert main(["report", str(tmp_path / "x.json"), "-o", str(tmp_path / "r.html")]) == 2
    assert not (tmp_path / "r.html").exists()
    assert capsys.readouterr().err

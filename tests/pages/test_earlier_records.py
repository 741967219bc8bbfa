"""A new build begun with an earlier one's record; the page where it is switched and renewed."""

import datetime as dt
import html
import re
from dataclasses import replace

import pytest

from tests.pages.conftest import Shop
from tests.settled import settled
from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.earlier_record import EarlierRecord
from webapp.build.edited import Edited
from webapp.pages.words.earlier_records import SHOWS_OTHERWISE, shows
from webapp.planning.record.calibration import calibration_of
from webapp.planning.record.taking_along import earlier_record_of
from webapp.services.changes import Stored, change
from webapp.services.forecast_figures import record_factors
from webapp.services.undo import take_back
from webapp.storage.builds import create_build, revision_of

GULL = "/builds/the-gull"
OFFER = re.compile(r'name="record-the-heron" value="on"( checked)?><span>([^<]+)<')


def begun(shop: Shop, **ticked: str) -> str:
    fields = {"name": "The Gull", "begin_with": "swap", "starts_on": "2026-02-10"}
    answer = shop.client.post("/builds/new", data=fields | ticked)
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def record_of(shop: Shop) -> EarlierRecord:
    record = earlier_record_of(shop.stored(), key="the-heron", on=dt.date(2026, 2, 10))
    assert record is not None
    return record


def gull_page(shop: Shop, name: str = "record") -> str:
    return html.unescape(settled(shop.client, f"{GULL}/{name}"))


def press(shop: Shop, do: str, *, seen: str = "", key: str = "the-heron") -> tuple[int, str]:
    answer = shop.client.post(f"{GULL}/record/earlier", data={"do": do, "key": key, "seen": seen})
    return answer.status_code, html.unescape(answer.text)


def log_on_a_finished_task(shop: Shop, *, hours: float) -> None:
    def edit(build: BuildInput) -> Edited[None]:
        done = next(t for t in build.tasks if t.finished_on and t.hours.expected > 0)
        entry = LogEntry(task=done.key, on=dt.date(2026, 2, 7), hours=hours)
        return Edited(build=replace(build, log=(*build.log, entry)), made=None)

    services = shop.client.app.state.services
    assert isinstance(change(services, "the-heron", edit), Stored)


def test_a_new_build_is_offered_what_the_others_showed_ticked(shop: Shop) -> None:
    page = html.unescape(shop.client.get("/builds/new").text)
    (offer,) = OFFER.findall(page)
    assert offer[0] == " checked"
    assert offer[1] == f"Begin with the record of The Heron: {shows(record_of(shop))}"


def test_with_the_tick_the_record_is_in_the_new_build_and_without_it_not(shop: Shop) -> None:
    begun(shop)
    assert shop.stored("the-gull").earlier_records == ()
    begun(shop, **{"record-the-heron": "on"})
    (record,) = shop.stored("the-gull-2").earlier_records
    assert record == record_of(shop)
    assert record.tasks == sum(kind.tasks for kind in record.kinds) > 20


@pytest.mark.parametrize("begin_with", ["empty", "electric"])
def test_however_a_build_begins_it_can_take_the_record_along(shop: Shop, begin_with: str) -> None:
    begun(shop, **{"record-the-heron": "on", "begin_with": begin_with})
    assert len(shop.stored("the-gull").earlier_records) == 1


def test_what_was_unticked_stays_so_when_the_form_is_refused(shop: Shop) -> None:
    fields = {"name": "", "begin_with": "swap"}
    page = shop.client.post("/builds/new", data=fields).text
    assert OFFER.findall(html.unescape(page))[0][0] == ""


def test_a_copy_of_a_build_is_not_counted_twice(shop: Shop) -> None:
    with shop.database.writing() as session:
        create_build(session, replace(shop.stored(), name="The Heron again"))
    page = html.unescape(shop.client.get("/builds/new").text)
    assert len(re.findall(r'name="record-the-heron[^"]*" value="on"', page)) == 2
    assert len(re.findall(r'name="record-the-heron[^"]*" value="on" checked', page)) == 1


def test_the_page_tells_by_kind_what_comes_from_where(shop: Shop) -> None:
    begun(shop, **{"record-the-heron": "on"})
    text = gull_page(shop)
    build = shop.stored("the-gull")
    level, kinds = calibration_of(build)
    assert kinds
    for kind in kinds:
        assert f"\N{MULTIPLICATION SIGN} {kind.factor:.2f}<br>{kind.earlier} task" in text
        assert kind.count == 0
    assert f"{level.earlier} tasks of earlier builds and 0 tasks of this one" in text
    attendance = record_factors(build).attendance
    assert f"begins with {attendance.mean * 100:.0f} %" in text
    assert f"n = {attendance.earlier} full week" in text


def test_it_is_switched_off_and_on_and_let_go_and_each_press_can_be_undone(shop: Shop) -> None:
    begun(shop, **{"record-the-heron": "on"})
    as_begun = shop.stored("the-gull")
    off_date = re.findall(r"Switch it off.*?then likely ([^<]+)<", gull_page(shop))[0]
    status, _ = press(shop, "off")
    assert status == 200
    (record,) = shop.stored("the-gull").earlier_records
    assert not record.counts
    text = gull_page(shop)
    assert "Switched off." in text
    assert f"First start is likely {off_date} as it stands." in text
    assert record_factors(shop.stored("the-gull")).level.count == 0
    press(shop, "on")
    assert shop.stored("the-gull") == as_begun
    press(shop, "drop")
    assert shop.stored("the-gull").earlier_records == ()
    services = shop.client.app.state.services
    with shop.database.reading() as session:
        revision = revision_of(session, "the-gull")
    assert revision is not None
    take_back(services, "the-gull", first=revision, last=revision)
    assert shop.stored("the-gull") == as_begun


def test_it_is_renewed_as_it_was_shown_and_not_otherwise(shop: Shop) -> None:
    begun(shop, **{"record-the-heron": "on"})
    assert "As it is now" not in gull_page(shop)
    log_on_a_finished_task(shop, hours=6.0)
    now = shows(record_of(shop))
    text = gull_page(shop)
    assert f"As it is now: {now}" in text
    after = re.findall(r"Take it as it is now.*?then likely ([^<]+)<", text)
    assert len(after) == 1
    status, text = press(shop, "take", seen="1 task took 2.00 times its hours")
    assert status == 422
    assert SHOWS_OTHERWISE in text
    assert press(shop, "take", seen=now)[0] == 200
    assert shop.stored("the-gull").earlier_records == (record_of(shop),)
    assert f"First start is likely {after[0]} as it stands." in gull_page(shop)


def test_another_builds_record_is_taken_along_later(shop: Shop) -> None:
    begun(shop)
    text = gull_page(shop)
    assert "Take its record along" in text
    assert press(shop, "take", seen=shows(record_of(shop)))[0] == 200
    assert shop.stored("the-gull").earlier_records == (record_of(shop),)


def test_a_record_that_is_not_there_is_said_to_be_gone(shop: Shop) -> None:
    begun(shop)
    status, text = press(shop, "off", key="the-lapwing")
    assert status == 422
    assert "is not here any more" in text
    assert shop.client.post("/builds/nobody/record/earlier", data={"do": "on"}).status_code == 404

"""Later hours and holidays over HTTP: stored, refused with what was typed, taken out and undone."""

import datetime as dt

import pytest

from tests.pages.conftest import Shop
from tests.pages.test_journal import undo_fields
from tests.pages.test_two_windows import opened, saved
from webapp.build.shop import DayHours, DayRange, WeekSession
from webapp.build.time.promised_days import PromisedDays

MARCH = dt.date(2026, 3, 1)
"""A Sunday; the demo's clock stands at Monday 9 February 2026, its week is Tue, Thu, Sat."""
WEDNESDAY = WeekSession(weekday=2, hours=DayHours(opens_minute=1080, closes_minute=1260))
EASTER = {"first_on": "2026-04-03", "last_on": "2026-04-10", "name": "holidays", "closed": "on"}


def from_march_also_wednesdays(shop: Shop) -> tuple[int, str]:
    form = opened(shop, "shop/later", "shop/later")
    fields = {"from_on": "2026-03-01", "opens__2__0": "18", "closes__2__0": "21"}
    return saved(shop, form, **fields)


def test_from_march_also_wednesdays_leaves_what_was_promised_before(shop: Shop) -> None:
    before = shop.stored()
    assert from_march_also_wednesdays(shop)[0] == 200
    after = shop.stored()
    assert after.shop.week == before.shop.week
    (later,) = after.shop.later_weeks
    assert later.from_on == MARCH
    assert set(later.week) == {*before.shop.week, WEDNESDAY}
    was, now = PromisedDays(before), PromisedDays(after)
    days = [MARCH + dt.timedelta(days=i) for i in range(-60, 10)]
    assert [day for day in days if was.hours(day) != now.hours(day)] == [dt.date(2026, 3, 4)]
    assert "These hours hold until Sun 1 March, when other hours begin." in shop.page("shop")


def test_a_later_week_is_changed_where_it_stands_and_taken_out(shop: Shop) -> None:
    from_march_also_wednesdays(shop)
    form = opened(shop, "shop/later?week=2026-03-01", "shop/later")
    assert saved(shop, form, from_on="2026-03-02", closes__2__0="22")[0] == 200
    (later,) = shop.stored().shop.later_weeks
    assert later.from_on == MARCH + dt.timedelta(days=1)
    assert max(one.hours.closes_minute for one in later.week if one.weekday == 2) == 22 * 60
    assert shop.post("shop/later-out", of="2026-03-02")[0] == 200
    assert shop.stored().shop.later_weeks == ()


def test_a_first_day_twice_is_refused_and_what_was_typed_stays(shop: Shop) -> None:
    from_march_also_wednesdays(shop)
    before = shop.stored()
    status, text = from_march_also_wednesdays(shop)
    assert status == 422
    assert "another shop week has the same first day" in text
    assert 'id="later-from_on-wrong"' in text
    assert 'value="2026-03-01"' in text
    assert shop.stored() == before


def test_a_week_without_hours_is_refused(shop: Shop) -> None:
    form = opened(shop, "shop/later", "shop/later")
    times = {name.replace("-", "__"): "" for name in form.sent if "es-" in name or "ens-" in name}
    status, text = saved(shop, form, **times, from_on="2026-03-01")
    assert status == 422
    assert "it has no hours" in text


def test_holidays_and_winter_hours_are_stored_listed_and_taken_out(shop: Shop) -> None:
    assert shop.post("shop/range", **EASTER)[0] == 200
    winter = {
        "first_on": "2026-11-01",
        "last_on": "2027-02-28",
        "name": "winter hours",
        "closed": "",
    }
    status, text = shop.post("shop/range", **winter, **{"opens-5-0": "10", "closes-5-0": "16"})
    assert status == 200
    saturday = WeekSession(weekday=5, hours=DayHours(opens_minute=600, closes_minute=960))
    assert shop.stored().shop.ranges == (
        DayRange(
            first_on=dt.date(2026, 4, 3), last_on=dt.date(2026, 4, 10), name="holidays", week=()
        ),
        DayRange(
            first_on=dt.date(2026, 11, 1),
            last_on=dt.date(2027, 2, 28),
            name="winter hours",
            week=(saturday,),
        ),
    )
    assert "Sun 1 November to Sun 28 February 2027" in text
    assert "Saturday 10:00 to 16:00" in text
    assert shop.post("shop/range-out", of="2026-04-03")[0] == 200
    assert [one.name for one in shop.stored().shop.ranges] == ["winter hours"]


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"first_on": "2026-04-09", "last_on": "2026-04-12"}, "last_on", "it overlaps the range"),
        ({"first_on": "2026-05-09", "last_on": "2026-05-01"}, "last_on", "ends before it begins"),
        ({"first_on": "2026-05-09", "last_on": "2046-05-08"}, "last_on", "7,305 days long"),
        ({"first_on": "", "last_on": "2026-05-01"}, "first_on", "The first day"),
        ({"first_on": "2026-05-01", "last_on": "1 May"}, "last_on", "The last day"),
        ({"closed": ""}, "closed", "Tick “closed all the while”"),
        ({"opens-5-0": "10", "closes-5-0": "12"}, "closed", "hours are typed for them"),
        ({"closed": "", "opens-5-0": "12", "closes-5-0": "10"}, "opens-5-0", "closes at 10:00"),
        ({"closed": "", "opens-5-0": "noon", "closes-5-0": "10"}, "opens-5-0", "Saturday, opens"),
        ({"name": "n" * 600}, "name", "500"),
    ],
)
def test_a_range_that_can_not_be_is_refused_beside_its_field(
    shop: Shop, typed: dict[str, str], field: str, said: str
) -> None:
    # 9 May 2026 to 8 May 2046: 20 years with the 29 February of 2028, 32, 36, 40 and 44: 7,305.
    shop.post("shop/range", **EASTER)
    before = shop.stored()
    fields = {**EASTER, "first_on": "2026-05-01", "last_on": "2026-05-02", **typed}
    status, text = shop.post("shop/range", **fields)
    assert status == 422
    assert f'id="range-{field}-wrong"' in text
    assert said in text
    assert shop.stored() == before


def test_a_range_is_changed_and_one_taken_out_meanwhile_is_told(shop: Shop) -> None:
    shop.post("shop/range", **EASTER)
    here, there = (opened(shop, "shop/later?days=2026-04-03", "shop/range") for _ in range(2))
    assert saved(shop, here, last_on="2026-04-12")[0] == 200
    assert saved(shop, there, name="Easter")[0] == 200
    (days,) = shop.stored().shop.ranges
    assert (days.last_on, days.name) == (dt.date(2026, 4, 12), "Easter")
    gone = opened(shop, "shop/later?days=2026-04-03", "shop/range")
    shop.post("shop/range-out", of="2026-04-03")
    status, text = saved(shop, gone, name="Spring")
    assert status == 422
    assert "was taken out meanwhile" in text
    assert shop.stored().shop.ranges == ()


def test_undo_takes_a_range_and_a_later_week_back(shop: Shop) -> None:
    before = shop.stored()
    pages = [from_march_also_wednesdays(shop)[1], shop.post("shop/range", **EASTER)[1]]
    journal = shop.page("journal")
    assert "Entered the range of days “holidays”, Fri 3 April to Fri 10 April: closed." in journal
    assert "Entered the shop week from Sun 1 March: " in journal
    for page in reversed(pages):
        assert shop.post("journal/take-back", **undo_fields(page))[0] == 200
    assert shop.stored() == before

"""Tightening from the Order page, and the order that is kept.

The build is made by hand. The shop is open 18:00 to 22:00 every day, the vice is out, now is
Tuesday 10 February 2026, 18:00. By the house rules the setup that is out comes first: bend 18 to
20, get out the welder 20 to 21, weld 21 to 22, 48 hours of cure: Thursday 22:00. The best is to
weld first: get out the welder 18 to 19, weld 19 to 20, cured on Thursday 20:00; the vice comes out
again and the bracket is bent while the sealant cures. Two shop hours, or two hours by the clock.
"""

import datetime as dt
import html
import itertools
import re
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.pages.conftest import NOW as PAGE_NOW
from tests.pages.conftest import Shop as Served
from tests.pages.conftest import client_of
from tests.pages.test_two_windows import opened, saved
from tests.planning.tighten.until_proved import tightened_until_proved
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput, Dependency, Fault, Part, Task
from webapp.build.shop import DayHours, Setup, Shop, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.pages.order.kept import follow
from webapp.pages.path.changed_places import longest_run
from webapp.pages.path.tightening import house_rules_cost, verdict, within
from webapp.pages.words.moves import gain_words
from webapp.planning.chances.move_costs import move_from
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.order_that_holds import KeptOrder
from webapp.planning.tighten.tighten import Progress, Tightened, tighten
from webapp.services.forecast_figures import forecast_figures, record_factors
from webapp.services.plan_cache import PlanCache
from webapp.services.tightenings import Search, Tightenings
from webapp.storage.builds import create_build
from webapp.storage.database import Database
from webapp.storage.journal import journal_of

NOW = dt.datetime(2026, 2, 10, 18)
EVENING = DayHours(opens_minute=18 * 60, closes_minute=22 * 60)
TWO_SETUPS = BuildInput(
    name="The Heron",
    now=NOW,
    first_start="start",
    shop=Shop(
        week=tuple(WeekSession(weekday=day, hours=EVENING) for day in range(7)),
        setups_out=("vice",),
        setups=(Setup(key="vice", name="Vice", hours=1), Setup(key="tig", name="TIG", hours=1)),
    ),
    tasks=(
        Task(key="bend", name="Bend the bracket", hours=ThreePoint.certain(2), setup="vice"),
        Task(key="weld", name="Weld the tank", hours=ThreePoint.certain(1), setup="tig"),
        Task(key="start", name="First start", hours=ThreePoint.certain(0)),
    ),
    dependencies=(
        Dependency(before="bend", after="start"),
        Dependency(before="weld", after="start", wait_hours=48, why="sealant cure"),
    ),
)
WELD_FIRST = ("weld", "bend", "start")
HEADERS = {"Origin": "http://127.0.0.1:8642"}


def serve(tmp_path: Path, build: BuildInput, search: Search = tighten) -> Iterator[Served]:
    """The build on pages of its own, tightened by `search`."""
    data_file = tmp_path / "two.sqlite3"
    data_file.write_bytes(file_with(lambda session: create_build(session, build)))
    with client_of(data_file, now=NOW) as client:
        state: Any = client.app.state
        state.services = replace(state.services, tightenings=Tightenings(search))
        yield Served(client, data_file)
        state.services.tightenings.close()


def ends_with_its_proof(
    build: BuildInput, *, seconds: float, kept_order: tuple[str, ...] | None, **_: Any
) -> Tightened:
    """A search that gives no time to what comes behind the proof."""
    return tightened_until_proved(build, seconds=seconds, kept_order=kept_order)


@pytest.fixture
def two(tmp_path: Path) -> Iterator[Served]:
    """The build with two setups."""
    yield from serve(tmp_path, TWO_SETUPS, ends_with_its_proof)


class Waiting:
    """A search that says how far it is and goes on until it is told to stop."""

    def __init__(self) -> None:
        self.began = 0
        self.told = 0

    def is_asked(self, times: int) -> None:
        """Wait until it was asked so often and has said how far it is."""
        until = time.monotonic() + 30
        while self.told < times:
            assert time.monotonic() < until
            time.sleep(0.02)
        assert self.began == times

    def __call__(
        self,
        build: BuildInput,
        *,
        progress: Callable[[Progress], None],
        stop: threading.Event,
        **_: Any,
    ) -> Tightened:
        self.began += 1
        at = dt.datetime(2026, 2, 12, 22)
        progress(
            Progress(
                seconds=0.1, first_start_at=at, first_start_shop_hours=12.0, bound_shop_hours=9.46
            )
        )
        self.told += 1
        assert stop.wait(20)
        return tighten(build, seconds=3)


@pytest.fixture
def waiting() -> Waiting:
    return Waiting()


@pytest.fixture
def held(tmp_path: Path, waiting: Waiting) -> Iterator[Served]:
    """The same with a search that waits."""
    yield from serve(tmp_path, TWO_SETUPS, waiting)


def come_to_an_end(served: Served, within_seconds: float = 60) -> str:
    """Ask as the page does until the run is over; what it found.

    A proof ends a run, most often in a second; on a busy machine, where the solver has to be
    loaded first, ten were not enough. So a test that wants the proof looks for 120 seconds.
    """
    until = time.monotonic() + within_seconds
    while "hx-trigger" in (text := html.unescape(served.page("tightening"))):
        assert time.monotonic() < until, text
        time.sleep(0.05)
    return text


def run_number(text: str) -> str:
    return text.split('name="run" value="')[1].split('"')[0]


def tighten_and_keep(served: Served) -> None:
    assert served.post("tighten", seconds="120")[0] == 200
    found = come_to_an_end(served)
    assert served.post("keep-order", keep="found", run=run_number(found))[0] == 200


def test_it_finds_the_best_possible_order_and_says_what_the_house_rules_cost(
    tmp_path: Path,
) -> None:
    """By the search of the program itself, which goes on behind the proof for a while."""
    for two in serve(tmp_path, TWO_SETUPS):
        assert two.post("tighten", seconds="120")[0] == 200
        found = come_to_an_end(two)
        assert "This is the best possible order." in found
        assert "every estimate holds: first start is Thu 12 February 20:00, by the house" in found
        assert "Thu 12 February 22:00: they cost 0.1 days against it (2 shop hours)" in found
        assert re.search(r"keeping it brings first start [\d.]+ days? earlier: likely", found)
        assert "1 of 3 tasks changed places" in found
        # the welder and then the vice again, where the house rules get the welder out alone
        assert "Setups are got out 2 times instead of 1, in 2 h instead of 1 h." in found
        assert two.stored().kept_order == ()


def test_the_three_orders_stand_side_by_side_and_of_two_alike_one_is_kept(two: Served) -> None:
    """With certain hours the best over the draws is that for the likely hours: weld first."""
    two.post("tighten", seconds="120")
    found = come_to_an_end(two)
    rows = re.findall(r'<th scope="row">([^<]*)</th><td>([^<]*)</td>', found)
    assert rows[:3] == [
        ("The order of today", "Thu 12 Feb"),
        ("Best for the likely hours", "Thu 12 Feb"),
        ("Best over the draws", "Thu 12 Feb"),
    ]
    assert "Over the draws no order was found that gains more." in found
    assert "Keep the best over the draws" not in found
    assert "Keep this order" in found


def test_an_order_that_is_better_over_the_draws_is_offered_first_and_kept_at_a_press(
    tmp_path: Path,
) -> None:
    """The search for the likely hours comes to the house rules here; the draws weld first."""

    def no_better(build: BuildInput, **limits: Any) -> Tightened:
        held = make_plan(build)
        return replace(
            tighten(build, **limits), plan=held, order=("bend", "weld", "start"), proved_best=False
        )

    for served in serve(tmp_path, TWO_SETUPS, no_better):
        served.post("tighten", seconds="10")
        found = come_to_an_end(served)
        assert re.search(r"Over the draws one order brings first start [\d.]+ days? earlier", found)
        assert '<button name="keep" value="drawn" class="do">Keep the best over the draws' in found
        assert "What moves most in the best order over the draws" in found
        assert "Bend the bracket</a>: 1 place later" in found or (
            "Weld the tank</a>: 1 place earlier" in found
        )
        assert served.post("keep-order", keep="drawn", run="99")[0] == 409
        assert served.stored().kept_order == ()
        assert served.post("keep-order", keep="drawn", run=run_number(found))[0] == 200
        kept = served.stored().kept_order
        assert kept.index("weld") < kept.index("bend")


def test_where_the_draws_gain_nothing_that_is_said(tmp_path: Path) -> None:
    for served in serve(tmp_path, replace(TWO_SETUPS, dependencies=TWO_SETUPS.dependencies[:1])):
        served.post("tighten", seconds="10")
        found = come_to_an_end(served)
        assert "Over the draws no order was found that gains anything." in found
        assert "Keep the best over the draws" not in found


def test_a_kept_order_is_followed_since_the_day_it_was_kept_and_let_go_of(two: Served) -> None:
    tighten_and_keep(two)
    assert two.stored().kept_order == WELD_FIRST
    assert two.stored().kept_on == NOW.date()
    page = two.page("order")
    assert "This follows the kept order, since Tue 10 February." in page
    assert page.index("Weld the tank</a>") < page.index("Bend the bracket</a>")
    assert "best possible" not in two.page("path")
    assert "Thu 12 February" in two.page("path")
    form = opened(two, "order", "let-go-order")
    assert saved(two, form)[0] == 200
    assert (two.stored().kept_order, two.stored().kept_on) == ((), None)
    page = two.page("order")
    assert "kept order" not in page
    assert page.index("Bend the bracket</a>") < page.index("Weld the tank</a>")


def test_the_forecast_follows_the_kept_order() -> None:
    """All hours are certain here, so that the same draw is later by what the setups take."""
    kept, by_rules = (
        forecast_figures(replace(TWO_SETUPS, kept_order=order)) for order in (WELD_FIRST, ())
    )
    assert kept is not None
    assert by_rules is not None
    assert (kept.forecast.draws.shop < by_rules.forecast.draws.shop).all()


def test_an_order_is_kept_and_let_go_with_what_it_says_of_the_setup() -> None:
    kept = follow(KeptOrder(keys=WELD_FIRST, setup_first=True))(TWO_SETUPS).build
    assert (kept.kept_order, kept.kept_setup_first) == (WELD_FIRST, True)
    again = follow(KeptOrder(keys=WELD_FIRST))(kept).build
    assert again.kept_setup_first is False
    gone = follow(KeptOrder())(kept).build
    assert (gone.kept_order, gone.kept_on, gone.kept_setup_first) == ((), None, False)


def test_keeping_is_in_the_journal(two: Served) -> None:
    tighten_and_keep(two)
    database = Database.open(two.data_file)
    with database.reading() as session:
        entry = next(e for e in journal_of(session, "the-heron") if e.noun == "builds")
    database.close()
    assert entry.before == {"kept_order": "[]", "kept_on": None}
    assert entry.after == {"kept_order": '["weld", "bend", "start"]', "kept_on": "2026-02-10"}


def test_the_house_rules_can_be_kept_instead(two: Served) -> None:
    two.post("tighten", seconds="120")
    come_to_an_end(two)
    assert two.post("keep-order", keep="held")[0] == 200
    assert two.stored().kept_order == ()
    assert "best possible" not in two.page("path")


def test_where_nothing_is_gained_it_says_so(tmp_path: Path) -> None:
    one = replace(TWO_SETUPS, dependencies=TWO_SETUPS.dependencies[:1])
    for served in serve(tmp_path, one, ends_with_its_proof):
        served.post("tighten", seconds="120")
        found = come_to_an_end(served)
        assert "No gain: no order earlier than that of the house rules was found." in found
        assert "This is the best possible order." in found
        assert "Keep this order" not in found
        assert "they cost nothing" in found


def test_a_kept_order_is_measured_against_too(two: Served) -> None:
    tighten_and_keep(two)
    two.post("tighten", seconds="120")
    found = come_to_an_end(two)
    assert "No gain: no order earlier than the kept one was found." in found
    assert "Stay with the kept order" in found


def test_while_it_runs_it_shows_how_far_it_is_and_the_pages_go_on(
    held: Served, waiting: Waiting
) -> None:
    held.post("tighten", seconds="120")
    waiting.is_asked(1)
    page = held.page("path")
    assert "of 120" in page
    assert "Thu 12 February 22:00, in 12 shop hours" in page
    assert "9.4 shop hours" in page  # 9.46 h of bound, never rounded up
    assert 'hx-trigger="every 2s"' in page
    assert "Tighten</button>" not in page
    held.post("tighten", seconds="10")
    held.post("tighten", seconds="10")
    assert waiting.began == 1
    for name in ("bench", "path", "order", "week"):
        held.page(name)


def test_cancelling_leaves_nothing_behind_and_a_new_run_can_begin(
    held: Served, waiting: Waiting
) -> None:
    held.post("tighten", seconds="120")
    held.post("stop-tightening", cancel="1")
    found = come_to_an_end(held)
    assert "best possible" not in found
    assert "Tighten</button>" in found
    held.post("tighten", seconds="10")
    assert "Stop and see what it found" in held.page("path")
    waiting.is_asked(2)


def test_stopping_shows_what_was_found(held: Served) -> None:
    held.post("tighten", seconds="120")
    held.post("stop-tightening", cancel="0")
    assert "Keep this order" in come_to_an_end(held)


def test_what_was_found_for_a_build_that_changed_is_said_to_be_for_it_as_it_was(
    held: Served,
) -> None:
    held.post("tighten", seconds="120")
    assert held.removed("remove-task?key=bend")[0] == 200
    held.post("stop-tightening", cancel="0")
    found = come_to_an_end(held)
    assert "This is for the build as it was today 18:00." in found
    assert "Tighten again" in found
    assert held.post("keep-order", keep="found", run=run_number(found))[0] == 200
    assert held.stored().kept_order == ("weld", "start")


def test_a_restart_in_the_middle_loses_nothing_but_the_run(held: Served) -> None:
    before = held.stored()
    held.post("tighten", seconds="120")
    with client_of(held.data_file, now=NOW) as client:
        again = Served(client, held.data_file)
        assert "Stop and see" not in again.page("path")
        status, text = again.post("keep-order", keep="found", run="1")
        assert status == 409
        assert "not at hand any more" in text
    assert held.stored() == before


def test_an_order_found_since_is_not_kept_in_its_place(two: Served) -> None:
    two.post("tighten", seconds="120")
    first = run_number(come_to_an_end(two))
    two.post("tighten", seconds="120")
    come_to_an_end(two)
    assert two.post("keep-order", keep="found", run=first)[0] == 409
    assert two.stored().kept_order == ()


def test_an_order_that_can_not_be_kept_is_said_to_be_and_what_was_found_stays(
    two: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_kept_order(_: PlanCache, build: BuildInput) -> tuple[Fault, ...]:
        wrong = Fault(kind="build", key="", field="kept_order", text="This order will not do.")
        return (wrong,) if build.kept_order else ()

    two.post("tighten", seconds="120")
    run = run_number(come_to_an_end(two))
    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(PlanCache, "faults_of", no_kept_order)
        status, text = two.post("keep-order", keep="found", run=run)
    assert status == 422
    assert "This order will not do." in text
    assert two.stored().kept_order == ()
    assert run_number(two.page("path")) == run
    assert two.post("keep-order", keep="found", run=run)[0] == 200
    assert two.stored().kept_order != ()


@pytest.mark.parametrize("seconds", ["", "11", "-30", "1e9", "ten"])
def test_other_seconds_are_refused_by_name(two: Served, seconds: str) -> None:
    status, text = two.post("tighten", seconds=seconds)
    assert status == 422
    assert "10, 30 or 120" in text


def test_an_unsolvable_build_says_which_things_make_it_so(tmp_path: Path) -> None:
    rod = Part(key="rod", name="Filler rod", serves=("weld",))
    die = Part(key="die", name="Bending die", serves=("bend",))
    for served in serve(tmp_path, replace(TWO_SETUPS, parts=(rod, die))):
        served.post("tighten", seconds="10")
        found = come_to_an_end(served)
        assert "No order reaches first start." in found
        assert "These things together make it so:" in found
        for name in ("Filler rod", "Bending die"):
            assert name in found
        assert "Keep this order" not in found


def test_what_fell_out_and_what_was_set_in_is_named(two: Served) -> None:
    tighten_and_keep(two)
    assert two.post("bench/done", task="weld")[0] == 200
    page = two.page("order")
    assert "Fell out, finished or set aside: Weld the tank." in page
    assert two.post("tasks/new", **{"name-0": "Paint the bracket", "likely-0": "1"})[0] == 200
    page = two.page("order")
    assert "Set in by the house rules: Paint the bracket." in page


def test_it_says_when_the_house_rules_are_earlier_than_the_kept_order(tmp_path: Path) -> None:
    """The worse of the two orders, as a document may bring it in: bend, then weld."""
    kept = replace(TWO_SETUPS, kept_order=("bend", "weld", "start"), kept_on=NOW.date())
    out = replace(kept.shop, setups_out=("tig",))  # the welder is out: the house rules weld first
    for served in serve(tmp_path, replace(kept, shop=out)):
        until = time.monotonic() + 30
        while "being worked out" in (page := served.page("order")) and time.monotonic() < until:
            time.sleep(0.05)
        assert re.search(r"The order has aged: letting go of it wins [\d.]+ days?\.", page)
        assert re.search(r"It brings first start [\d.]+ days? later than the house rules do", page)


def settled(served: Served, page: str) -> str:
    """The words of a page once all that it works out in the background is there."""
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", served.settled(page))).split())


def test_it_says_what_searching_again_would_win_wherever_the_order_is_shown(tmp_path: Path) -> None:
    """Bend, then weld was kept; welding first is earlier, by the mean of the draws of the pages."""
    kept = replace(TWO_SETUPS, kept_order=("bend", "weld", "start"), kept_on=NOW.date())
    factors = record_factors(kept)
    move = move_from(kept, factors, replace(kept, kept_order=WELD_FIRST), factors)
    assert move is not None
    assert move.days < 0
    for served in serve(tmp_path, kept):
        for page in ("order", "path", "week"):
            said = f"Searching again would win {gain_words(move.days, move.error_days)}."
            assert said in settled(served, page), page
        assert "letting go of it wins" not in settled(served, "order")
        assert served.post("tighten", seconds="30")[0] == 200
        come_to_an_end(served)
        assert "Searching again would win" not in served.page("path")


def test_of_an_order_that_has_not_aged_nothing_is_said(tmp_path: Path) -> None:
    kept = replace(TWO_SETUPS, kept_order=WELD_FIRST, kept_on=NOW.date())
    for served in serve(tmp_path, kept):
        for page in ("order", "path", "week"):
            assert "Searching again" not in settled(served, page)


def test_without_a_kept_order_nothing_is_searched(two: Served) -> None:
    for page in ("order", "path", "week"):
        assert "searched-again" not in two.page(page)


def test_a_search_that_breaks_off_says_so_and_can_be_begun_again(tmp_path: Path) -> None:
    def broken(*_: Any, **__: Any) -> Tightened:
        raise MemoryError

    for served in serve(tmp_path, TWO_SETUPS, broken):
        served.post("tighten", seconds="10")
        found = come_to_an_end(served)
        assert "Tightening broke off" in found
        assert "Tighten</button>" in found


def test_a_plan_that_does_not_obey_the_build_is_never_claimed(tmp_path: Path) -> None:
    def dreaming(build: BuildInput, **limits: Any) -> Tightened:
        found = tighten(build, **limits)
        soon = replace(found.plan.tasks[-1], begins=found.plan.now)
        return replace(found, plan=replace(found.plan, tasks=(*found.plan.tasks[:-1], soon)))

    for served in serve(tmp_path, TWO_SETUPS, dreaming):
        served.post("tighten", seconds="10")
        assert "Tightening broke off" in come_to_an_end(served)


def test_there_is_nothing_to_tighten_once_first_start_is_done(tmp_path: Path) -> None:
    done = tuple(replace(task, finished_on=NOW.date()) for task in TWO_SETUPS.tasks)
    for served in serve(tmp_path, replace(TWO_SETUPS, tasks=done)):
        assert 'id="tighten"' not in served.page("path")
        served.post("tighten", seconds="10")
        assert 'id="tighten"' not in served.page("path")


# --- words ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bound_hours", "said"),
    [
        (7.0, "within 3 shop hours"),
        (6.999, "within 3.1 shop hours"),  # 10 - 6.999 is above 3
        (9.999, "within 0.1 shop hours"),
        (9.55, "within 0.5 shop hours"),  # 0.45
    ],
)
def test_never_more_is_said_than_was_proved(bound_hours: float, said: str) -> None:
    found = tighten(TWO_SETUPS, seconds=2)  # 10 shop hours: Thursday 20:00
    less = replace(found, proved_best=False, bound_shop_hours=bound_hours)
    assert within(less) == said
    assert said.removeprefix("within") in verdict(less, today=NOW.date())
    assert "This is the best" not in verdict(less, today=NOW.date())


def test_a_gap_in_closed_hours_is_told_by_the_clock() -> None:
    found = tighten(TWO_SETUPS, seconds=2)
    at = found.plan.first_start_at
    assert at is not None
    # 90 minutes as shown to the minute are up to 91
    less = replace(found, proved_best=False, bound_at=at - dt.timedelta(minutes=90))
    assert within(less) == "within 1.6 hours by the clock"


def test_house_rules_that_are_earlier_are_said_to_be() -> None:
    found = tighten(TWO_SETUPS, seconds=2)
    said = house_rules_cost(found.house_rules, found.plan, today=PAGE_NOW.date())
    assert said == "first start is Thu 12 February 22:00; the house rules would be 2 hours earlier."


@given(st.permutations(range(7)))
def test_as_few_tasks_as_can_be_are_said_to_have_changed_places(places: list[int]) -> None:
    """Against every subset of the places, from the largest down."""
    run = longest_run(places)
    kept = [places[i] for i in run]
    assert kept == sorted(kept)
    assert run == sorted(run)
    longest = max(
        size
        for size in range(8)
        for chosen in itertools.combinations(places, size)
        if list(chosen) == sorted(chosen)
    )
    assert len(run) == longest


def test_closing_ends_a_run_at_once() -> None:
    runs = Tightenings()
    runs.begin("x", TWO_SETUPS, 1, 120)
    run = runs.of("x")
    assert run is not None
    began = time.monotonic()
    runs.close()
    assert run.ended.wait(3)
    assert time.monotonic() - began < 5

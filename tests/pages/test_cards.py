"""Tonight's job cards: which tasks, in which order, what each says, and how many fit on paper."""

import datetime as dt
import re
from dataclasses import replace

import pytest

from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import BuildInput, Dependency, Part, RunningClock, Step
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.pages.cards.sheets import HEAD_MM, LINE_MM, SHEET_MM, on_sheets, text_mm
from webapp.pages.cards.views import CardsView, SheetCard, cards_view, sheet_card
from webapp.pages.frame.context import PageContext, page_of
from webapp.storage.builds import create_build

BRACKET, LOOM = "rad_bracket", "loom_crimp"


# how many fit -------------------------------------------------------------------------------
def test_a_text_takes_a_line_for_each_92_characters_and_each_line_end() -> None:
    assert text_mm("") == 0
    assert text_mm("x" * 92) == LINE_MM
    assert text_mm("x" * 93) == 2 * LINE_MM
    assert text_mm("a\n\n" + "x" * 93) == 4 * LINE_MM  # an empty line is a line


def test_cards_stand_in_their_order_and_the_first_that_does_not_fit_ends_them() -> None:
    # The first sheet has 272 - 24 = 248 mm: 124 + 124 fit to the millimetre.
    assert SHEET_MM - HEAD_MM == 248
    sheets = on_sheets([("a", 124), ("b", 124), ("c", 200), ("d", 100), ("e", 10)])
    assert sheets.sheets == (("a", "b"), ("c",))
    assert sheets.left_out == ("d", "e")  # e would fit, but what is printed is what comes first


def test_a_card_taller_than_a_sheet_has_both_to_itself_where_it_is_the_first() -> None:
    assert on_sheets([("a", 400), ("b", 10)]).left_out == ("b",)
    assert on_sheets([("a", 10), ("b", 400), ("c", 10)]).left_out == ("b", "c")
    assert on_sheets([]).left_out == ()


# which tasks --------------------------------------------------------------------------------
def at(shop: Shop, build: BuildInput) -> PageContext:
    """The page of another build, stored beside The Heron."""
    with shop.database.writing() as session:
        slug = create_build(session, build)
    return page_of(shop.client.app.state.services, slug, "Bench")


def heron(shop: Shop) -> PageContext:
    return page_of(shop.client.app.state.services, "the-heron", "Bench")


def keys(view: CardsView) -> list[str]:
    return [sheet.card.name for cards in view.sheets for sheet in cards]


def test_what_is_on_the_bench_comes_first_and_what_is_not_for_tonight_is_left_out(
    shop: Shop,
) -> None:
    page = heron(shop)
    usual = keys(cards_view(page))
    assert usual[0] == "Radiator lower bracket"
    loom = get_by_key(page.build.tasks, LOOM).name
    clock = RunningClock(task=LOOM, since=NOW)
    running = keys(cards_view(at(shop, replace(shop.stored(), on_bench=clock))))
    assert running[0] == loom
    assert running.count(loom) == 1
    assert "Radiator lower bracket" not in keys(cards_view(page, (BRACKET,)))


def test_outside_work_and_what_runs_by_itself_have_no_card(shop: Shop) -> None:
    page = heron(shop)
    assert page.plan is not None
    without_hands = {
        task.name for task in page.build.tasks if task.outside_days is not None or task.people == 0
    }
    assert without_hands
    assert not without_hands & set(keys(cards_view(page)))


def test_a_build_in_which_nothing_can_be_done_says_so(shop: Shop) -> None:
    done = dt.datetime(2026, 2, 9, 20)
    tasks = tuple(
        replace(task, finished_on=done, set_aside_on=None) for task in shop.stored().tasks
    )
    view = cards_view(at(shop, replace(shop.stored(), tasks=tasks)))
    assert view.sheets == ()
    assert view.nothing.startswith("Nothing is on the bench")


# what a card says ---------------------------------------------------------------------------
def card_of(shop: Shop, build: BuildInput, key: str = BRACKET) -> SheetCard:
    page = at(shop, build)
    return sheet_card(page, get_by_key(page.build.tasks, key))


def with_task(build: BuildInput, key: str = BRACKET, **facts: object) -> BuildInput:
    task = replace(get_by_key(build.tasks, key), **facts)  # type: ignore[arg-type]
    return replace(build, tasks=replaced_by_key(build.tasks, task))


def test_neighbours_and_parts_are_sentences_with_wait_and_why(shop: Shop) -> None:
    build = shop.stored()
    first, other = [task for task in build.tasks if task.finished_on is not None][:2]
    ahead = next(task for task in build.tasks if task.is_open and task.key != BRACKET)
    links = (
        Dependency(before=first.key, after=BRACKET, wait_hours=24, why="paint dries"),
        Dependency(before=other.key, after=BRACKET),
        Dependency(before=BRACKET, after=ahead.key, why="it hangs from it"),
    )
    part = Part(key="flat", name="Flat bar", arrived=True, serves=(BRACKET,))
    others = (each for each in build.parts if BRACKET not in each.serves)
    card = card_of(shop, replace(build, dependencies=links, parts=(part, *others)))
    assert card.sentences == (
        f"Finished before it: “{first.name} (wait 24 h, paint dries)” and “{other.name}”.",
        "Parts it needs: “Flat bar (here)”.",
        f"After it comes: “{ahead.name} (it hangs from it)”.",
    )


def test_long_notes_are_shortened_and_a_caution_never_is(shop: Shop) -> None:
    caution = "Lifting: nobody below it. " * 150
    card = card_of(shop, with_task(shop.stored(), caution=caution.strip(), notes="word " * 400))
    assert card.card.caution == caution.strip()
    assert len(card.card.notes) < 700
    assert card.card.notes.endswith("(the rest stands on its page)")


@pytest.mark.parametrize("steps", [1, 40, 90])
def test_steps_that_two_sheets_do_not_hold_are_counted(shop: Shop, steps: int) -> None:
    there = tuple(Step(text=f"Step number {number}") for number in range(steps))
    card = card_of(shop, with_task(shop.stored(), steps=there))
    shown = len(card.hands.steps)
    assert card.height_mm <= 2 * SHEET_MM - HEAD_MM
    if steps < 90:
        assert (shown, card.more_steps) == (steps, "")
    else:
        assert 0 < shown < steps
        assert card.more_steps == f"{steps - shown} more steps stand on its page."


def test_what_is_left_is_said_in_hours_and_minutes_as_on_the_bench(shop: Shop) -> None:
    left = next(
        fact.text for fact in card_of(shop, shop.stored()).card.facts if fact.word == "Left"
    )
    assert left == "2 h 30 min"  # 2.5 h in the demo build


def test_a_setup_and_the_room_of_the_order_are_said_as_a_person_says_hours(shop: Shop) -> None:
    page = shop.page("tasks/rad_bracket")
    assert "TIG welder out, 45 min to set up" in page  # 0.75 h
    rooms = [
        room
        for task in shop.stored().tasks
        for room in re.findall(r"leaves ([0-9.,]+) h of room", shop.page(f"tasks/{task.key}"))
    ]
    assert rooms
    assert all(len(room.partition(".")[2]) <= 1 for room in rooms)

"""A circuit as a drawing: whatever the graph, nothing lies on anything, and what is open shows."""

from itertools import pairwise

import pytest
from hypothesis import given, settings

from tests.pictures.circuits import NARROWEST_BOX, circuit_models, overlaps
from webapp.pictures.circuit import circuit_pictures
from webapp.pictures.circuit_model import (
    CircuitModel,
    CircuitPicture,
    PictureBox,
    PicturePipe,
    fitted,
    in_lines,
    room_of,
)
from webapp.pictures.circuit_order import arranged


def box(key: str, **said: str) -> PictureBox:
    return PictureBox(key=key, name=key.capitalize(), **said)


def pipe(
    number: int, from_box: str, to_box: str, bore_mm: float = 38.0, **said: object
) -> PicturePipe:
    return PicturePipe(
        number=number,
        key=f"r{number}",
        from_box=from_box,
        to_box=to_box,
        name=f"Hose {number}",
        size="38",
        bore_mm=bore_mm,
        **said,  # type: ignore[arg-type]
    )


def model(boxes: str, *pipes: PicturePipe, **said: object) -> CircuitModel:
    """Boxes by the letters of their keys; the first is where the circuit begins."""
    return CircuitModel(
        title="A circuit",
        medium="water",
        start=boxes[0],
        boxes=tuple(box(key) for key in boxes),
        pipes=pipes,
        **said,  # type: ignore[arg-type]
    )


LOOP = model("prt", pipe(1, "p", "r"), pipe(2, "r", "t"), pipe(3, "t", "p"))


# --- where things stand -----------------------------------------------------------------------


def test_a_loop_is_cut_once_where_it_comes_home() -> None:
    order = arranged(LOOP)
    assert order.returns == {3}
    assert order.columns == {"p": 0, "r": 1, "t": 2}


def test_the_broadest_way_is_the_main_line_and_a_branch_lies_below_it() -> None:
    # a - b (8) - d (8) and a - c (60) - d (60): 120 against 16 mm of bore
    order = arranged(
        model(
            "abcd",
            pipe(1, "a", "b", 8),
            pipe(2, "b", "d", 8),
            pipe(3, "a", "c", 60),
            pipe(4, "c", "d", 60),
        )
    )
    assert order.rows == {"a": 0, "c": 0, "d": 0, "b": 1}


def test_what_feeds_in_stands_just_before_what_it_feeds() -> None:
    order = arranged(model("abcf", pipe(1, "a", "b"), pipe(2, "b", "c"), pipe(3, "f", "c", 6)))
    assert order.columns["f"] == order.columns["c"] - 1


def test_a_component_without_a_run_stands_last() -> None:
    order = arranged(model("axb", pipe(1, "a", "b")))
    assert order.order == ("a", "b", "x")


def test_a_straight_run_is_one_level_pipe() -> None:
    broad, _ = circuit_pictures(model("ab", pipe(1, "a", "b")))
    (run,) = broad.runs
    (_, y1), (_, y2) = run.points
    assert y1 == y2


def test_a_run_to_the_next_component_goes_straight_down_on_a_phone() -> None:
    _, phone = circuit_pictures(model("ab", pipe(1, "a", "b")))
    (run,) = phone.runs
    (x1, _), (x2, _) = run.points
    assert x1 == x2
    assert phone.width == 358  # a phone of 390 less its margins


def test_more_than_eight_in_a_row_stand_in_one_column_on_a_broad_page_too() -> None:
    keys = "abcdefghi"
    pipes = [pipe(place, one, other) for place, (one, other) in enumerate(pairwise(keys), 1)]
    assert circuit_pictures(model(keys[:8], *pipes[:7]))[0].form == "broad"
    assert circuit_pictures(model(keys, *pipes))[0].form == "column"


def test_a_run_without_a_lane_goes_on_at_its_number() -> None:
    # six runs back to the first component overlap: four lanes, and two that stand apart
    keys = "abcdefg"
    on = [pipe(place, one, other) for place, (one, other) in enumerate(pairwise(keys), 1)]
    back = [pipe(10 + place, key, "a", 8) for place, key in enumerate(keys[1:])]
    _, phone = circuit_pictures(model(keys, *on, *back))
    numbers = [number.text for number in phone.numbers]
    assert sorted(numbers.count(str(run.number)) for run in back) == [1, 1, 1, 1, 2, 2]


def test_a_pipe_is_as_broad_as_its_bore_within_what_can_be_seen() -> None:
    # 3 + bore / 5, from 5 to 15 units
    broad, _ = circuit_pictures(
        model("abcd", pipe(1, "a", "b", 4), pipe(2, "b", "c", 40), pipe(3, "c", "d", 102))
    )
    assert [run.width for run in broad.runs] == [5.0, 11.0, 15.0]


# --- what is open -----------------------------------------------------------------------------


def test_an_open_run_has_a_gap_and_its_words() -> None:
    broad, phone = circuit_pictures(
        model("ab", pipe(1, "a", "b", gap="end", open_words="does not fit"))
    )
    for picture in (broad, phone):
        (run,) = picture.runs
        assert run.gap
        assert run.body.count("M") == 2
        assert any("does not fit" in words.text for words in picture.words)


def test_the_gap_lies_at_the_end_that_is_open() -> None:
    def gap_at(where: str) -> float:
        broad, _ = circuit_pictures(model("ab", pipe(1, "a", "b", gap=where, open_words="open")))
        (run,) = broad.runs
        assert run.gap_at is not None
        (begin, _), (end, _) = run.points
        return ((run.gap_at[0][0] + run.gap_at[1][0]) / 2 - begin) / (end - begin)

    assert gap_at("middle") == pytest.approx(0.5)
    assert gap_at("begin") < 0.45
    assert gap_at("end") > 0.55


def test_a_closed_circuit_has_no_gap() -> None:
    for picture in circuit_pictures(LOOP):
        assert not any(run.gap for run in picture.runs)


def test_what_the_whole_circuit_lacks_stands_at_its_foot() -> None:
    for picture in circuit_pictures(model("ab", pipe(1, "a", "b"), whole=("no drain",))):
        said = next(words for words in picture.words if words.text == "open: no drain")
        assert said.y > max(each.box.bottom for each in picture.boxes)
        assert any(run.key == "no drain" and run.gap for run in picture.runs)


# --- whatever the graph -----------------------------------------------------------------------


@given(circuit_models())
@settings(max_examples=150, deadline=None)
def test_nothing_lies_on_anything_or_is_cut_off_and_everything_open_is_a_gap_with_its_name(
    of: CircuitModel,
) -> None:
    for picture in circuit_pictures(of):
        assert list(overlaps(picture)) == []
        assert all(each.box.right - each.box.left >= NARROWEST_BOX for each in picture.boxes)
        shows_all_that_is_open(of, picture)


def shows_all_that_is_open(of: CircuitModel, picture: CircuitPicture) -> None:
    gaps = {run.key for run in picture.runs if run.gap}
    open_runs = {run.key for run in of.pipes if run.gap}
    assert gaps == open_runs | {port.key for port in of.ports} | {*of.whole}
    for run in of.pipes:
        assert _is_named(run, picture)
    titles = {run.title for run in picture.runs}
    assert all(f"open: {port.name}" in titles for port in of.ports)
    named = sum(words.text.startswith("open: ") for words in picture.words)
    open_boxes = sum(bool(each.open_words) for each in of.boxes)
    assert named == len(of.ports) + len(of.whole) + open_boxes
    assert sum(each.is_open for each in picture.boxes) == open_boxes


def _is_named(run: PicturePipe, picture: CircuitPicture) -> bool:
    """By its number in a circle, or by number and name above it."""
    by_number = any(number.key == run.key for number in picture.numbers)
    return by_number or any(words.text.startswith(run.named) for words in picture.words)


@given(circuit_models(most=6))
@settings(max_examples=30, deadline=None)
def test_the_same_circuit_is_drawn_the_same(of: CircuitModel) -> None:
    assert circuit_pictures(of) == circuit_pictures(of)


# --- words ------------------------------------------------------------------------------------


def test_a_name_is_broken_between_words_and_cut_where_it_is_too_long() -> None:
    lines = in_lines("Fuel filter with water trap and a heater", 90, "head", 2)
    assert len(lines) == 2
    assert lines[0] == "Fuel filter"
    assert lines[1].endswith("\N{HORIZONTAL ELLIPSIS}")
    assert all(room_of(line, "head") <= 90 for line in lines)


def test_a_word_that_fits_is_not_cut() -> None:
    assert fitted("drain", 60) == "drain"

"""The data sheet in the build document: read, written, refused, and taken back thing by thing."""

import datetime as dt
import json
from dataclasses import replace
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from tests.exchange.documents import small_document, text_of
from webapp.build.build_input import BuildInput
from webapp.build.data_sheet import (
    FIGURES,
    Belt,
    DataSheet,
    OwnLimit,
    Pulley,
    SheetFigure,
    Wire,
)
from webapp.build.verbs.taking_back import taken_back
from webapp.exchange.build_document import document_schema, read_document, write_document

NOW = dt.datetime(2026, 2, 2, 9)
VALIDATOR = jsonschema.Draft202012Validator(document_schema())
BOOST = {"name": "boost_bar", "value": 1.2, "source": "turbo maker's sheet"}
LIMIT = {"check": "charge_speed", "at": "hot1", "ok": 55, "source": "turbo maker"}
WIRE = {"key": "fan", "name": "Fan", "current_a": 14, "area_mm2": 2.5, "out_and_back_m": 6}
CRANK = {"name": "crank", "x_mm": 0, "y_mm": 0, "diameter_mm": 150, "drives": "crank"}
BELT = {"key": "main", "name": "Belt", "pulleys": [CRANK]}


def document(**lists: Any) -> dict[str, Any]:
    return small_document(data_sheet=lists)


def figure(**fields: Any) -> dict[str, Any]:
    return document(figures=[BOOST | fields])


def read(of: dict[str, Any]) -> BuildInput:
    build, faults = read_document(text_of(of), now=NOW)
    assert faults == ()
    assert build is not None
    return build


def faults_in(of: dict[str, Any]) -> list[str]:
    return [fault.text for fault in read_document(text_of(of), now=NOW)[1]]


def test_a_data_sheet_is_read_and_written_as_it_is() -> None:
    build = read(document(figures=[BOOST], limits=[LIMIT], wires=[WIRE], belts=[BELT]))
    assert build.data_sheet == DataSheet(
        figures=(SheetFigure(name="boost_bar", value=1.2, source="turbo maker's sheet"),),
        limits=(OwnLimit(check="charge_speed", at="hot1", ok=55, source="turbo maker"),),
        wires=(Wire(key="fan", name="Fan", current_a=14, area_mm2=2.5, out_and_back_m=6),),
        belts=(
            Belt(
                key="main",
                name="Belt",
                pulleys=(Pulley(name="crank", x_mm=0, y_mm=0, diameter_mm=150, drives="crank"),),
            ),
        ),
    )
    VALIDATOR.validate(json.loads(write_document(build)))
    assert read_document(write_document(build), now=NOW) == (build, ())
    assert "data_sheet" not in json.loads(write_document(read(small_document())))


@pytest.mark.parametrize(
    ("of", "words"),
    [
        (figure(value=5), "Figure boost (gauge) (boost_bar): its value in bar: 5. Enter a number"),
        (figure(value="much"), "it must be a number. Write it without quotes."),
        (figure(name="fuel", value="steam"), "it must be one of diesel, petrol. Pick one."),
        (figure(name="boost"), "“boost”"),
        (document(figures=[BOOST, BOOST]), "it stands there twice"),
        (document(limits=[LIMIT | {"source": ""}]), "it has no source. Enter one."),
        (document(limits=[LIMIT | {"check": "radiator"}]), "must be one of air_filter"),
        (document(limits=[LIMIT, LIMIT]), "it stands there twice"),
        (document(wires=[WIRE | {"area_mm2": 0}]), "its area in mm²: 0."),
        (document(wires=[WIRE | {"use": "lamp"}]), "must be one of starter, feed"),
        (document(wires=[WIRE, WIRE]), "Fan has the key fan already"),
        (
            document(belts=[BELT | {"pulleys": [CRANK | {"diameter_mm": -3}]}]),
            "Belt Belt, pulley crank (main): its diameter in mm: -3.",
        ),
        (document(belts=[BELT | {"pulleys": [CRANK, CRANK]}]), "it stands there twice"),
        (document(belts=[BELT, BELT]), "Belt has the key main already"),
        (document(colour="brass"), 'the field "colour" is unknown'),
    ],
)
def test_what_can_not_be_is_said_of_its_thing(of: dict[str, Any], words: str) -> None:
    assert words in " ".join(faults_in(of))


@pytest.mark.parametrize(
    "of",
    [
        document(),
        document(figures=[BOOST], limits=[LIMIT], wires=[WIRE], belts=[BELT]),
        document(figures=None, limits=None, wires=None, belts=None),
        figure(value=5),
        figure(value="much"),
        figure(value=None),
        figure(name="fuel", value="diesel"),
        figure(name="fuel", value="steam"),
        figure(name="boost"),
        document(limits=[LIMIT | {"tight": "far"}]),
        document(limits=[LIMIT | {"check": "mixture"}]),
        document(wires=[WIRE | {"carries_a": 0}]),
        document(wires=[WIRE | {"celsius": 300}]),
        document(belts=[BELT | {"pulleys": [CRANK | {"drives": "pump"}]}]),
        document(belts=[BELT | {"take_up_mm": -1}]),
    ],
)
def test_the_schema_says_what_the_reader_says(of: dict[str, Any]) -> None:
    assert bool(faults_in(of)) == (not VALIDATOR.is_valid(of))


@pytest.mark.parametrize("name", FIGURES)
def test_every_figure_is_read_at_both_ends_of_its_range_and_refused_beyond(name: str) -> None:
    kind = next(kind for known, kind in FIGURES.items() if known == name)
    for value in kind.choices or (kind.least, kind.most):
        assert faults_in(figure(name=name, value=value)) == []
    for value in () if kind.choices else (kind.least - 1, kind.most + 1):
        assert faults_in(figure(name=name, value=value)) != []


def test_a_figure_is_taken_back_without_what_came_later_beside_it() -> None:
    before = read(figure())

    def holding(*more: SheetFigure) -> BuildInput:
        sheet = before.data_sheet
        return replace(before, data_sheet=replace(sheet, figures=(*sheet.figures, *more)))

    rpm = SheetFigure(name="full_power_rpm", value=4000)
    litres = SheetFigure(name="displacement_l", value=2.2)
    undone = taken_back(holding(rpm, litres), before=before, after=holding(rpm))
    assert [one.name for one in undone.build.data_sheet.figures] == ["boost_bar", "displacement_l"]

"""A noun is declared once: what is left out of its declaration is named at once."""

import dataclasses
from typing import Any

import pytest

from webapp.build.shop import Setup, Station
from webapp.storage.tables.noun import Fields, Noun, column
from webapp.storage.tables.shop import SETUPS, SetupRow, StationRow


def test_a_field_stands_in_the_column_of_its_name() -> None:
    assert SETUPS.fields.values(Setup(key="tig", name="TIG welder", hours=0.75)) == {
        "key": "tig",
        "name": "TIG welder",
        "hours": 0.75,
    }


def test_a_row_is_read_by_the_names_of_the_declaration_whatever_their_order() -> None:
    said = {"hours": 0.75, "name": "TIG welder", "key": "tig"}
    row = [said[name] for name in SETUPS.columns]
    assert SETUPS.fields.things([row]) == [Setup(key="tig", name="TIG welder", hours=0.75)]


def test_a_field_without_a_column_is_named() -> None:
    wider: Any = dataclasses.make_dataclass("Wider", [("colour", str)], bases=(Setup,), frozen=True)
    with pytest.raises(TypeError, match="SetupRow: nothing is said of colour"):
        Noun(SetupRow, Fields(SetupRow, wider), at="shop.setups")


def test_a_column_without_a_field_is_named() -> None:
    narrow: Any = dataclasses.make_dataclass("Narrow", [("key", str), ("name", str)])
    with pytest.raises(TypeError, match="StationRow: nothing is said of count"):
        Noun(StationRow, Fields(StationRow, narrow), at="shop.stations")


def test_a_declared_column_that_is_not_there_is_named() -> None:
    fields = Fields(StationRow, Station, column("count", "how_many"))
    with pytest.raises(TypeError, match="how_many"):
        Noun(StationRow, fields, at="shop.stations")

"""One name, one thing: what pieces, lines, clamps, caps and seals are called."""

import pytest

from tests.plumbing.small import circuit, lying
from webapp.build.plumbing import End, EndKind, Piece, ShelfThing
from webapp.plumbing.names import piece_name, stop_name

AIR = circuit("a.out", "b.in", hose="silicone", tube="aluminium")


@pytest.mark.parametrize(
    ("piece", "name"),
    [
        (Piece(piece="hose", size=38.1, length_mm=640, of="coolant"), "hose 38 coolant"),
        (Piece(piece="elbow", size=76.2, angle=90), "elbow 76 90° silicone"),
        (Piece(piece="elbow", size=76), "elbow 76 silicone"),
        (Piece(piece="reducer", size=(60, 63)), "reducer 63-60 silicone"),
        (Piece(piece="coupler", size=60), "coupler 60 silicone"),
        (Piece(piece="tube", size=63, length_mm=180, of="stainless"), "tube 63.5 stainless"),
        (Piece(piece="bend", size=63.5, angle=45), "bend 63.5 45° aluminium"),
        (Piece(piece="step", size=(60, 63)), "step 63.5-60 aluminium"),
        (Piece(piece="joiner", size=19, of="steel"), "joiner 19 steel"),
        (Piece(piece="sleeve", size=63.5), "sleeve 63.5 aluminium"),
    ],
)
def test_pieces_go_by_kind_size_angle_and_what_they_are_of(piece: Piece, name: str) -> None:
    assert piece_name(piece, AIR) == name


def test_a_piece_of_a_circuit_that_names_no_material_has_none_in_its_name() -> None:
    bare = circuit("a.out", "b.in", hose=None, tube=None)
    assert piece_name(Piece(piece="hose", size=6, length_mm=900), bare) == "hose 6"


def test_an_adapter_goes_by_its_ends_whichever_way_round_it_is_drawn() -> None:
    ends = (End(kind="male", size="M16x1.5"), End(kind="bead", size=10))
    for drawn in (ends, ends[::-1]):
        assert piece_name(Piece(piece="adapter", ends=drawn)) == "adapter bead 10 - male M16x1.5"


def test_a_line_and_what_stands_in_line_keep_their_name_and_their_ends_as_drawn() -> None:
    ends = (End(kind="quick_female", size=9.5), End(kind="bead", size=8))
    line = Piece(piece="line", name="fuel hose", ends=ends, length_mm=620)
    assert piece_name(line) == "fuel hose quick_female 9.5 - bead 8"
    valve = Piece(piece="inline", name="check valve", ends=ends[::-1], arrow="to")
    assert piece_name(valve) == "check valve bead 8 - quick_female 9.5"


@pytest.mark.parametrize(
    ("kind", "size", "name"),
    [
        ("bead", 38.1, "cap 38"),
        ("nipple", 6, "cap 6"),
        ("male", "M16x1.5", "cap M16x1.5"),
        ("female", "G1/4", "plug G1/4"),
        ("flange", "2-bolt 24", "blank 2-bolt 24"),
        ("quick_male", 7.9, "cap 7.9"),
    ],
)
def test_what_shuts_an_end_is_a_cap_a_plug_or_a_blank(
    kind: EndKind, size: float | str, name: str
) -> None:
    end = End(kind=kind, size=size)
    assert stop_name(end) == name
    assert piece_name(lying("cap", ends=(end,))) == name


@pytest.mark.parametrize(
    ("thing", "name"),
    [
        (lying("clamp", range_mm=(40, 60)), "clamp 40-60"),
        (lying("clamp", ends=(End(kind="vband", size=63.5),)), "V clamp 63"),
        (lying("clamp", ends=(End(kind="socket", size=64),)), "slip clamp 64"),
        (lying("seal", ends=(End(kind="female", size="M12x1.5"),)), "washer M12x1.5"),
        (lying("seal", ends=(End(kind="flange", size="2-bolt 18"),)), "gasket 2-bolt 18"),
        (lying("seal", ends=(End(kind="oring_male", size=9.5),)), "O-ring 9.5"),
        (lying("seal", name="washer G1/4"), "washer G1/4"),
    ],
)
def test_small_things_on_the_shelf_go_by_what_joints_ask_for(thing: ShelfThing, name: str) -> None:
    assert piece_name(thing) == name

"""Every line of the table of joints, at its edges.

The table: `ok to max(5 % of the bore, 1 mm)` and so on are common practice, no source; the clamp
diameter is geometry, its worked values are those of the facts the table was made from.
"""

import pytest

from tests.plumbing.small import circuit, joining
from webapp.build.build_input import Medium
from webapp.build.plumbing import Circuit, EndKind, PieceKind, Size
from webapp.plumbing.fits import Fit, clamp_diameter_mm, fit_of, usual_wall_mm

OIL = circuit("a.out", "b.in")


def fit(
    kind: EndKind, size: Size | None, facing: EndKind, facing_size: Size | None, of: str = "rubber"
) -> Fit:
    return fit_of(joining(kind, size, of=of), joining(facing, facing_size), OIL)


@pytest.mark.parametrize(
    ("bore", "over", "word"),
    [
        (38, 38, "ok"),
        (38, 39.9, "ok"),  # 5 % of 38 is 1.9 mm
        (38, 39.95, "tight"),
        (38, 41.8, "tight"),  # 10 % is 3.8
        (38, 41.85, "no"),
        (16, 17, "ok"),  # 5 % is 0.8, so 1 mm holds
        (16, 17.1, "tight"),
        (10, 11.5, "tight"),  # 10 % is 1.0, so 1.5 mm holds
        (10, 11.6, "no"),
        (38.1, 38, "ok"),
        (38, 37.7, "ok"),  # 0.3 too small
        (38, 37.68, "no"),  # in oil nothing may be loose
        (19, 16, "no"),
    ],
)
@pytest.mark.parametrize("hard", ["spigot", "bead", "nipple"])
def test_rubber_stretches(hard: EndKind, bore: float, over: float, word: str) -> None:
    assert fit("hose", bore, hard, over).word == word


@pytest.mark.parametrize(
    ("over", "word"), [(60, "ok"), (61.8, "ok"), (61.9, "no"), (59.7, "ok"), (59.6, "no")]
)
def test_silicone_hardly_stretches(over: float, word: str) -> None:
    """3 % of 60 is 1.8 mm."""
    assert fit("hose", 60, "bead", over, of="silicone lined").word == word


@pytest.mark.parametrize(
    ("medium", "bar", "bore", "over", "word"),
    [
        ("water", 1.0, 38, 37.7, "ok"),
        ("water", 1.0, 38, 37.68, "loose"),
        ("water", 1.0, 38, 37.5, "loose"),  # 0.5 too small, below 40 mm
        ("water", 1.0, 38, 37.4, "no"),
        ("water", 1.0, 51, 50.2, "loose"),  # 0.8 from 40 mm on
        ("water", 1.0, 51, 50.1, "no"),
        ("air", None, 51, 50.2, "loose"),
        ("air", 0.4, 51, 50.2, "loose"),
        ("air", 0.5, 51, 50.2, "no"),
        ("fuel", None, 38, 37.5, "no"),
        ("vacuum", None, 38, 37.5, "no"),
    ],
)
def test_only_water_and_air_of_little_pressure_may_be_loose(
    medium: Medium, bar: float | None, bore: float, over: float, word: str
) -> None:
    of: Circuit = circuit("a.out", "b.in", medium=medium, bar=bar)
    assert fit_of(joining("hose", bore), joining("bead", over), of).word == word


@pytest.mark.parametrize(
    ("bore", "wall", "over", "clamp"),
    [
        (38, 5, 38, 48.0),  # sqrt(38^2 + 48^2 - 38^2)
        (38, 5, 41, 50.408),  # sqrt(41^2 + 48^2 - 38^2) = sqrt(2541)
        (19, 4, 20, 27.713),  # sqrt(400 + 27^2 - 361) = sqrt(768)
    ],
)
def test_the_clamp_goes_round_a_ring_that_keeps_its_area(
    bore: float, wall: float, over: float, clamp: float
) -> None:
    """Worked values of the facts: clamp_mm_41_on_38x5 50.408333, clamp_mm_20_on_19x4 27.712813."""
    assert clamp_diameter_mm(bore, wall, over) == pytest.approx(clamp, abs=5e-4)


def test_walls_are_as_typed_else_by_the_bore() -> None:
    assert [usual_wall_mm(bore) for bore in (4.9, 5, 12.9, 13, 24.9, 25, 60)] == [
        *(2, 3, 3, 4, 4, 5, 5)
    ]
    thick = joining("hose", 38, wall_mm=6)
    assert fit_of(thick, joining("bead", 38), OIL).clamp_over_mm == pytest.approx(50)


def test_a_hose_on_a_nipple_needs_no_clamp() -> None:
    assert fit("hose", 6, "nipple", 6) == Fit(word="ok")


@pytest.mark.parametrize(
    ("inside", "outside", "word"),
    [
        (64, 63.5, "ok"),
        (64.5, 63.5, "ok"),
        (64.6, 63.5, "no"),
        (63.2, 63.5, "ok"),
        (63.1, 63.5, "no"),
    ],
)
def test_a_slip_joint(inside: float, outside: float, word: str) -> None:
    found = fit("socket", inside, "spigot", outside)
    assert found.word == word
    assert fit("spigot", outside, "socket", inside) == found


def test_a_slip_joint_asks_for_a_clamp_of_its_wide_half() -> None:
    assert fit("spigot", 63.5, "socket", 64).seals == ("slip clamp 64",)


@pytest.mark.parametrize(
    ("one", "other", "word"),
    [
        (("weld", 63.5), ("spigot", 63), "weld"),
        (("weld", 63.5), ("weld", 64.1), "no"),
        (("spigot", 60), ("spigot", 60), "no"),  # a port's own spigot is nobody's to weld
        (("bead", 60), ("weld", 60), "no"),
    ],
)
def test_what_is_welded(one: tuple[EndKind, Size], other: tuple[EndKind, Size], word: str) -> None:
    assert fit(*one, *other).word == word


@pytest.mark.parametrize("piece", ["tube", "bend", "step", "inline"])
def test_spigots_are_welded_where_both_belong_to_pieces(piece: PieceKind) -> None:
    tube = joining("spigot", 60, piece="tube")
    assert fit_of(tube, joining("spigot", 60.5, piece=piece), OIL) == Fit(word="weld")
    assert fit_of(tube, joining("spigot", 60.6, piece=piece), OIL).word == "no"
    assert fit_of(tube, joining("spigot", 60, piece="adapter"), OIL).word == "no"


@pytest.mark.parametrize(
    ("one", "other", "seals"),
    [
        (("flange", "2-bolt 18"), ("flange", "2-bolt 18"), ("gasket 2-bolt 18",)),
        (("vband", 63), ("vband", 63.5), ("V clamp 63",)),
        (("banjo", "M12x1.5"), ("female", "M12x1.5"), ("washer M12x1.5",) * 2),
        (("male", "M12x1.5"), ("female", "M12x1.5"), ("washer M12x1.5",)),
        (("male", "G1/4"), ("female", "G1/4"), ("washer G1/4",)),
        (("male", "R1/4"), ("female", "R1/4"), ()),
        (("male", "NPT1/4"), ("female", "NPT1/4"), ()),
        (("male", "9/16-18"), ("female", "9/16-18"), ()),
        (("oring_male", 9.5), ("oring_female", 9.5), ("O-ring 9.5",)),
        (("oring_male", 12.7), ("oring_female", 12.5), ("O-ring 12.7",)),  # never moved to 12.5
        (("quick_male", 7.9), ("quick_female", 8.2), ()),
        (("flare37_male", "-8"), ("flare37_female", "-8"), ()),
        (("flare45_male", 10), ("flare45_female", 9.7), ()),
        (("cone24_male", "12L"), ("cone24_female", "12L"), ()),
        (("open", None), ("spigot", 63.5), ()),
        (("open", None), ("bead", None), ()),
    ],
)
def test_what_fits_and_what_it_asks_for(
    one: tuple[EndKind, Size | None], other: tuple[EndKind, Size | None], seals: tuple[str, ...]
) -> None:
    found = fit(*one, *other)
    assert found == Fit(word="ok", seals=seals)
    assert fit(*other, *one).word == "ok"


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (("flange", "2-bolt 18"), ("flange", "3-stud 48")),
        (("vband", 63), ("vband", 63.6)),
        (("male", "M14x1.5"), ("female", "M14x1.25")),
        (("male", "M12x1.5"), ("male", "M12x1.5")),
        (("female", "M12x1.5"), ("female", "M12x1.5")),
        (("quick_male", 7.9), ("quick_female", 8.3)),
        (("quick_male", 7.9), ("quick_male", 7.9)),
        (("flare37_male", "-8"), ("flare37_female", "-6")),
        (("cone24_male", "12L"), ("cone24_female", "12S")),
        (("hose", 38), ("hose", 38)),
        (("bead", 38), ("bead", 38)),
        (("banjo", "M12x1.5"), ("male", "M12x1.5")),
        (("nipple", 8), ("female", "M12x1.5")),
    ],
)
def test_what_does_not_fit(one: tuple[EndKind, Size], other: tuple[EndKind, Size]) -> None:
    assert fit(*one, *other).word == fit(*other, *one).word == "no"


def test_a_size_that_is_not_known_is_said_so() -> None:
    assert fit("hose", 16, "spigot", None).word == "not measured"
    assert fit("female", None, "bead", 10).word == "not measured"


@pytest.mark.parametrize(
    ("one", "other", "words"),
    [
        (("flare37_male", "-8"), ("flare45_female", 12.7), "37 and 45 degree"),
        (("flare37_male", "-8"), ("oring_female", "3/4-16"), "O-ring boss"),
        # ISO 8434-1: 10L and 8S are both M16x1.5
        (("cone24_male", "10L"), ("cone24_female", "8S"), "L and S of one thread"),
        (("male", "G1/4"), ("female", "NPT1/4"), "G, R and NPT"),
        (("male", "R1/2"), ("female", "G1/2"), "G, R and NPT"),
        (("male", "M10x1"), ("female", "G1/8"), "M10x1 and 1/8"),
        (("male", "NPT1/8"), ("female", "M10x1"), "M10x1 and 1/8"),
    ],
)
def test_ends_that_look_alike_are_told_apart(
    one: tuple[EndKind, Size], other: tuple[EndKind, Size], words: str
) -> None:
    for found in (fit(*one, *other), fit(*other, *one)):
        assert found.word == "no"
        assert found.alike is not None
        assert words in found.alike


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (("cone24_male", "10L"), ("cone24_female", "12L")),  # M16x1.5 and M18x1.5
        (("male", "G1/4"), ("female", "NPT3/8")),
        (("male", "M10x1.25"), ("female", "G1/8")),
        (("male", "M12x1.5"), ("female", "M14x1.5")),
        (("hose", 19), ("bead", 38)),
    ],
)
def test_ends_that_nobody_mixes_up_are_not(
    one: tuple[EndKind, Size], other: tuple[EndKind, Size]
) -> None:
    assert fit(*one, *other).alike is None

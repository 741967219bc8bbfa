"""Sizes as they are typed in front of the engine, in any system, by the end they are for."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.build.plumbing import EndKind, Size
from webapp.build.standard_sizes import CONE_THREADS, DASHES, PIPE_THREADS
from webapp.build.threads import thread_of
from webapp.build.typed_sizes import read_size, typed_size_words
from webapp.build.units import SHOP_UNITS, ShopUnits


@pytest.mark.parametrize(
    "text",
    [
        *("38.1", "38,1 mm", "38.1mm", "3.81 cm", "1 1/2 in", '1-1/2"', "1 1/2", "1½ in"),
        *('1.5"', "1.5 inch", "1\N{VULGAR FRACTION ONE HALF}\N{DOUBLE PRIME}", "-24"),
    ],
)
def test_an_inch_and_a_half_is_one_size_however_it_is_typed(text: str) -> None:
    assert read_size(text, "bead").size == 38.1


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("38", "hose", 38),
        ("-10", "hose", 15.875),
        ("AN-10", "hose", 15.875),
        ("3/8 in", "oring_male", 9.525),
        ("9/16-18", "oring_male", 9.525),  # the boss of a -6, SAE J514
        ("G1/4", "female", "G1/4"),
        ("g 1/4", "male", "G1/4"),
        ('1/4" BSPP', "male", "G1/4"),
        ("R1/2", "male", "R1/2"),
        ("1/4 NPT", "male", "NPT1/4"),
        ("1/4-18 npt", "male", "NPT1/4"),
        ("1-1/4 NPT", "male", "NPT1 1/4"),
        ("M16x1.5", "banjo", "M16x1.5"),
        ("m16 \N{MULTIPLICATION SIGN} 1,5", "male", "M16x1.5"),
        ("9/16-18 UNF", "male", "9/16-18"),
        ("1 1/16-12", "male", "1 1/16-12"),
        ("-8", "flare37_male", "-8"),
        ("8", "flare37_male", "-8"),
        ("1/2 in", "flare37_female", "-8"),
        ("3/4-16", "flare37_male", "-8"),
        ("12l", "cone24_male", "12L"),
        ("12 S", "cone24_female", "12S"),
        ("2-bolt 24", "flange", "2-bolt 24"),
        ("", "bead", None),
        ("anything", "open", None),
        ("-10", None, "-10"),
        ("12L", None, "12L"),
        ("M16x1.5", None, "M16x1.5"),
    ],
)
def test_what_is_typed_is_read_by_the_end_it_is_for(
    text: str, kind: EndKind | None, expected: Size | None
) -> None:
    read = read_size(text, kind)
    assert (read.size, read.fault) == (expected, "")


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("wide", "bead", "“wide” is no size: write 38, 38 mm, 1 1/2 in or -10."),
        ("-38", "bead", "“-38” is no size"),
        ("1/0", "bead", "is no size"),
        ("G1/4", "hose", "“G1/4” is a thread, and a hose has a size: measure it"),
        ("38", "male", "“38” is no thread: write M14x1.5"),
        ("M16", "male", "“M16” says no pitch: write M16x and the pitch in mm."),
        ("1/4", "female", "a size without a thread: write G1/4, R1/4 or NPT1/4."),
        ("-7", "flare37_male", "“-7” is no dash: write one of -3, -4, -5"),
        ("12", "cone24_male", "“12” says no series: write 12L or 12S."),
        ("14", "cone24_male", "write 14S."),
        ("13L", "cone24_male", "is no cone: write one of 6L"),
        ("x", None, "is no size"),
    ],
)
def test_what_can_not_be_read_is_said_with_how_to_write_it(
    text: str, kind: EndKind | None, words: str
) -> None:
    read = read_size(text, kind)
    assert read.size is None
    assert words in read.fault


def test_a_bare_number_is_in_the_units_of_the_shop_and_a_bare_fraction_in_inches() -> None:
    assert read_size("1.5", "bead", "us").size == 38.1
    assert read_size("1.5", "bead").size == 1.5
    assert read_size("38 mm", "bead", "imperial").size == 38
    assert read_size("5/8", "bead").size == read_size("5/8", "bead", "us").size == 15.875


@given(st.integers(1, 64 * 19), st.sampled_from(SHOP_UNITS))
def test_sixty_fourths_are_one_value_in_every_system_and_read_back(
    parts: int, units: ShopUnits
) -> None:
    mm = float(Fraction(parts, 64) * Fraction("25.4"))
    whole, rest = divmod(Fraction(parts, 64), 1)
    typed = [f"{mm!r} mm", f"{parts}/64 in", f"{parts / 64!r} in"]
    if whole and rest:
        typed += [f"{whole} {rest} in", f'{whole}-{rest}"', f"{whole} {rest}"]
    for text in typed:
        assert read_size(text, "bead", units).size == pytest.approx(mm, abs=1e-12)
    assert read_size(typed_size_words(mm, "us"), "bead", "metric").size == mm


@given(st.integers(100, 50_000))
def test_millimetres_read_back_as_they_were_written(hundredths: int) -> None:
    mm = hundredths / 100
    assert read_size(typed_size_words(mm), "hose").size == mm
    # in inches to a thousandth: within half of that, 0.0127 mm
    assert read_size(typed_size_words(mm, "us"), "hose").size == pytest.approx(mm, abs=0.0128)


@given(st.text(max_size=30), st.sampled_from([None, "bead", "male", "flare37_male", "oring_male"]))
def test_any_text_gets_a_size_or_a_sentence(text: str, kind: EndKind | None) -> None:
    read = read_size(text, kind)
    assert read.size is not None or bool(read.fault) == bool(text.strip())


def test_sizes_are_written_in_the_units_of_the_shop() -> None:
    assert typed_size_words(38.1, "us") == "1 1/2 in"
    assert typed_size_words(9.525, "us") == "3/8 in"
    assert typed_size_words(38, "imperial") == "1.496 in"
    assert typed_size_words(63.5) == "63.5"
    assert typed_size_words("M16x1.5", "us") == "M16x1.5"
    assert typed_size_words(None) == ""


# --- the tables of the standards -----------------------------------------------------------------


def test_dashes_are_sixteenths_of_tube_with_the_threads_of_sae_j514() -> None:
    """SAE J514 (ISO 8434-2), threads as AN924 (both read)."""
    assert {dash.name: (dash.tube_mm, dash.thread) for dash in DASHES} == {
        "-3": (pytest.approx(4.7625), "3/8-24"),
        "-4": (6.35, "7/16-20"),
        "-5": (pytest.approx(7.9375), "1/2-20"),
        "-6": (9.525, "9/16-18"),
        "-8": (12.7, "3/4-16"),
        "-10": (15.875, "7/8-14"),
        "-12": (pytest.approx(19.05), "1 1/16-12"),
        "-16": (25.4, "1 5/16-12"),
        "-20": (31.75, "1 5/8-12"),
        "-24": (pytest.approx(38.1), "1 7/8-12"),
    }


def test_cones_have_the_threads_of_iso_8434_1() -> None:
    """ISO 8434-1 (DIN 2353), as cited: L from M12x1.5 at 6 to M52x2 at 42, S from M14x1.5."""
    assert len(CONE_THREADS) == 20
    assert (CONE_THREADS["6L"], CONE_THREADS["42L"]) == ("M12x1.5", "M52x2")
    assert (CONE_THREADS["6S"], CONE_THREADS["38S"]) == ("M14x1.5", "M52x2")
    # the trap: one thread in both series
    assert CONE_THREADS["10L"] == CONE_THREADS["8S"] == "M16x1.5"


def test_every_thread_of_the_tables_is_written_as_threads_are() -> None:
    names = [thread.name for thread in PIPE_THREADS] + [dash.thread for dash in DASHES]
    assert all(thread_of(name) for name in (*names, *CONE_THREADS.values()))


def test_pipe_threads_of_one_name_are_near_in_size() -> None:
    """ISO 228 and ASME B1.20.1, as cited: 1/2 is 20.955 mm at 14, and 21.34 at 14."""
    sizes = {one.name: (one.outside_mm, one.threads_an_inch) for one in PIPE_THREADS}
    assert sizes["G1/2"] == sizes["R1/2"] == (20.955, 14)
    assert sizes["NPT1/2"] == (21.34, 14)
    for name in ("1/8", "1/4", "3/8", "1/2", "3/4", "1"):
        assert abs(sizes[f"G{name}"][0] - sizes[f"NPT{name}"][0]) < 0.6

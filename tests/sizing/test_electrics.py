"""Wires and fuses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.sizing.answers import Outside
from webapp.sizing.fuse import FuseOnWire, fuse, next_fuse_a
from webapp.sizing.voltage_drop import OHM_KM, WireRun, drop_v, reckoned_mm2, voltage_drop


def starter(mm2: float, volts: float = 12.0) -> WireRun:
    return WireRun(current_a=300, area_mm2=mm2, out_and_back_m=5, battery_v=volts, use="starter")


@pytest.mark.parametrize(
    ("mm2", "word"),
    # 1.17, 0.83, 0.58, 0.41 V against 0.5 and 0.8
    [(25, "too small"), (35, "too small"), (50, "tight"), (70, "ok")],
)
def test_a_starter_loses_half_a_volt_at_most(mm2: float, word: str) -> None:
    assert voltage_drop("starter", starter(mm2)).word == word


def test_at_24_volts_twice_as_much_is_let_pass() -> None:
    answer = voltage_drop("starter", starter(35, 24))
    assert answer.limit is not None
    assert (answer.limit.ok, answer.limit.tight) == (1.0, 1.6)
    assert answer.word == "ok"


@pytest.mark.parametrize(("mm2", "word"), [(2.5, "too small"), (4, "tight"), (6, "ok")])
def test_a_feed_loses_a_share(mm2: float, word: str) -> None:
    """10 A over 8 m at 12 V: 5.3, 3.3, 2.2 %."""
    wire = WireRun(current_a=10, area_mm2=mm2, out_and_back_m=8)
    assert voltage_drop("pump", wire).word == word


def test_a_wire_of_another_system_is_reckoned_as_the_next_thinner_of_the_table() -> None:
    assert reckoned_mm2(5.26) == 4.0
    assert reckoned_mm2(53.5) == 50
    assert reckoned_mm2(50) == 50
    for mm2 in (0.3, 185):
        assert isinstance(drop_v(WireRun(current_a=10, area_mm2=mm2, out_and_back_m=8)), Outside)


@given(st.sampled_from(sorted(OHM_KM)), st.floats(0.1, 500), st.floats(0.1, 20))
def test_more_current_more_way_and_more_warmth_lose_more(
    mm2: float, amps: float, metres: float
) -> None:
    def lost(current: float, length: float, celsius: float) -> float:
        drop = drop_v(
            WireRun(current_a=current, area_mm2=mm2, out_and_back_m=length, celsius=celsius)
        )
        assert isinstance(drop, float)
        return drop

    here = lost(amps, metres, 20)
    assert lost(2 * amps, metres, 20) == pytest.approx(2 * here)
    assert lost(amps, 2 * metres, 20) == pytest.approx(2 * here)
    assert lost(amps, metres, 60) == pytest.approx(here * (1 + 0.00393 * 40))


def test_the_next_fuse_for_a_load() -> None:
    """14 / 0.8 = 17.5, so 20; 16 / 0.8 = 20 exactly; 33 / 0.8 = 41 has no blade."""
    assert next_fuse_a(14) == 20
    assert next_fuse_a(16) == 20
    assert isinstance(next_fuse_a(33), Outside)


@pytest.mark.parametrize(
    ("load", "carries", "size", "word"),
    [
        (14, 25, None, "ok"),
        (14, 20, None, "ok"),
        (14, 19, None, "too small"),
        (14, 25, 15, "tight"),
        (14, 25, 10, "too small"),
        (14, 25, 30, "too small"),
        (33, 60, None, "not checked"),
        (33, 60, 50, "ok"),
    ],
)
def test_a_fuse_carries_its_load_and_guards_its_wire(
    load: float, carries: float, size: float | None, word: str
) -> None:
    answer = fuse("fan", FuseOnWire(load_a=load, wire_carries_a=carries, fuse_a=size))
    assert answer.word == word

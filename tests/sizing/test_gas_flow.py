"""Gas in a pipe: never a number outside of what the formula holds for."""

from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.sizing.gas_flow import MOST_LOST, GasFlow, TooFast, lost_kpa, mach
from webapp.sizing.pipe_loss import Stretch

CHEAP = settings(max_examples=60, deadline=None)
FLOWS = st.builds(
    GasFlow, kg_s=st.floats(0.005, 0.6), kpa=st.floats(80, 400), celsius=st.floats(-10, 250)
)
BORES, LENGTHS, TURNS = st.floats(25, 120), st.floats(0, 6000), st.floats(0, 540)


def pipe(bore: float, length: float, turn: float) -> tuple[Stretch, ...]:
    return (Stretch(bore_mm=bore, length_mm=length, turn_deg=turn),)


def rank(lost: object) -> float:
    """Too fast is worse than any number."""
    return lost if isinstance(lost, float) else float("inf")


@CHEAP
@given(FLOWS, BORES, LENGTHS, TURNS, st.floats(1, 1.5))
def test_more_flow_or_a_smaller_bore_never_loses_less(
    flow: GasFlow, bore: float, length: float, turn: float, more: float
) -> None:
    here = lost_kpa(flow, pipe(bore, length, turn))
    faster = lost_kpa(
        GasFlow(kg_s=flow.kg_s * more, kpa=flow.kpa, celsius=flow.celsius),
        pipe(bore, length, turn),
    )
    narrower = lost_kpa(flow, pipe(bore / more, length, turn))
    longer = lost_kpa(flow, pipe(bore, length * more, turn))
    for other in (faster, narrower, longer):
        if isinstance(here, float | TooFast) and isinstance(other, float | TooFast):
            assert rank(other) >= rank(here) - 1e-9


@CHEAP
@given(FLOWS, BORES, LENGTHS, TURNS)
def test_a_number_is_given_only_below_a_tenth_lost_and_mach_three_tenths(
    flow: GasFlow, bore: float, length: float, turn: float
) -> None:
    lost = lost_kpa(flow, pipe(bore, length, turn))
    if isinstance(lost, float):
        assert 0 <= lost <= MOST_LOST * flow.kpa + 1e-9
        assert mach(flow, bore) <= 0.3


def test_two_halves_lose_what_the_whole_loses() -> None:
    flow = GasFlow(kg_s=0.16, kpa=209, celsius=130)
    whole = lost_kpa(flow, pipe(51, 2000, 180))
    halves = lost_kpa(flow, pipe(51, 1000, 90) * 2)
    assert isinstance(whole, float)
    assert isinstance(halves, float)
    assert abs(whole - halves) < 0.01 * whole


def test_so_narrow_that_it_is_too_fast() -> None:
    flow = GasFlow(kg_s=0.165528, kpa=209.3, celsius=130.7)
    assert lost_kpa(flow, pipe(32, 1800, 360)) == TooFast(bore_mm=32)

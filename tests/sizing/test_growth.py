"""Growth by heat."""

from webapp.sizing.answers import Outside
from webapp.sizing.growth import NO_ROOM, HotPipe, growth, growth_mm


def test_a_pipe_that_is_held_at_both_ends_is_too_long() -> None:
    held = HotPipe(length_mm=1500, material="stainless", hot_c=600, gives_way=False)
    answer = growth("exhaust", held)
    assert answer.word == "too long"
    assert NO_ROOM in answer.remarks
    free = HotPipe(length_mm=1500, material="stainless", hot_c=600, gives_way=True)
    assert growth("exhaust", free).word == "ok"


def test_unknown_metals_and_heat_beyond_the_tables_are_not_checked() -> None:
    titanium = HotPipe(length_mm=1500, material="titanium", hot_c=600, gives_way=True)
    assert growth("exhaust", titanium).words == (
        "not checked: nothing is known of the growth of titanium"
    )
    hot = HotPipe(length_mm=1500, material="steel", hot_c=1400, gives_way=True)
    assert isinstance(growth_mm(hot), Outside)
    assert growth("exhaust", hot).value is None

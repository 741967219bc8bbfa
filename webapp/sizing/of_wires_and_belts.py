"""Checks of wires, fuses and belts, from the data sheet."""

from collections.abc import Iterator
from dataclasses import replace

from webapp.build.data_sheet import Belt, Wire
from webapp.sizing.answers import Answer, Limit, Missing, not_checked
from webapp.sizing.belt import WRAPS, BeltOnPulleys, belt_length, belt_wraps
from webapp.sizing.fuse import FUSED_AT_BATTERY, OWN_LINE, SLOW, FuseOnWire, fuse
from webapp.sizing.sheet import Sheet
from webapp.sizing.voltage_drop import WireRun, voltage_drop

COOL_C, BAY_C = 20.0, 60.0
"""A starter is cranked cold; a feed lies in a warm bay. Common practice where nobody says."""

BY_NAME = {"fan": SLOW, "alternator": FUSED_AT_BATTERY}
"""What is said of a wire by a word in its name."""
OF_WIRE = ("current", "area of the wire", "length out and back")
WARMTH = "temperature of the wire"


def wire_checks(sheet: Sheet) -> Iterator[Answer]:
    """Drop and fuse of each wire; a starter cable is the usual unfused one."""
    for wire in sheet.sheet.wires:
        yield _drop_check(sheet, wire)
        if wire.use != "starter" or wire.fuse_a is not None:
            yield _fuse_check(sheet, wire)


def _drop_check(sheet: Sheet, wire: Wire) -> Answer:
    usual_c = COOL_C if wire.use == "starter" else BAY_C
    run = WireRun(
        current_a=wire.current_a,
        area_mm2=wire.area_mm2,
        out_and_back_m=wire.out_and_back_m,
        battery_v=sheet.number("battery_v") or 12.0,
        celsius=usual_c if wire.celsius is None else wire.celsius,
        use=wire.use,
    )
    answer = voltage_drop(wire.key, run, sheet.limit("voltage_drop", wire.key))
    answer = answer.marked("typed", *OF_WIRE)
    answer = answer.marked("assumed" if wire.celsius is None else "typed", WARMTH)
    return sheet.told(answer, "battery_v")


def _fuse_check(sheet: Sheet, wire: Wire) -> Answer:
    if wire.carries_a is None:
        gone = Missing(names=("current that the wire carries where it lies",), at=wire.key)
        return not_checked("fuse", wire.key, gone)
    inputs = FuseOnWire(load_a=wire.current_a, wire_carries_a=wire.carries_a, fuse_a=wire.fuse_a)
    answer = fuse(wire.key, inputs, sheet.limit("fuse", wire.key))
    called = wire.name.lower()
    more = [text for word, text in BY_NAME.items() if word in called]
    answer = replace(answer, remarks=(*answer.remarks, OWN_LINE, *more))
    return answer.marked("typed", "load", "wire carries")


def belt_checks(sheet: Sheet) -> Iterator[Answer]:
    """Length and wraps of each belt."""
    for belt in sheet.sheet.belts:
        inputs = BeltOnPulleys(
            pulleys=belt.pulleys, bought_mm=belt.length_mm, take_up_mm=belt.take_up_mm
        )
        yield belt_length(belt.key, inputs)
        yield from belt_wraps(belt.key, inputs, _own_wraps(sheet, belt))


def _own_wraps(sheet: Sheet, belt: Belt) -> dict[str, Limit]:
    found = {
        pulley.name: sheet.limit("belt_wrap", f"{belt.key}.{pulley.name}")
        for pulley in belt.pulleys
        if pulley.drives in WRAPS
    }
    return {name: limit for name, limit in found.items() if limit is not None}

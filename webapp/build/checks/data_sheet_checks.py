"""Faults of the data sheet: figures that can not be, limits of nothing, wires and belts."""

from collections import Counter
from collections.abc import Iterator

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing
from webapp.build.data_sheet import (
    AT_LEAST,
    CHECK_NAMES,
    DRIVES,
    FIGURES,
    LIMITED,
    ONE_PLACE,
    WIRE_USES,
    Belt,
    OwnLimit,
    SheetFigure,
    Wire,
)
from webapp.build.limits import (
    LEAST_WIRE_C,
    MOST_AMPS,
    MOST_BELT_MM,
    MOST_BELTS,
    MOST_OF_A_LIMIT,
    MOST_OWN_LIMITS,
    MOST_PULLEY_MM,
    MOST_PULLEYS,
    MOST_WIRE_C,
    MOST_WIRE_M,
    MOST_WIRE_MM2,
    MOST_WIRES,
)


def data_sheet_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the data sheet; that a key stands twice is told with the other keys."""
    yield from _figure_faults(build)
    yield from _limit_faults(build)
    for number, wire in enumerate(build.data_sheet.wires, start=1):
        thing = Thing(kind="wire", key=wire.key, name=wire.name, number=number)
        yield from _wire_faults(thing, wire)
    for number, belt in enumerate(build.data_sheet.belts, start=1):
        thing = Thing(kind="belt", key=belt.key, name=belt.name, number=number)
        yield from _belt_faults(thing, belt)
    yield from _count_faults(build)


def _count_faults(build: BuildInput) -> Iterator[Fault]:
    sheet, thing = build.data_sheet, Thing(kind="build", key="", name="data sheet")
    for field, words, there, most in (
        ("limits", "limits", sheet.limits, MOST_OWN_LIMITS),
        ("wires", "wires", sheet.wires, MOST_WIRES),
        ("belts", "belts", sheet.belts, MOST_BELTS),
    ):
        yield from thing.count_faults(field, words, there, most)


def _figure_faults(build: BuildInput) -> Iterator[Fault]:
    times = Counter(figure.name for figure in build.data_sheet.figures)
    for figure in build.data_sheet.figures:
        kind = FIGURES.get(figure.name)
        thing = Thing(kind="figure", key=figure.name, name=kind.words if kind else "")
        if kind is None:
            yield thing.fault("name", f"no figure is called so. Use one of {', '.join(FIGURES)}.")
            continue
        yield from thing.text_faults("source", figure.source)
        yield from _value_faults(thing, figure)
        if times[figure.name] > 1:
            times[figure.name] = 0
            yield thing.fault("name", "it stands there twice. Leave one of them out.")


def _value_faults(thing: Thing, figure: SheetFigure) -> Iterator[Fault]:
    kind = FIGURES[figure.name]
    if kind.choices:
        if figure.value not in kind.choices:
            yield thing.fault("value", f"it must be one of {', '.join(kind.choices)}. Pick one.")
    elif isinstance(figure.value, str):
        yield thing.fault("value", "it must be a number. Write it without quotes.")
    else:
        unit = f" in {kind.unit}" if kind.unit else ""
        yield from thing.number_faults(
            "value", f"its value{unit}", figure.value, least=kind.least, most=kind.most
        )


def _limit_faults(build: BuildInput) -> Iterator[Fault]:
    seen = set[tuple[str, str]]()
    for limit in build.data_sheet.limits:
        where = f" at {limit.at}" if limit.at else ""
        thing = Thing(kind="limit", key="", name=f"of {limit.check}{where}")
        if limit.check not in CHECK_NAMES:
            yield thing.fault("check", f"no check is called so. Use one of {', '.join(LIMITED)}.")
        elif limit.check not in LIMITED:
            yield thing.fault(
                "check", f"that check is held against no limit. Use one of {', '.join(LIMITED)}."
            )
        yield from _limit_order_faults(thing, limit)
        yield from thing.text_faults("source", limit.source, required=True)
        yield from thing.text_faults("at", limit.at)
        for field, value in (("ok", limit.ok), ("tight", limit.tight)):
            yield from thing.number_faults(
                field, f"{field} to", value, least=-MOST_OF_A_LIMIT, most=MOST_OF_A_LIMIT
            )
        if (limit.check, limit.at) in seen:
            yield thing.fault("check", "it stands there twice. Leave one of them out.")
        seen.add((limit.check, limit.at))


def _limit_order_faults(thing: Thing, limit: OwnLimit) -> Iterator[Fault]:
    """Tight lies beyond ok; a limit whose unit hangs on the place names it."""
    if limit.check in ONE_PLACE and not limit.at:
        yield thing.fault(
            "at", "it is in V for a starter and in % for a feed. Say of which wire it is."
        )
    if limit.tight is None or limit.tight == limit.ok:
        return
    if (limit.tight < limit.ok) != (limit.check in AT_LEAST):
        yield thing.fault(
            "tight",
            f"tight to {limit.tight:g} lies before ok to {limit.ok:g}. Tight is what comes after"
            " ok: swap the two, or leave tight out.",
        )


def _wire_faults(thing: Thing, wire: Wire) -> Iterator[Fault]:
    yield from thing.key_faults()
    yield from thing.text_faults("name", wire.name, required=True)
    if wire.use not in WIRE_USES:
        yield thing.fault("use", f"it must be one of {', '.join(WIRE_USES)}. Pick one.")
    for field, words, value, most in (
        ("current_a", "its current in A", wire.current_a, MOST_AMPS),
        ("area_mm2", "its area in mm²", wire.area_mm2, MOST_WIRE_MM2),
        ("out_and_back_m", "its length out and back in m", wire.out_and_back_m, MOST_WIRE_M),
        ("fuse_a", "its fuse in A", wire.fuse_a, MOST_AMPS),
        ("carries_a", "what it carries in A", wire.carries_a, MOST_AMPS),
    ):
        yield from thing.number_faults(field, words, value, least=0.01, most=most)
    yield from thing.number_faults(
        "celsius", "how warm it is in °C", wire.celsius, least=LEAST_WIRE_C, most=MOST_WIRE_C
    )


def _belt_faults(thing: Thing, belt: Belt) -> Iterator[Fault]:
    yield from thing.key_faults()
    yield from thing.text_faults("name", belt.name, required=True)
    yield from thing.number_faults(
        "length_mm", "its length in mm", belt.length_mm, least=1, most=MOST_BELT_MM
    )
    yield from thing.number_faults(
        "take_up_mm", "what its tensioner takes up in mm", belt.take_up_mm, most=MOST_BELT_MM
    )
    yield from thing.count_faults("pulleys", "pulleys", belt.pulleys, MOST_PULLEYS)
    names = set[str]()
    for number, pulley in enumerate(belt.pulleys, start=1):
        called = Thing(
            kind="belt", key=belt.key, name=f"{belt.name}, pulley {pulley.name or number}"
        )
        yield from called.text_faults("pulleys", pulley.name)
        if not pulley.name.strip():
            yield called.fault("pulleys", "it has no name. Enter one: crank, alternator.")
        elif pulley.name in names:
            yield called.fault("pulleys", "it stands there twice. Give one another name.")
        names.add(pulley.name)
        if pulley.drives not in DRIVES:
            yield called.fault("pulleys", f"it drives one of {', '.join(DRIVES)}. Pick one.")
        yield from called.number_faults(
            "pulleys", "its diameter in mm", pulley.diameter_mm, least=1, most=MOST_PULLEY_MM
        )
        for field, value in (("x_mm", pulley.x_mm), ("y_mm", pulley.y_mm)):
            yield from called.number_faults(
                "pulleys", f"its {field}", value, least=-MOST_PULLEY_MM, most=MOST_PULLEY_MM
            )

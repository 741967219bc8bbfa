"""A circuit of the build as what its picture shows."""

from webapp.build.plumbing import Size
from webapp.pages.plumbing.seen import Seen
from webapp.pages.words import sizes
from webapp.pages.words.plumbing_open import SHORT
from webapp.pictures.circuit_model import CircuitModel, Gap, PictureBox, PicturePipe, PicturePort
from webapp.plumbing.open_list import Open, OpenWord, counted_once
from webapp.plumbing.plumbed import PlumbedRun
from webapp.plumbing.sizes import trade_size

MARKS = {
    **dict.fromkeys(("radiator", "condenser", "evaporator", "ps_cooler", "oil_cooler"), "fins"),
    **dict.fromkeys(("intercooler_air", "intercooler_water", "fuel_cooler"), "fins"),
    "heater_core": "zigzag",
    **dict.fromkeys(("turbo", "supercharger", "compressor", "ps_pump", "vac_pump"), "wheel"),
    **dict.fromkeys(("lift_pump", "water_pump", "pump", "fuel_pump"), "wheel"),
    **dict.fromkeys(("fuel_filter", "oil_filter", "filter", "airbox", "drier"), "diamond"),
    **dict.fromkeys(("tank", "reservoir", "expansion_tank", "ps_reservoir", "breather"), "vessel"),
    **dict.fromkeys(("valve", "heater_valve", "check_valve", "thermostat"), "bow"),
    **dict.fromkeys(("engine", "manifold_ex", "manifold_in", "common_rail"), "bores"),
    "tee": "tee",
    **dict.fromkeys(("silencer", "catalyst", "downpipe"), "can"),
}
"""What is drawn in the box of a component, by its kind; nothing for other kinds."""
USUAL_BORE_MM = 10.0
"""How broad a run is drawn whose ends go by name, as threads do."""
AT_ITS_BEGIN: frozenset[OpenWord] = frozenset(("pieces missing", "to make", "not fitted"))


def circuit_model(seen: Seen, key: str) -> CircuitModel:
    """One circuit with all that is open in it."""
    found = seen.circuits[key]
    open_by: dict[str, list[Open]] = {}
    for one in counted_once(found.open):
        open_by.setdefault(one.what, []).append(one)
    ports = seen.drawing.ports_by_circuit[key]
    far = seen.far(key)
    keys = dict.fromkeys(placed.component.key for placed in ports)
    start = seen.drawing.ports[found.circuit.from_port].component.key
    return CircuitModel(
        title=_title(seen, key),
        medium=found.circuit.medium,
        start=start,
        boxes=tuple(_box(seen, one, key, open_by) for one in keys),
        pipes=tuple(_pipe(seen, run, open_by, far) for run in seen.runs_of[key]),
        ports=tuple(
            PicturePort(
                key=placed.address,
                box=placed.component.key,
                name=placed.port.name,
                open_words=_words(open_by[placed.address]),
            )
            for placed in ports
            if placed.address in open_by and placed.address not in seen.drawing.run_at
        ),
        whole=tuple(SHORT[one.why] for one in found.open if one.kind == "circuit"),
    )


def _title(seen: Seen, key: str) -> str:
    circuit = seen.circuits[key].circuit
    if seen.circuits[key].kind == "loop":
        start = seen.drawing.ports[circuit.from_port].component.name
        return f"{circuit.name}, round from {start}. The list and the table below say the same."
    first, last = (seen.port_name(address) for address in (circuit.from_port, circuit.to_port))
    return f"{circuit.name}, from {first}, to {last}. The list and the table below say the same."


def _words(opens: list[Open]) -> str:
    return ", ".join(dict.fromkeys(SHORT[one.why] for one in opens))


def _box(seen: Seen, key: str, circuit: str, open_by: dict[str, list[Open]]) -> PictureBox:
    component = seen.components[key]
    held = [volume.litres for volume in component.volumes if volume.circuit == circuit]
    known = sum(litres for litres in held if litres is not None)
    opens = [one for one in open_by.get(key, []) if one.kind == "component"]
    return PictureBox(
        key=key,
        name=component.name,
        mark=MARKS.get(component.kind, ""),
        note=sizes.litres(known) if known else "",
        open_words=_words(opens),
    )


def _pipe(
    seen: Seen, found: PlumbedRun, open_by: dict[str, list[Open]], far: dict[str, int]
) -> PicturePipe:
    run = found.run
    first, last = run.ports
    last_step = len(far) + 1
    is_turned = found.flow == "back" or (
        found.flow == "both" and far.get(last, last_step) < far.get(first, last_step)
    )
    if is_turned:
        first, last = last, first
    opens = [one for one in open_by.get(run.key, []) if one.kind == "run"]
    at_ends = {address: open_by.get(address, []) for address in (first, last)}
    every = [*opens, *at_ends[first], *at_ends[last]]
    ports = [seen.drawing.ports[address] for address in (first, last)]
    of = [placed.port.size for placed in ports]
    return PicturePipe(
        number=seen.numbers[run.key],
        key=run.key,
        from_box=ports[0].component.key,
        to_box=ports[1].component.key,
        name=seen.run_name(run.key),
        size=_size_words(of[0], of[1]),
        bore_mm=_bore_mm(found),
        is_made=run.fitted_on is not None or run.clamped_on is not None,
        one_way=found.flow in ("on", "back"),
        gap=_gap(opens, bool(at_ends[first]), len(found.joints), is_turned) if every else "",
        open_words=_words(every),
    )


def _gap(opens: list[Open], at_begin: bool, joints: int, is_turned: bool) -> Gap:
    """Where a run is open, along the flow."""
    if not opens:
        return "begin" if at_begin else "end"
    one = opens[0]
    if one.why in AT_ITS_BEGIN:
        return "begin"
    if one.why == "does not fit" and one.joint is not None:
        at = joints + 1 - one.joint if is_turned else one.joint
        return "begin" if at == 1 else "end" if at == joints else "middle"
    return "end" if one.why == "not clamped" else "middle"


def _size_words(first: Size | None, last: Size | None) -> str:
    if first is None or last is None:
        return sizes.size(first or last)
    if isinstance(first, str) or isinstance(last, str):
        return sizes.size(first) if first == last else f"{sizes.size(first)} to {sizes.size(last)}"
    one, other = trade_size(first), trade_size(last)
    return sizes.size(one) if one == other else f"{sizes.size(one)} to {sizes.size(other)}"


def _bore_mm(found: PlumbedRun) -> float:
    ends = [side.end.size for joint in found.joints for side in (joint.left, joint.right)]
    return max(
        (float(size) for size in ends if isinstance(size, int | float)), default=USUAL_BORE_MM
    )

"""What a circuit holds: pi/4 d^2 L of its hoses and tubes, and what its components say."""

import math

import pytest

from tests.plumbing.small import build, circuit, component, hose, port, run, tube
from webapp.build.plumbing import End, Piece, Volume
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.litres import Litres, litres_of, piece_litres

QUICK = (End(kind="quick_female", size=9.5),) * 2


@pytest.mark.parametrize(
    ("piece", "litres"),
    [
        # worked values of the facts: 3 m of 19 mm 0.850586 l, 1.5 m of 35 mm 1.44 l
        (hose(19, 3000), 0.850586),
        (hose(35, 1500), 1.443),
        (tube(19, 1000), math.pi / 4 * 16**2 * 1000 / 1e6),  # walls of 1.5 mm
        (tube(60, 1000, wall_mm=2), math.pi / 4 * 56**2 * 1000 / 1e6),
        # an arc of 1.5 diameters: 1.5 * 60 * pi / 2 = 141.37 mm
        (Piece(piece="elbow", size=60, angle=90), math.pi / 4 * 60**2 * 141.372 / 1e6),
        (Piece(piece="bend", size=60, angle=90), math.pi / 4 * 57**2 * 141.372 / 1e6),
        (Piece(piece="elbow", size=60, angle=90, length_mm=200), math.pi / 4 * 60**2 * 200 / 1e6),
        (Piece(piece="line", ends=QUICK, length_mm=620, bore_mm=8), math.pi / 4 * 64 * 620 / 1e6),
        (Piece(piece="line", ends=QUICK, length_mm=620), None),
        (Piece(piece="coupler", size=60), 0),
        (Piece(piece="adapter", ends=QUICK), 0),
    ],
)
def test_a_piece_holds_its_bore_times_its_length(piece: Piece, litres: float | None) -> None:
    found = piece_litres(piece)
    assert found == (None if litres is None else pytest.approx(litres, rel=1e-3))


def test_a_circuit_holds_its_runs_and_components_and_names_what_nobody_measured() -> None:
    """3 m of 19 mm, 0.851 l, and 5.6 l of the engine; the radiator's litres are not known."""
    engine = component(
        "engine",
        port("out", "out", size=19),
        volumes=(Volume(circuit="c", litres=5.6), Volume(circuit="oil", litres=6.2)),
    )
    rad = component("rad", port("in", "in", size=19), volumes=(Volume(circuit="c"),))
    of = build(
        (engine, rad, component("pump", port("p", "in"), circuit="oil")),
        (circuit("engine.out", "rad.in"), circuit("pump.p", "pump.q", key="oil")),
        (run("r", "engine.out", "rad.in", hose(19, 3000)),),
    )
    drawing = Drawing(of)
    assert litres_of(drawing, of.plumbing.circuits[0]) == Litres(litres=6.451, without=("rad",))
    assert litres_of(drawing, of.plumbing.circuits[1]) == Litres(litres=6.2, without=("pump",))

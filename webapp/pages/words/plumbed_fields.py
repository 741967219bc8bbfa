"""What became of what is plumbed, in words: ports, pieces, litres, the shelf."""

from collections.abc import Iterator, Sequence

from webapp.build.plumbing import End, Ordered, Piece, Port, ShelfThing, SoldLength, Volume, Waiver
from webapp.pages.words import amounts as words
from webapp.pages.words import sizes
from webapp.pages.words.quoted import shown
from webapp.pages.words.steps import told_in_short
from webapp.plumbing.names import piece_name
from webapp.plumbing.needs import MM_IN_A_METRE

_STOPS = {"cap": "cap", "part": "part", "air": "open to the air", "cover": "cover"}

_OTHERS = ("flow", "role", "circuit", "shuts")


def lying_words(thing: ShelfThing) -> str:
    """What lies on the shelf: "6 of clamp 40-60", "hose 38 coolant, 1000 mm"."""
    length = "" if thing.length_mm is None else f", {sizes.length_told(thing.length_mm)}"
    times = f"{thing.count} of " if thing.count != 1 else ""
    return f"{times}{shown(sizes.called(piece_name(thing)))}{length}"


def brought_words(ordered: Ordered) -> str:
    """What a part brings: "2 m of hose 38 coolant"."""
    if ordered.metres is not None:
        return f"{_metres_words(ordered.metres)} of {shown(sizes.called(ordered.what))}"
    if ordered.litres is not None:
        return f"{sizes.litres_told(ordered.litres)} of {shown(ordered.what)}"
    return f"{ordered.count} of {shown(sizes.called(ordered.what))}"


def sold_words(sold: SoldLength) -> str:
    """A length that is sold: "tube 19 steel, 6000 mm"."""
    return f"{shown(sizes.called(sold.what))}, {sizes.length_told(sold.length_mm)}"


def _metres_words(metres: float) -> str:
    return (
        f"{words.number(metres)} m" if sizes.is_metric() else sizes.length(metres * MM_IN_A_METRE)
    )


def passages_words(pairs: tuple[tuple[str, str], ...] | None) -> str:
    """Which ports are joined inside."""
    if pairs is None:
        return "all ports of a circuit"
    return words.listed([f"{shown(one)} - {shown(other)}" for one, other in pairs]) or "none"


def pieces_told(was: Sequence[Piece], now: Sequence[Piece]) -> str:
    """What became of the pieces of a run: "piece 2 hose 38, 640 mm to hose 38, 600 mm"."""
    return told_in_short(_pieces_told(was, now), "pieces")


def _pieces_told(was: Sequence[Piece], now: Sequence[Piece]) -> Iterator[str]:
    if len(was) == len(now):
        for number, (old, new) in enumerate(zip(was, now, strict=True), start=1):
            if old != new:
                yield f"piece {number} from {_piece_words(old)} to {_piece_words(new)}"
        return
    before, after = list(was), list(now)
    for piece in after:
        if piece in before:
            before.remove(piece)
        else:
            yield f"{_piece_words(piece)} added"
    left = list(now)
    for piece in was:
        if piece in left:
            left.remove(piece)
        else:
            yield f"{_piece_words(piece)} taken out"


def _piece_words(piece: Piece) -> str:
    length = "" if piece.length_mm is None else f", {sizes.length_told(piece.length_mm)}"
    return f"“{shown(sizes.called(piece_name(piece)))}{length}”"


def ports_told(was: Sequence[Port], now: Sequence[Port]) -> str:
    """What became of the ports of a component: "size of “top” from ? to 38"."""
    return told_in_short(_ports_told(was, now), "ports")


def _ports_told(was: Sequence[Port], now: Sequence[Port]) -> Iterator[str]:
    before, after = ({port.name: port for port in each} for each in (was, now))
    for name, port in after.items():
        there = before.get(name)
        if there is None:
            yield f"port “{shown(name)}” added"
        elif there != port:
            yield from _port_told(there, port)
    for name in before:
        if name not in after:
            yield f"port “{shown(name)}” taken out"


def _port_told(was: Port, now: Port) -> Iterator[str]:
    called = f"“{shown(now.name)}”"
    if (was.end, was.size) != (now.end, now.size):
        yield f"end of {called} from {_end_words(was)} to {_end_words(now)}"
    if was.stop != now.stop:
        yield f"what shuts {called} from {_stop_words(was)} to {_stop_words(now)}"
    if any(getattr(was, name) != getattr(now, name) for name in _OTHERS):
        yield f"flow, role or circuit of {called}"


def _end_words(port: Port) -> str:
    return sizes.end(End(kind=port.end, size=port.size))


def _stop_words(port: Port) -> str:
    if port.stop is None:
        return "nothing"
    on = ", on" if port.stop.on is not None else ""
    return f"{_STOPS[port.stop.kind]}{on}"


def volumes_told(was: Sequence[Volume], now: Sequence[Volume]) -> str:
    """What became of the litres that a component holds."""
    return told_in_short(_volumes_told(was, now), "litres")


def _volumes_told(was: Sequence[Volume], now: Sequence[Volume]) -> Iterator[str]:
    before, after = ({one.circuit: one.litres for one in each} for each in (was, now))
    for circuit in dict.fromkeys((*before, *after)):
        old, new = before.get(circuit), after.get(circuit)
        if old != new or (circuit in before) != (circuit in after):
            yield (
                f"what it holds of {shown(circuit)} from {_litres_words(old)} to"
                f" {_litres_words(new)}"
            )


def _litres_words(litres: float | None) -> str:
    return "not known" if litres is None else sizes.litres_told(litres)


def waived_told(was: Sequence[Waiver], now: Sequence[Waiver]) -> str:
    """What became of what a circuit goes without."""
    return told_in_short(_waived_told(was, now), "what it goes without")


def _waived_told(was: Sequence[Waiver], now: Sequence[Waiver]) -> Iterator[str]:
    before, after = ({one.why: one.reason for one in each} for each in (was, now))
    for why, reason in after.items():
        if before.get(why) != reason:
            yield f"may go with {why}: “{shown(reason)}”"
    yield from (f"may not go with {why} any more" for why in before if why not in after)

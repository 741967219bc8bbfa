"""What is drawn and lacks, and what of it is ordered; what is to be cut, by group."""

from dataclasses import dataclass

from webapp.build.by_key import find_by_key
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.needs import MM_IN_A_METRE, Need
from webapp.plumbing.shelf import CutPiece, Given


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLine:
    """One thing to buy: `ordered` is how much of it is on its way, in the unit of the need."""

    need: Need
    ordered: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutGroup:
    """All that is cut from one kind of hose or tube, the longest first."""

    what: str
    kerf_mm: float
    pieces: tuple[CutPiece, ...]


def buy_list(drawing: Drawing, given: Given) -> tuple[BuyLine, ...]:
    """What is lacking, by name; what parts bring that are not here yet stands beside it."""
    counts: dict[str, int] = {}
    lengths: dict[str, float] = {}
    for ordered in drawing.plumbing.ordered:
        part = find_by_key(drawing.build.parts, ordered.part)
        if part is None or part.arrived:
            continue
        counts[ordered.what] = counts.get(ordered.what, 0) + (ordered.count or 0)
        metres = ordered.metres or 0.0
        lengths[ordered.what] = lengths.get(ordered.what, 0.0) + metres * MM_IN_A_METRE
    return tuple(
        BuyLine(
            need=need,
            ordered=round(min(lengths.get(need.what, 0.0), need.length_mm) / MM_IN_A_METRE, 3)
            if need.length_mm
            else min(counts.get(need.what, 0), need.count),
        )
        for need in given.needs
    )


def cut_groups(given: Given) -> tuple[CutGroup, ...]:
    """What drawn runs need cut, from the shelf or bought, each kind by its name."""
    groups: dict[str, list[CutPiece]] = {}
    for piece in given.cut_pieces:
        groups.setdefault(piece.what, []).append(piece)
    return tuple(
        CutGroup(
            what=what,
            kerf_mm=groups[what][0].kerf_mm,
            pieces=tuple(sorted(groups[what], key=lambda piece: -piece.length_mm)),
        )
        for what in sorted(groups)
    )

"""What the page of coolant shows: a mixture for a frost, what to drain, buy and pour, its parts."""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import Part
from webapp.build.plumbing import Circuit
from webapp.pages import addresses
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words import coolant as said
from webapp.pages.words import plumbing_parts, sizes
from webapp.pages.words.how import How
from webapp.plumbing.coolant import CoolantFill, NoMixture, mixture_of, topped_up
from webapp.plumbing.coolant_to_buy import (
    coolant_lines,
    full_litres,
    is_cooling,
    over_poured,
    put_coolant_into_parts,
)
from webapp.plumbing.parts_to_buy import POUR, USUAL_LEAD_DAYS, loose_part_of, usual_lead_days
from webapp.sizing.answers import Missing
from webapp.sizing.fill_day import coolant_of
from webapp.sizing.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolantView:
    """Coolant of one circuit. `refused` is why there is no mixture, "" where there is one.

    `origin` says where the mixture is kept; `parts` bring it, each with what and how far it is;
    `press` is what the button says that puts it into Parts, "" where it stands there; `lead` says
    where the days until it comes are from, "" where no part would be made.
    """

    circuit: Named
    frost_hint: str
    holds: str
    without: str
    mixture: str
    origin: str
    lines: tuple[tuple[str, str], ...]
    refused: str
    cautions: tuple[str, ...]
    how: How | None
    parts: tuple[tuple[Named, str], ...]
    over: tuple[str, ...]
    press: str
    lead: str
    came: bool


def coolant_view(seen: Seen, key: str) -> CoolantView:
    """The page, by what is stored."""
    one, build = seen.circuits[key], seen.build
    circuit = one.circuit
    litres, _ = full_litres(build, seen.drawing, circuit, one.litres)
    found: CoolantFill | NoMixture | Missing | None = None
    if circuit.frost_c is not None or is_cooling(seen.drawing, circuit):
        found = coolant_of(Sheet(build.data_sheet), circuit, litres)
    fill = found if isinstance(found, CoolantFill) else None
    mixture = None if fill is None else fill.mixture
    press = _press(seen, circuit, fill)
    is_new = loose_part_of(build, key, POUR) is None
    over = () if isinstance(found, Missing) else over_poured(build, circuit, found)
    return CoolantView(
        circuit=Named(name=circuit.name, address=addresses.circuit(seen.slug, key)),
        frost_hint=f"as {sizes.temperature(said.HARD_FROST_C)}",
        holds=sizes.litres(one.litres.litres) if one.litres.litres else "",
        without=said.without(tuple(seen.name_of(other) for other in one.litres.without)),
        mixture=said.mixture_said(mixture) if mixture is not None else "",
        origin="" if fill is None else said.origin(is_kept=circuit.frost_c is not None),
        lines=() if fill is None else (*said.fill_lines(fill), *_as_it_is(circuit, fill)),
        refused=said.NO_MIXTURE[found.why] if isinstance(found, NoMixture) else "",
        cautions=said.cautions(mixture),
        how=None if fill is None else said.coolant_how(fill),
        parts=tuple(_parts(seen, key)),
        over=tuple(said.over_said(each.what, each.ordered, each.wanted) for each in over),
        press=press,
        lead=plumbing_parts.lead_said(usual_lead_days(build)) if press and is_new else "",
        came=fill is not None and any(part.arrived for part, _ in coolant_lines(build, key)),
    )


def _press(seen: Seen, circuit: Circuit, fill: CoolantFill | None) -> str:
    if fill is None:
        return ""
    if circuit.frost_c is None:
        return said.INTO_PARTS
    put = put_coolant_into_parts(seen.build, circuit.key, lead_days=USUAL_LEAD_DAYS)
    if not put.made:
        return ""
    return said.INTO_PARTS if loose_part_of(seen.build, circuit.key, POUR) is None else said.UPDATE


def _parts(seen: Seen, key: str) -> Iterator[tuple[Named, str]]:
    """What brings the coolant, and how far each is."""
    for part, line in coolant_lines(seen.build, key):
        link = Named(name=part.name, address=addresses.part(seen.slug, part.key))
        yield link, f"{sizes.litres(line.litres or 0.0)} of {line.what}, {_how_far(part)}"


def _how_far(part: Part) -> str:
    if part.arrived:
        return said.HERE
    is_ordered = part.ordered_on is not None
    return plumbing_parts.ON_ORDER if is_ordered else plumbing_parts.TO_ORDER


def _as_it_is(circuit: Circuit, fill: CoolantFill) -> Iterator[tuple[str, str]]:
    """What comes of it where it is only filled up with the new mixture."""
    there, share = circuit.there_litres or 0.0, (circuit.there_percent or 0.0) / 100
    if 0 < there < fill.circuit_litres:
        topped = topped_up(fill.circuit_litres, there, share, fill.mixture.share)
        yield said.topped_said(topped, mixture_of(topped, fill.mixture.antifreeze))

"""What the page of coolant shows: a mixture for a frost, and what to drain, buy and pour."""

from dataclasses import dataclass

from webapp.build.units import Quantity, read_amount
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words import coolant as said
from webapp.pages.words import sizes
from webapp.pages.words.how import How
from webapp.plumbing.coolant import (
    ANTIFREEZES,
    Antifreeze,
    CoolantFill,
    Mixture,
    NoMixture,
    coolant_fill,
    mixture_for,
    mixture_of,
    topped_up,
)

FIELDS = ("frost", "kind", "holds", "there", "share")
PERCENT = 100.0
_MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolantView:
    """Coolant of one circuit. `refused` is why there is no mixture, "" where there is one."""

    circuit: Named
    frost_hint: str
    holds: str
    without: str
    mixture: str
    lines: tuple[tuple[str, str], ...]
    refused: str
    cautions: tuple[str, ...]
    how: How | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Typed:
    """What was typed; None where nothing was."""

    frost_c: float | None
    kind: Antifreeze
    holds: float
    there: float
    share: float


def coolant_view(seen: Seen, key: str, form: TypedForm) -> CoolantView:
    """The page; what was typed wrong is noted in the form."""
    one = seen.circuits[key]
    typed = _typed(form, one.litres.litres)
    found: Mixture | NoMixture | None = None
    fill: CoolantFill | NoMixture | None = None
    if typed.frost_c is not None and not form.faults:
        found = mixture_for(typed.frost_c, typed.kind)
        if isinstance(found, Mixture):
            fill = coolant_fill(
                typed.holds, found, there_litres=typed.there, there_share=typed.share
            )
    refused = next((said.NO_MIXTURE[x.why] for x in (found, fill) if isinstance(x, NoMixture)), "")
    lines = said.fill_lines(fill) if isinstance(fill, CoolantFill) else ()
    if isinstance(fill, CoolantFill) and 0 < typed.there < typed.holds:
        lines = (*lines, _as_it_is(typed, fill.mixture))
    without = tuple(seen.name_of(other) for other in one.litres.without)
    return CoolantView(
        circuit=Named(name=one.circuit.name, address=addresses.circuit(seen.slug, key)),
        frost_hint=f"as {sizes.temperature(said.HARD_FROST_C)}",
        holds=sizes.litres(one.litres.litres) if one.litres.litres else "",
        without=said.without(without),
        mixture=said.mixture_said(found) if isinstance(found, Mixture) else "",
        lines=lines,
        refused=refused,
        cautions=said.cautions(found if isinstance(found, Mixture) else None),
        how=said.coolant_how(fill) if isinstance(fill, CoolantFill) else None,
    )


def _as_it_is(typed: _Typed, mixture: Mixture) -> tuple[str, str]:
    """What comes of it where it is only filled up with the new mixture."""
    share = topped_up(typed.holds, typed.there, typed.share, mixture.share)
    return said.topped_said(share, mixture_of(share, typed.kind))


def _typed(form: TypedForm, litres: float) -> _Typed:
    frost = _amount(form, "frost", "temperature")
    if frost is not None and frost > 0:
        form.fault("frost", said.no_frost())
    holds, there = (_amount(form, name, "volume") for name in ("holds", "there"))
    for name, value in (("holds", holds), ("there", there)):
        if value is not None and value < 0:
            form.fault(name, "It can not be below zero. Enter what it holds.")
    share = form.decimal("share", "The share of concentrate", at_most=PERCENT)
    kind = next((each for each in ANTIFREEZES if each == form.typed("kind")), ANTIFREEZES[0])
    return _Typed(
        frost_c=frost,
        kind=kind,
        holds=litres if holds is None else holds,
        there=there or 0.0,
        share=(share or 0.0) / PERCENT,
    )


def _amount(form: TypedForm, name: str, quantity: Quantity) -> float | None:
    text = form.typed(name).replace(_MINUS, "-").strip()[:60]
    if not text:
        return None
    read = read_amount(text, quantity, sizes.shop_units())
    if read.value is None:
        form.fault(name, read.fault)
    return read.value

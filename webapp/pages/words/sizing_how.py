"""How the number of a check came about: its formula with its own numbers, what went in, sources."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from webapp.build.data_sheet import CheckName
from webapp.pages.words.amounts import sentence
from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.pages.words.how import How
from webapp.pages.words.sizing import (
    amount,
    answer_number,
    figure_line,
    figure_source,
    in_shop,
    limit_line,
)
from webapp.sizing.answers import Answer, Came, Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """What is done, with the names of inputs in braces, and who says so."""

    done: str
    source: str


_SPEED = Formula(
    done=(
        "Speed is flow over density and area: {air} of air, {absolute pressure} absolute and"
        " {temperature}, through a bore of {narrowest bore}."
    ),
    source="density of an ideal gas, p / (R T); air that a four-stroke takes in after Heywood,"
    " Internal Combustion Engine Fundamentals, section 2.10 (cited); valid below Mach 0.3",
)
_GAS_LOSS = (
    "isothermal flow, White, Fluid Mechanics, chapter 9; friction after Swamee and Jain (1976);"
    " bends after Crane TP-410; steps of bore after Borda and Carnot (all cited). Methods for"
    " bends differ by a fifth"
)
_LOSS = Formula(
    done=(
        "Run by run p1² - p2² = G² R T (f L/D + K + 2 ln(p1/p2)): {air} of air along {length} that"
        " turn by {bends together} in all; what is fitted on the way goes on top."
    ),
    source=_GAS_LOSS,
)
_HEAT = Formula(
    done=(
        "Behind the compressor T1 (1 + (ratio^0.2857 - 1) / efficiency), T in kelvin: {intake air}"
        " pressed by a ratio of {pressure ratio} at an efficiency of {compressor's efficiency}."
    ),
    source="Heywood, section 6.6 (cited); dry air, ratio 1 to 5. The rating is its seller's",
)
FORMULAS: dict[CheckName, Formula] = {
    "air_filter": Formula(
        done=(
            "The engine asks for {free air asked for} of free air (efficiency x density in the"
            " manifold x displacement x turns / 2); that over {filter's rated flow}."
        ),
        source="Heywood, section 2.10 (cited)",
    ),
    "intake_speed": _SPEED,
    "intake_loss": _LOSS,
    "charge_speed": _SPEED,
    "charge_loss": _LOSS,
    "charge_hose": _HEAT,
    "cooler_heat": _HEAT,
    "coolant_speed": Formula(
        done=(
            "The flow carries {heat into the coolant} with a rise of {rise across the engine}:"
            " heat / (density x heat capacity x rise) is {coolant flow}; that over the area of"
            " {narrowest bore}."
        ),
        source="balance of energy; density and heat capacity at 90 °C after the ASHRAE tables as"
        " a library has them; share of the fuel's heat after Heywood, table 12.1 (from memory)",
    ),
    "radiator": Formula(
        done="Compared, never worked out: the core is {core beside the donor's}, the air through"
        " it {air beside the donor's}.",
        source="common practice, no source",
    ),
    "mixture": Formula(
        done="{share of antifreeze} of {antifreeze} by volume, by straight lines between the"
        " points of the table.",
        source="freezing points of the ASHRAE tables as a library has them; 20 to 60 %",
    ),
    "expansion": Formula(
        done="{room above the tank's cold mark} over {circuit holds about}. It grows by its volume"
        " x (density at 20 °C / density at 95 °C - 1).",
        source="densities after the ASHRAE tables as a library has them: about 5 %, two published"
        " sets differ by half a percent of the volume",
    ),
    "boiling": Formula(
        done="Boiling is where the vapour over the mixture has the pressure of the air at"
        " {height above sea} and of a cap of {pressure cap} together; less {hottest coolant}.",
        source="Raoult's law with the vapour pressures of water and of glycol (Antoine, Jones and"
        " Tamplin, cited); 99 to 199 °C, to 60 %",
    ),
    "cap": Formula(
        done="A cap of {pressure cap} beside the lowest rating, {lowest rating in the coolant"
        " circuit}.",
        source="a comparison",
    ),
    "fuel_suction": Formula(
        done="{fuel pump's flow} along {length} of {narrowest bore} at {fuel's viscosity, cold}"
        " take (f L/D + K) density x speed² / 2; a lift of {lift of the fuel} density x g x height"
        " more. A filter comes on top.",
        source="Darcy and Weisbach, f = 64 / Re below 2300 (Hagen and Poiseuille), Swamee and Jain"
        " above 5000, between them the turbulent part of Churchill (1977), all cited",
    ),
    "fuel_return": Formula(
        done="The narrowest bore of the return beside that of the feed, {narrowest bore of the"
        " feed}.",
        source="common practice, no source",
    ),
    "voltage_drop": Formula(
        done="{current} x {resistance} x {length out and back} x (1 + 0.00393 (t - 20)) at"
        " {temperature of the wire}, reckoned as {reckoned as}, of {battery}.",
        source="most resistance of IEC 60228 class 5, plain copper (read in three tables)",
    ),
    "fuse": Formula(
        done="A load of {load} fills a fuse to no more than four fifths, and the fuse lets through"
        " no more than the wire carries, {wire carries}.",
        source="common practice; blade sizes of ISO 8820-3 (cited)",
    ),
    "exhaust_loss": Formula(
        done="As in a charge pipe, backwards from the open end: {burnt gas} of gas at"
        " {exhaust gas} along {length} that turn by {bends together} in all, new steel.",
        source=_GAS_LOSS,
    ),
    "belt_length": Formula(
        done="Straight spans and the arcs on the pulleys, added up once round, are"
        " {length round the pulleys}; the belt may be longer by what the tensioner takes up.",
        source="Shigley, sections 17-1 and 17-2 (cited); exact for circles",
    ),
    "belt_wrap": Formula(
        done="The turn of the belt from the span before the pulley of {pulley} to the one behind"
        " it.",
        source="Shigley, sections 17-1 and 17-2 (cited); exact for circles",
    ),
    "growth": Formula(
        done="{coefficient} of {material} x {length} x (t - 20 °C), at {temperature of the pipe}.",
        source="coefficients of engineering handbooks (cited); to 900 °C",
    ),
}
"""By check; of what is left to others nothing is worked out."""
_COMPARED: tuple[CheckName, ...] = ("belt_length", "fuse", "cap", "fuel_return")
"""Checks whose number was typed or drawn, and is only held against another."""
_GROUPS: tuple[tuple[Came, str], ...] = (
    ("drawn", "From the drawing"),
    ("typed", "Typed in"),
    ("assumed", "Assumed, for nobody typed it"),
    ("worked out", "Worked out on the way"),
)


class _Named(dict[str, str]):
    def __missing__(self, name: str) -> str:
        return f"the {name}"


def check_how(answer: Answer, kind: str) -> How | None:
    """How a check came about; None where nothing went into it."""
    told = tuple(_told(answer))
    return How(figures=(kind,), of=CHECK_WORDS[answer.check], sentences=told) if told else None


def _told(answer: Answer) -> Iterator[str]:
    formula = FORMULAS.get(answer.check)
    if not answer.used:
        return
    if formula is not None and answer.word != "not checked":
        yield _filled(formula.done, (*answer.used, *answer.also)) + _is(answer)
    for came, words in _GROUPS:
        lines = [*_lines(came, answer.used)]
        if lines:
            yield f"{words}: {', '.join(lines)}."
    if answer.also:
        yield f"With it: {', '.join(figure_line(figure) for figure in answer.also)}."
    if formula is not None:
        yield f"Source: {in_shop(formula.source)}."
    if answer.limit is not None and answer.limit.instead_of is not None and answer.unit:
        usual = answer.limit.instead_of
        yield f"The usual limit would be {limit_line(usual, answer.unit)}: {usual.words}."


def _is(answer: Answer) -> str:
    if answer.value is None or answer.check in _COMPARED:
        return ""
    return f" That is {answer_number(answer)}."


def _lines(came: Came, used: Iterable[Figure]) -> Iterator[str]:
    for figure in used:
        if figure.came == came:
            yield figure_source(figure) if came == "typed" else f"{figure.name} {amount(figure)}"


def _filled(done: str, figures: Iterable[Figure]) -> str:
    named = _Named({figure.name: amount(figure) for figure in figures})
    return sentence(in_shop(done).format_map(named))

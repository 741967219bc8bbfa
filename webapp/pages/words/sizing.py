"""What checks say, in a line: the answer, the number, and what it was held against.

Numbers are in the units of the shop, as everything of plumbing is (`sizes.write_in`).
"""

import re

from webapp.build.data_sheet import FIGURES, CheckName
from webapp.build.typed_figures import in_unit, own_unit, shop_unit
from webapp.pages.words import sizes
from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.pages.words.quoted import shown
from webapp.sizing.answers import Answer, Figure, Limit, Outside

STEADY_FLOW = (
    "Steady flow, new pipe. Pulses, kinks and squashed bends are not in these numbers. A maker's "
    "figure goes before every limit here."
)
_WITH_BENDS: tuple[CheckName, ...] = ("intake_loss", "charge_loss", "exhaust_loss")
_LOST = ("pipes alone", "pressure lost")
_DISPLACEMENT = FIGURES["displacement_l"].words

_AMOUNTS = re.compile(r"(-?\d+(?:\.\d+)?)(?: to (-?\d+(?:\.\d+)?))? (mm|°C|bar|kPa)\b")
"""An amount in a fixed sentence, or from where to where."""


def three_figures(value: float) -> str:
    """A number to three significant figures at most: 36.5, 0.567, 4180."""
    rounded = float(f"{value:.3g}")
    return f"{rounded:,.0f}" if abs(rounded) >= 1000 else f"{rounded:g}"


def bare(value: float, unit: str) -> str:
    """A number without its unit, in the unit of the shop; lengths to a tenth of a mm, or a
    thousandth of an inch."""
    own = shop_unit(unit, sizes.shop_units())
    said = value if own == unit else in_unit(value, unit, own)
    if own == "mm":
        return f"{said:,.1f}".removesuffix(".0")
    if own == "in":
        return f"{said:,.3f}".rstrip("0").rstrip(".")
    return three_figures(said)


def with_unit(value: float, unit: str) -> str:
    """A number with its unit, in the unit of the shop."""
    own = shop_unit(unit, sizes.shop_units())
    joined = "" if own == "°" else " "
    return f"{bare(value, unit)}{joined}{own}".rstrip()


def amount(figure: Figure) -> str:
    """An input alone: "51 mm", "suction"."""
    if isinstance(figure.value, str):
        return figure.value
    if figure.name in _LOST:
        return with_unit(_two_figures(figure.value, figure.unit), figure.unit)
    if figure.name == _DISPLACEMENT:
        own = own_unit("displacement_l", sizes.shop_units())
        return f"{three_figures(in_unit(figure.value, figure.unit, own))} {own}"
    return with_unit(figure.value, figure.unit)


def figure_line(figure: Figure) -> str:
    """An input: "narrowest bore 51 mm", "intake air 25 °C (assumed)"."""
    came = " (assumed)" if figure.came == "assumed" else ""
    return f"{figure.name} {amount(figure)}{came}"


def figure_source(figure: Figure) -> str:
    """A typed input with where it was read: "boost (gauge) 1.2 bar (engine maker's sheet)"."""
    read = f" ({shown(figure.source)})" if figure.source else ""
    return f"{figure.name} {amount(figure)}{read}"


def answer_number(answer: Answer) -> str:
    """The number of a check, "" where it has none; of losses with bends in them two figures, for
    methods differ by a fifth."""
    if answer.value is None:
        return ""
    if answer.check in _WITH_BENDS:
        return with_unit(_two_figures(answer.value, answer.unit), answer.unit)
    return with_unit(answer.value, answer.unit)


def _two_figures(value: float, unit: str) -> float:
    """The number that is written with two figures in the unit of the shop."""
    own = shop_unit(unit, sizes.shop_units())
    here = in_unit(1.0, unit, own)
    return float(f"{value * here:.2g}") / here


def in_shop(text: str) -> str:
    """A fixed sentence with its amounts in the units of the shop: "60 to 100 °C", "200 mm"."""
    return text if sizes.is_metric() else _AMOUNTS.sub(_in_shop, text)


def _in_shop(found: re.Match[str]) -> str:
    low, high, unit = found[1], found[2], found[3]
    last = with_unit(float(high or low), unit)
    return f"{bare(float(low), unit)} to {last}" if high else last


def limit_line(limit: Limit, unit: str) -> str:
    """What it was held against: "ok to 61 m/s, tight to 91"."""
    word = "from" if limit.at_least else "to"
    ok = f"ok {word} {with_unit(limit.ok, unit)}"
    return ok if limit.tight == limit.ok else f"{ok}, tight {word} {bare(limit.tight, unit)}"


def answer_words(answer: Answer) -> str:
    """The answer as it is said, in the units of the shop: "ok", "not checked: the boost is
    missing", "not checked: the cap of 50 psi lies outside 0 to 43.5 psi"."""
    gap = answer.gap
    if not isinstance(gap, Outside) or gap.words or answer.because:
        return answer.words
    own = shop_unit(gap.unit, sizes.shop_units()) if gap.unit else ""
    unit = f"{'' if own == '°' else ' '}{own}" if own else ""
    said = "" if gap.value is None else f" of {bare(gap.value, gap.unit)}{unit}"
    least, most = bare(gap.least, gap.unit), bare(gap.most, gap.unit)
    return f"not checked: the {gap.name}{said} lies outside {least} to {most}{unit}"


def answer_line(answer: Answer) -> str:
    """One check: "charge pipe, speed, hot1: ok, 36.5 m/s (ok to 61 m/s, tight to 91: ...)"."""
    line = f"{CHECK_WORDS[answer.check]}, {answer.at}: {answer_words(answer)}"
    if answer.value is not None:
        line += f", {answer_number(answer)}"
    if answer.limit is not None:
        held = limit_line(answer.limit, answer.unit) if answer.unit else ""
        line += f" ({f'{held}: ' if held else ''}{answer.limit.words})"
    return line

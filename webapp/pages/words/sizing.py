"""What checks say, in a line: the answer, the number, and what it was held against."""

from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.sizing.answers import Answer, Figure, Limit

STEADY_FLOW = (
    "Steady flow, new pipe. Pulses, kinks and squashed bends are not in these numbers. A maker's "
    "figure goes before every limit here."
)


def three_figures(value: float) -> str:
    """A number to three significant figures at most: 36.5, 0.567, 4180."""
    rounded = float(f"{value:.3g}")
    return f"{rounded:,.0f}" if abs(rounded) >= 1000 else f"{rounded:g}"


def with_unit(value: float, unit: str) -> str:
    """A number with its unit; lengths to a tenth of a mm."""
    if unit == "mm":
        return f"{value:,.1f}".removesuffix(".0") + " mm"
    joined = "" if unit == "°" else " "
    return f"{three_figures(value)}{joined}{unit}".rstrip()


def figure_line(figure: Figure) -> str:
    """An input: "narrowest bore 51 mm", "intake air 25 °C (assumed)"."""
    value = figure.value if isinstance(figure.value, str) else with_unit(figure.value, figure.unit)
    return f"{figure.name} {value}" + (" (assumed)" if figure.is_assumed else "")


def limit_line(limit: Limit, unit: str) -> str:
    """What it was held against: "ok to 61 m/s, tight to 91"."""
    word = "from" if limit.at_least else "to"
    ok = f"ok {word} {with_unit(limit.ok, unit)}"
    return ok if limit.tight == limit.ok else f"{ok}, tight {word} {three_figures(limit.tight)}"


def answer_line(answer: Answer) -> str:
    """One check: "charge pipe, speed, hot1: ok, 36.5 m/s (ok to 61 m/s, tight to 91: ...)"."""
    line = f"{CHECK_WORDS[answer.check]}, {answer.at}: {answer.words}"
    if answer.value is not None:
        line += f", {with_unit(answer.value, answer.unit)}"
    if answer.limit is not None:
        held = limit_line(answer.limit, answer.unit) if answer.unit else ""
        line += f" ({f'{held}: ' if held else ''}{answer.limit.words})"
    return line

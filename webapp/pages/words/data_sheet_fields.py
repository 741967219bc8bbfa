"""The data sheet in words: figures with their units, limits by their checks, pulleys of a belt."""

from collections.abc import Iterator, Sequence

from webapp.build.data_sheet import FIGURES, CheckName, OwnLimit, Pulley, SheetFigure
from webapp.pages.words import amounts as words
from webapp.pages.words.quoted import shown
from webapp.pages.words.steps import told_in_short

CHECK_WORDS: dict[CheckName, str] = {
    "air_filter": "air filter",
    "intake_speed": "intake pipe, speed",
    "intake_loss": "intake, pressure lost",
    "charge_speed": "charge pipe, speed",
    "charge_loss": "charge air, pressure lost",
    "charge_hose": "hose on the hot side",
    "cooler_heat": "charge cooler's tanks",
    "coolant_speed": "coolant hose, speed",
    "radiator": "radiator",
    "mixture": "mixture",
    "expansion": "room to expand",
    "boiling": "boiling",
    "cap": "pressure cap",
    "fuel_suction": "fuel, suction side",
    "fuel_return": "fuel, return",
    "voltage_drop": "voltage drop",
    "fuse": "fuse",
    "exhaust_loss": "exhaust, back pressure",
    "belt_length": "belt length",
    "belt_wrap": "belt wrap",
    "growth": "growth by heat",
    "left_to_others": "not sized here",
}
"""What a check is called on the screen."""


def figure_words(figure: SheetFigure) -> str:
    """A figure by its name: "boost (gauge)"."""
    return FIGURES[figure.name].words


def limit_words(limit: OwnLimit) -> str:
    """A limit by its check and its place: "charge pipe, speed, at hot1"."""
    return CHECK_WORDS[limit.check] + (f", at {shown(limit.at)}" if limit.at else "")


def pulley_words(one: Pulley) -> str:
    """A pulley by its size and its place: "150 mm at 0, 0"."""
    place = f"{words.number(one.x_mm)}, {words.number(one.y_mm)}"
    side = ", on the back" if one.is_back else ""
    return f"{words.number(one.diameter_mm)} mm at {place}{side}"


def pulleys_told(was: Sequence[Pulley], now: Sequence[Pulley]) -> str:
    """What became of pulleys: "“crank” from 150 mm at 0, 0 to 160 mm at 0, 0"."""
    return told_in_short(_pulleys_told(was, now), "pulleys")


def _pulleys_told(was: Sequence[Pulley], now: Sequence[Pulley]) -> Iterator[str]:
    before, after = ({one.name: one for one in each} for each in (was, now))
    for name, one in after.items():
        there = before.get(name)
        if there is None:
            yield f"“{shown(name)}” of {pulley_words(one)} added"
        elif there != one:
            drives = "" if there.drives == one.drives else f", on {one.drives}"
            yield f"“{shown(name)}” from {pulley_words(there)} to {pulley_words(one)}{drives}"
    yield from (f"“{shown(name)}” taken out" for name in before if name not in after)

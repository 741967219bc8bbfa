"""The data sheet in words: figures with their units, limits by their checks, pulleys of a belt."""

from collections.abc import Iterator, Sequence

from webapp.build.data_sheet import FIGURES, CheckName, FigureName, OwnLimit, Pulley, SheetFigure
from webapp.pages.words import amounts as words
from webapp.pages.words import sizes
from webapp.pages.words.quoted import shown
from webapp.pages.words.steps import told_in_short
from webapp.sizing.boiling import OLD_RADIATOR_CAP_BAR

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
FIGURE_HINTS: dict[FigureName, str] = {
    "fuel": "What is assumed hangs on it.",
    "boost_bar": "As a gauge shows it, over the pressure of the air. 0 without a charger.",
    "strokes": "Nothing is worked out for a two-stroke.",
    "volumetric_efficiency": "0.80 to 0.90 where nobody says.",
    "full_power_rpm": "Where it asks for most air.",
    "height_m": "The highest pass or the shop, above sea.",
    "intake_c": "The air at the filter on a hot day.",
    "filter_m3_h": "As its maker rates it.",
    "filter_loss_kpa": "Its maker's figure, new and clean.",
    "cooler_loss_kpa": "Its maker's figure at full flow.",
    "charge_hose_c": "The hose seller's figure for lasting heat.",
    "cooler_tank_c": "Of plastic tanks, their maker's figure for lasting heat.",
    "cooler_effectiveness": "0.6 to 0.7 for one in the wind.",
    "antifreeze_percent": "By volume, as a refractometer reads it.",
    "frost_c": "The hardest one that the vehicle stands in.",
    "cap_bar": "Stamped on it.",
    "cooler_tanks": "Plastic ones bear what their maker says; of metal ones nothing is asked.",
    "weakest_coolant_bar": "Of radiator, heater core, tank and hoses, the least.",
    "hottest_coolant_c": "The engine maker's figure, not the thermostat's.",
    "tank_room_l": "From the cold mark to the top.",
    "coolant_l": "Asked for where the drawing does not say all volumes.",
    "radiator_core": "Face and rows, held beside the one that the engine had.",
    "radiator_air": "Fan, shroud, grille, and nothing new in front of it.",
    "coolant_heat_kw": "Its maker's figure; else it is worked out from power and fuel.",
    "fuel_pump": "The first one after the tank. Its maker's own suction goes before both.",
    "pump_flow_l_h": "What the pump moves, return and all; else twice what the engine burns.",
    "fuel_lift_m": "From the fuel in the tank up to the pump; below zero where it runs down.",
    "silencers_kpa": "With catalyst and filter, by their makers, at full power. With a particulate"
    " filter 15 to 25 kPa is usual.",
    "exhaust_bore_mm": "Asked for where no exhaust is drawn.",
    "exhaust_bends_deg": "All turns added up: four of 90 are 360.",
}
"""What helps to find a figure."""


def figure_hint(name: FigureName) -> str:
    """What stands below the field of a figure."""
    hint = FIGURE_HINTS.get(name, "")
    if name not in ("cap_bar", "weakest_coolant_bar"):
        return hint
    low, high = map(sizes.bar, OLD_RADIATOR_CAP_BAR)
    return f"{hint} An old radiator kept, a brass core of 1950 to 1965: {low} to {high}."


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

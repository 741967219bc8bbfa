"""What each earned figure means by its standard name, and how it was worked out."""

from collections.abc import Mapping

from webapp.pages.words.how import How

FIGURE_WORDS: dict[str, str] = {
    "PV": "Planned value: hours of work the baseline wanted done by now.",
    "EV": "Earned value: what is done by now, in the hours the baseline gave it.",
    "AC": "Actual cost: hours that were really worked.",
    "BAC": "Budget at completion: all hours of work in the baseline.",
    "CV": "Cost variance: hours earned less hours worked; below zero, work took longer.",
    "SV": "Schedule variance: hours earned less hours planned; below zero is behind.",
    "CPI": "Cost index: hours earned by each hour worked; 1 is as estimated.",
    "SPI": "Schedule index: hours earned for each hour planned; 1 is on the plan.",
    "EAC": "Estimate at completion: hours in all, if work goes on as it went.",
    "EAC (bottom-up)": "Hours worked plus all hours left in today's plan.",
    "EAC (atypical)": "Hours in all, if the rest goes as the baseline said.",
    "EAC (CPI x SPI)": "Hours in all, if the rest is as slow and as late as before.",
    "ETC": "Estimate to complete: hours still to work, if it goes on as it went.",
    "VAC": "Variance at completion: budget less estimate; below zero is over it.",
    "VAC (bottom-up)": "Budget less worked and planned hours; added work is in it.",
    "TCPI": "To-complete index: hours each hour must earn now to end on budget.",
    "AT": "Actual time: shop hours promised since the start, in weeks of your shop week.",
    "ES": "Earned schedule: shop hours by which the baseline wanted this done, in weeks.",
    "SV(t)": "Schedule variance in time: weeks ahead of the baseline; below zero late.",
    "SPI(t)": "Schedule index in time: shop hours of the baseline done in each one promised.",
    "PD": "Planned duration: shop hours of the baseline from start to end, in weeks.",
    "IEAC(t)": "Weeks in all, if work goes on as fast as until now; closed weeks not counted.",
}

FORMULAS: dict[str, str] = {
    "PV": "of {BAC} in all the baseline wanted so much after {AT} of promised hours",
    "EV": "a finished task earns what the baseline gave it, a begun one its share that is not left",
    "AC": "the sum of the time log",
    "BAC": "the sum of the expected hours of every task for hands in the baseline",
    "CV": "EV {EV} less AC {AC}",
    "SV": "EV {EV} less PV {PV}",
    "CPI": "EV {EV} / AC {AC}",
    "SPI": "EV {EV} / PV {PV}",
    "EAC": "BAC {BAC} / CPI {CPI}",
    "EAC (bottom-up)": "AC {AC} and what every task of today's plan has left",
    "EAC (atypical)": "AC {AC} + BAC {BAC} less EV {EV}",
    "EAC (CPI x SPI)": "AC {AC} + (BAC {BAC} less EV {EV}) / (CPI {CPI} x SPI {SPI})",
    "ETC": "EAC {EAC} less AC {AC}",
    "VAC": "BAC {BAC} less EAC {EAC}",
    "VAC (bottom-up)": "BAC {BAC} less EAC (bottom-up) {EAC (bottom-up)}",
    "TCPI": "(BAC {BAC} less EV {EV}) / (BAC {BAC} less AC {AC})",
    "AT": "the shop hours promised since the start, over those of a shop week",
    "ES": "the baseline wanted EV {EV} done after so many promised hours, over those of a week",
    "SV(t)": "ES {ES} less AT {AT}",
    "SPI(t)": "ES {ES} / AT {AT}",
    "PD": "the promised hours of the baseline from its start to its end, over those of a week",
    "IEAC(t)": "PD {PD} / SPI(t) {SPI(t)}",
}
"""By name what it was worked out from; names in braces stand for their values."""


def earned_how(name: str, values: Mapping[str, str]) -> How:
    """How one figure was worked out; `values` has every figure in words, by name."""
    formula = FORMULAS[name]
    for other, value in values.items():
        formula = formula.replace(f"{{{other}}}", value)
    return How(
        figures=(f"earned-{name.replace(' ', '-')}",),
        of=name,
        sentences=(f"{name}, {values[name]}: {formula}.",),
    )

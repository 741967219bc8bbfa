"""The subsystems an engine swap usually has, offered by name to a build that has none yet.

Common practice, no source: the starter list for another engine in an old vehicle has the same.
"""

from webapp.build.build_input import BuildInput, Medium, Subsystem
from webapp.build.folded_name import folded_name

_NAMED: tuple[tuple[str, Medium], ...] = (
    ("Mounts and bay", "none"),
    ("Air", "air"),
    ("Coolant", "water"),
    ("Fuel", "fuel"),
    ("Exhaust", "gas"),
    ("Power steering", "oil"),
    ("Brake vacuum", "vacuum"),
    ("Heat and A/C", "gas"),
    ("Electrical", "electrical"),
    ("Fluids", "none"),
    ("First-start checks", "none"),
)
USUAL_SUBSYSTEMS = tuple(
    Subsystem(key=f"usual_{order}", name=name, medium=medium, order=order)
    for order, (name, medium) in enumerate(_NAMED, 1)
)
"""In their usual working order; the keys are for telling them apart, and no build's."""


def subsystems_offered(build: BuildInput) -> tuple[Subsystem, ...]:
    """What is offered where a subsystem is named: those of the build, else the usual ones."""
    return build.subsystems or USUAL_SUBSYSTEMS


def usual_named(name: str) -> Subsystem | None:
    """The usual subsystem of a name, whatever its case; None where it is none of them."""
    folded = folded_name(name)
    return next((one for one in USUAL_SUBSYSTEMS if folded_name(one.name) == folded), None)

"""What of the plumbing goes with a task or a part that is to be removed, in words."""

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Ordered
from webapp.pages.words import amounts as words
from webapp.pages.words.names import named
from webapp.pages.words.quoted import shown

ThatNames = tuple[tuple[str, ...], tuple[str, ...]]
"""Keys of the runs, and of the circuits, that name a task."""
ThatNeed = tuple[tuple[Ordered, ...], tuple[str, ...]]
"""What a part brings, and the keys of the components that it is."""


def that_name_task(build: BuildInput, key: str) -> ThatNames:
    """The runs that a task makes, and the circuits that hold it."""
    plumbing = build.plumbing
    return (
        tuple(run.key for run in plumbing.runs if key in run.tasks),
        tuple(circuit.key for circuit in plumbing.circuits if key in circuit.holds),
    )


def gone_with_task(build: BuildInput, key: str) -> str:
    """What is told before a task is removed; "" where nothing that is plumbed names it."""
    runs, circuits = that_name_task(build, key)
    told = []
    if runs:
        of = [shown(run.name or run.key) for run in build.plumbing.runs if run.key in runs]
        told.append(f"It makes or fits {words.count(len(runs), 'run')}: {named(of)}.")
    if circuits:
        of = [shown(one.name) for one in build.plumbing.circuits if one.key in circuits]
        told.append(f"It waits for {words.count(len(circuits), 'circuit')}: {named(of)}.")
    return f"{' '.join(told)} They do without it then." if told else ""


def that_need_part(build: BuildInput, key: str) -> ThatNeed:
    """What a part brings for the plumbing, and the components that are not here without it."""
    plumbing = build.plumbing
    return (
        tuple(line for line in plumbing.ordered if line.part == key),
        tuple(one.key for one in plumbing.components if one.part == key),
    )


def gone_with_part(build: BuildInput, key: str) -> str:
    """What is told before a part is removed; "" where nothing that is plumbed needs it."""
    lines, components = that_need_part(build, key)
    told = []
    if lines:
        brings = named(shown(one.what) for one in lines)
        told.append(f"What it brings for the plumbing goes with it: {brings}.")
    if components:
        of = [shown(one.name) for one in build.plumbing.components if one.key in components]
        count = "counts" if len(of) == 1 else "count"
        told.append(f"{named(of)} {count} as here then.")
    return " ".join(told)

"""What of the plumbing goes with a thing that is to be removed, in words."""

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Component, Ordered, Port, address_of
from webapp.pages.words import amounts as words
from webapp.pages.words.names import named
from webapp.pages.words.plumbing_drawn import ROLE_WORDS
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


WITH_CIRCUIT = (
    "The components it begins and ends at go with it where nothing else is theirs."
    " What waited for it waits no more."
)
"""What is told before a circuit is removed."""


def gone_with_component(component: Component) -> str:
    """What is told before a component is removed."""
    ports = len(component.ports)
    going = "Its port goes" if ports == 1 else f"Its {ports} ports go"
    return f"{going} with it. No run hangs on it."


def hang_on_port(build: BuildInput, component: Component, port: Port) -> tuple[str, ...]:
    """What goes with a port, or misses it, in sentences; () where nothing hangs on it."""
    told = []
    address = address_of(component.key, port.name)
    highest = [one.name for one in build.plumbing.circuits if one.highest == address]
    if highest:
        told.append(f"It is the highest point of {named(map(shown, highest))}: name another then.")
    if port.stop is not None and port.stop.on is not None:
        what = {"cap": "The cap on it goes", "part": "The part in it goes"}.get(port.stop.kind)
        if what is not None:
            told.append(f"{what} with it. Take it off first if it is to lie on the shelf.")
    ways = sum(port.name in pair for pair in component.passages or ())
    if ways:
        told.append(f"{words.count(ways, 'way inside goes', 'ways inside go')} with it.")
    if port.role is not None:
        told.append(f"Its circuit has a {ROLE_WORDS[port.role]} less then.")
    return tuple(told)

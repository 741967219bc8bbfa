"""Random circuits: a few components with ports any way round, joined at random."""

from dataclasses import replace
from random import Random

from hypothesis import strategies as st

from tests.plumbing.small import DAY, build, circuit, component, done, port
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Circuit, Component, Flow, Port, Role, Stop, address_of

FLOWS: tuple[Flow, ...] = ("in", "out", "out", "in", "both")
ROLES: tuple[Role | None, ...] = (None, None, None, "vent", "fill", "drain")
STOPS = (Stop(kind="cap", on=DAY), Stop(kind="air"), Stop(kind="cap", on=DAY))


def circuits() -> st.SearchStrategy[BuildInput]:
    """One circuit of two to six components; every run clamped, most other ports capped.

    Made of a count and a seed: drawn field by field they took longer than what is tried on them.
    """
    return st.builds(_random_circuit, st.integers(2, 6), st.integers(0, 2**32))


def _random_circuit(count: int, seed: int) -> BuildInput:
    chance = Random(seed)
    components: list[Component] = []
    for number in range(count):
        names = [f"p{place}" for place in range(chance.randint(1, 4))]
        ports = tuple(
            port(
                name,
                chance.choice(FLOWS),
                role=chance.choice(ROLES),
                shuts=chance.randint(0, 7) == 0,
            )
            for name in names
        )
        passages = None
        if chance.randint(0, 3) == 0:
            every = [(one, other) for one in names for other in names if one < other]
            passages = tuple(pair for pair in every if chance.random() < 0.5)
        components.append(component(f"k{number}", *ports, passages=passages))
    addresses = [address_of(one.key, each.name) for one in components for each in one.ports]
    order = chance.sample(addresses, len(addresses))
    runs = tuple(
        done(f"r{number}", order[2 * number], order[2 * number + 1])
        for number in range(chance.randint(0, len(order) // 2))
    )
    joined = {address for run in runs for address in run.ports}
    first, last = chance.sample(addresses, 2)
    of = circuit(first, last, medium=chance.choice(("water", "air", "fuel")))
    return build(_stopped(chance, components, joined), (of,), runs)


def _stopped(
    chance: Random, components: list[Component], joined: set[str]
) -> tuple[Component, ...]:
    def shut(one: Component, each: Port) -> Port:
        if address_of(one.key, each.name) in joined:
            return each
        is_left = chance.randint(0, 9) == 0
        return replace(each, stop=None if is_left else chance.choice(STOPS))

    return tuple(
        replace(one, ports=tuple(shut(one, each) for each in one.ports)) for one in components
    )


def only_circuit(of: BuildInput) -> Circuit:
    """The one circuit."""
    return of.plumbing.circuits[0]

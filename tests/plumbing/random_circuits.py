"""Random circuits: a few components with ports any way round, joined at random."""

from hypothesis import strategies as st

from tests.plumbing.small import DAY, build, circuit, component, done, port
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Circuit, Component, Flow, Port, Role, Stop, address_of

FLOWS: st.SearchStrategy[Flow] = st.sampled_from(("in", "out", "out", "in", "both"))
ROLES: st.SearchStrategy[Role | None] = st.sampled_from((None, None, None, "vent", "fill", "drain"))


@st.composite
def circuits(draw: st.DrawFn) -> BuildInput:
    """One circuit of two to six components; every run clamped, most other ports capped."""
    components: list[Component] = []
    for number in range(draw(st.integers(2, 6))):
        names = [f"p{place}" for place in range(draw(st.integers(1, 4)))]
        ports = tuple(
            port(name, draw(FLOWS), role=draw(ROLES), shuts=draw(st.integers(0, 7)) == 0)
            for name in names
        )
        passages = None
        if draw(st.integers(0, 3)) == 0:
            every = [(one, other) for one in names for other in names if one < other]
            passages = tuple(pair for pair in every if draw(st.booleans()))
        components.append(component(f"k{number}", *ports, passages=passages))
    addresses = [address_of(one.key, each.name) for one in components for each in one.ports]
    order = draw(st.permutations(addresses))
    runs = tuple(
        done(f"r{number}", order[2 * number], order[2 * number + 1])
        for number in range(draw(st.integers(0, len(order) // 2)))
    )
    joined = {address for run in runs for address in run.ports}
    first, last = draw(st.permutations(addresses))[:2]
    of = circuit(first, last, medium=draw(st.sampled_from(["water", "air", "fuel"])))
    return build(_stopped(draw, components, joined), (of,), runs)


def _stopped(
    draw: st.DrawFn, components: list[Component], joined: set[str]
) -> tuple[Component, ...]:
    stops = st.sampled_from([Stop(kind="cap", on=DAY), Stop(kind="air"), Stop(kind="cap", on=DAY)])

    def shut(one: Component, each: Port) -> Port:
        if address_of(one.key, each.name) in joined:
            return each
        is_left = draw(st.integers(0, 9)) == 0
        return Port(
            name=each.name,
            end=each.end,
            size=each.size,
            flow=each.flow,
            role=each.role,
            shuts=each.shuts,
            stop=None if is_left else draw(stops),
        )

    return tuple(
        Component(
            key=one.key,
            name=one.name,
            circuit=one.circuit,
            passages=one.passages,
            ports=tuple(shut(one, each) for each in one.ports),
        )
        for one in components
    )


def only_circuit(of: BuildInput) -> Circuit:
    """The one circuit."""
    return of.plumbing.circuits[0]

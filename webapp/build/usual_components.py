"""Components as they are usually met: their ports, to be filled in with the sizes in the hand."""

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.build_input import MEDIA, Medium
from webapp.build.plumbing import Circuit, Component, EndKind, Flow, Port, Role, Stop, StopKind

_MEDIUM_OF: Mapping[str, Medium] = {
    "intake": "air",
    "charge": "air",
    "exhaust": "gas",
    "crankcase vent": "gas",
    "condensate": "water",
    "gearbox vent": "oil",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualPort:
    """A port as it usually is. `usual` are sizes in words; `of` is the circuit it is usually of,
    "" for that of the run it is put into."""

    name: str
    end: EndKind
    flow: Flow
    usual: str = ""
    of: str = ""
    role: Role | None = None
    shuts: bool = False
    stop: StopKind | None = None
    remark: str = ""

    @property
    def medium(self) -> Medium | None:
        """The medium it carries; None for any."""
        return next((one for one in MEDIA if one == self.of), _MEDIUM_OF.get(self.of))

    def port(self) -> Port:
        """It as a port that is not measured yet."""
        return Port(
            name=self.name,
            end=self.end,
            flow=self.flow,
            role=self.role,
            shuts=self.shuts,
            stop=None if self.stop is None else Stop(kind=self.stop),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualComponent:
    """A component as it usually is; `licensed` says what of it is not for everybody to do."""

    kind: str
    name: str
    ports: tuple[UsualPort, ...]
    licensed: str = ""

    def fits(self, medium: Medium) -> bool:
        """Whether one of its ports may carry that medium."""
        return any(port.medium in (None, medium) for port in self.ports)


def circuit_of_port(port: UsualPort, own: Circuit, circuits: tuple[Circuit, ...]) -> str | None:
    """The key of the circuit a port usually belongs to, of a component that is put into `own`;
    None where it belongs to none that is there.

    A circuit that is called like the one it is usually of comes first.
    """
    for one in (own, *circuits):
        if port.of and port.of in one.name.lower():
            return one.key
    if port.medium in (None, own.medium):
        return own.key
    alike = [one.key for one in circuits if one.medium == port.medium]
    return alike[0] if len(alike) == 1 else None


def first_port(component: Component, flow: Flow) -> Port | None:
    """The first port of a component that lets through that way and is not shut; None without."""
    for wanted in (flow, "both"):
        for port in component.ports:
            if port.flow == wanted and port.stop is None:
                return port
    return None

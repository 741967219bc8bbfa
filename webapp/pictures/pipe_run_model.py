"""What the pipe run is drawn from, and its measurements once it is laid out."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import Medium
from webapp.pictures.labels import Label
from webapp.pictures.lines import Axes, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One task on a pipe."""

    begins: dt.datetime
    ends: dt.datetime
    done: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe:
    """One subsystem, its tasks in any order."""

    name: str
    medium: Medium
    medium_word: str
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PathLeg:
    """One task of the path: its number in the list beside the picture, its pipe, its time."""

    number: int
    name: str
    pipe: int
    begins: dt.datetime
    ends: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Chances:
    """How sure first start is: its likely moment, and the range it falls in 8 times in 10."""

    likely: dt.datetime
    early: dt.datetime
    late: dt.datetime
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeRunModel:
    """What is drawn. `first_start_words` stands at the key, `chances` once there is a forecast."""

    now: dt.datetime
    first_start_at: dt.datetime | None
    first_start_words: str
    pipes: tuple[Pipe, ...]
    path: tuple[PathLeg, ...]
    chances: Chances | None = None

    @property
    def key_at(self) -> dt.datetime | None:
        """Where the header and the key stand: likely first start, but behind all the work."""
        if self.first_start_at is None or self.chances is None:
            return self.first_start_at
        return max(self.first_start_at, self.chances.likely)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A line across all pipes at a date."""

    line: str
    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPipe:
    """One pipe as path data: each layer one shape, however many tasks it has."""

    name: str
    medium: Medium
    medium_word: str
    x: float
    y: float
    idle: str
    done: str
    open: str
    done_walls: str
    open_walls: str
    pattern: str
    flanges: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeRun:
    """The measurements of the picture, in units of its own view box."""

    width: float
    height: float
    upright: bool
    ticks: tuple[Tick, ...]
    now: Tick
    pipes: tuple[DrawnPipe, ...]
    header: str
    path: str
    path_points: tuple[Point, ...]
    labels: tuple[Label, ...]
    key: Point | None
    key_words: Label
    range: str
    range_ends: str
    range_words: Label | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The measures of one form of the picture: along is time, across are the pipes."""

    axes: Axes
    along_from: float
    along_to: float
    across_from: float
    pitch: float
    half: float
    width: float
    height: float
    foot: float

    def lane(self, pipe: int) -> float:
        return self.across_from + (pipe + 0.5) * self.pitch

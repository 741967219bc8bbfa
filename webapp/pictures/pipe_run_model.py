"""What the pipe run is drawn from, and its measurements once it is laid out."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import Medium
from webapp.pictures.labels import Label
from webapp.pictures.lines import Axes, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One task on a pipe, or several that stand close together."""

    begins: dt.datetime
    ends: dt.datetime
    done: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe:
    """One subsystem, its tasks in any order."""

    name: str
    medium: Medium
    medium_word: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Nick:
    """A wait within a stretch of hands: its number in the list, and when it begins."""

    number: int
    at: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsRun:
    """A stretch of hands: its letter in the list, "9 tasks", "29.8 h", when its tasks begin."""

    letter: str
    tasks: str
    hours: str
    begins: dt.datetime
    ends: dt.datetime
    ticks: tuple[dt.datetime, ...]
    nicks: tuple[Nick, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """One wait of a descent: its number in the list, what is waited for."""

    number: int
    at: dt.datetime
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """Where the path leaves the hands for a pipe, and waits there."""

    pipe: int
    begins: dt.datetime
    ends: dt.datetime
    waits: tuple[Wait, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chances:
    """How sure first start is: its likely moment, and the range it falls in 8 times in 10."""

    likely: dt.datetime
    early: dt.datetime
    late: dt.datetime
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeRunModel:
    """What is drawn. `first_start_words` stands at the key, `chances` once there is a forecast.

    Words come as the lines that they break into where room is short.
    """

    now: dt.datetime
    first_start_at: dt.datetime | None
    first_start_words: tuple[str, ...]
    pipes: tuple[Pipe, ...]
    path: tuple[HandsRun | Fall, ...]
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
class DrawnHands:
    """The stretches of hands as path data, each layer one shape."""

    bodies: str
    walls: str
    flanges: str
    ticks: str
    nicks: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PathLine:
    """The path: `line` with a gap for each wait, `waiting` those; `points` all of it."""

    line: str
    waiting: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeRun:
    """The measurements of the picture, in units of its own view box.

    `letters` and `notes` are texts at stretches, `numbers` texts in a circle at waits, `leaders`
    lead from a wait to words that had to be set farther on.
    """

    width: float
    height: float
    upright: bool
    ticks: tuple[Tick, ...]
    now: Tick
    pipes: tuple[DrawnPipe, ...]
    header: str
    hands: DrawnHands
    hands_at: Point
    path: PathLine
    letters: tuple[Label, ...]
    names: tuple[Label, ...]
    notes: tuple[Label, ...]
    numbers: tuple[Label, ...]
    nick_numbers: tuple[Label, ...]
    leaders: str
    key: Point | None
    key_words: tuple[Label, ...]
    range: str
    range_ends: str
    range_words: tuple[Label, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The measures of one form of the picture: along is time, across are the pipes."""

    axes: Axes
    along_from: float
    along_to: float
    across_from: float
    pitch: float
    half: float
    hands: float
    hands_half: float
    width: float
    height: float
    foot: float

    def lane(self, pipe: int) -> float:
        """Across: the middle of a subsystem's pipe."""
        return self.across_from + (pipe + 0.5) * self.pitch

"""The path to first start for a narrow screen: time runs down, the hands at the left.

Each wait stands one step to the right of the hands, beside its subsystem's name and what is
waited for in level words. The subsystems' own pipes are left out: the table has them.
"""

from dataclasses import dataclass

from webapp.pictures.labels import Label, label_at, width_of
from webapp.pictures.lines import Axes, Point, spot
from webapp.pictures.path_course import Pieces, hands_layers, path_line, placed, within
from webapp.pictures.pipe_run import circle_at, cut
from webapp.pictures.pipe_run_model import (
    DrawnHands,
    DrawnPipe,
    Fall,
    HandsRun,
    PipeRun,
    PipeRunModel,
    Sheet,
)
from webapp.pictures.time_scale import TimeScale, last_shown, today_line, week_lines

WIDTH = 358.0
TOP = 40.0
HANDS, ASIDE, ASIDE_HALF = 84.0, 130.0, 6.0
SIGN, TEXT = 162.0, 178.0
"""Where letters and circles stand, and where the words beside them begin."""
UNITS_A_DAY, LEAST, MOST = 6.6, 420.0, 900.0
APART = 40.0
"""Labels are at least so far apart."""
LINE = 14.0
ABOVE_KEY = 42.0
"""From the last label to the key, beside which the date stands."""
TAIL = 42.0
"""From the end of the hands to the key."""
ROOM_BELOW = 84.0
"""For the words at the key: two lines of the date, three of its range."""
RANGE_LANE = 62.0
NAME_CHARACTERS = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class _Said:
    """What stands beside one place of the path, and the place it should stand at."""

    sign: str
    is_letter: bool
    lines: tuple[str, ...]
    along: float

    @property
    def room(self) -> float:
        """How far below it the next one stands."""
        return max(APART, 18 + LINE * (len(self.lines) - 1))


def upright(model: PipeRunModel) -> PipeRun:
    """The picture for a narrow screen."""
    sheet = _sheet(model)
    scale = TimeScale(model, sheet)
    pieces = placed(model, scale)
    said = _said(model, pieces, scale)
    ends = max([scale.along(model.key_at or model.now), *(one.end for one in pieces)])
    key_at = max(ends + TAIL, TOP + 14 + sum(one.room for one in said) + ABOVE_KEY)
    key = (HANDS, key_at) if pieces else None
    path = path_line(pieces, sheet, lambda _: ASIDE, [key] if key else [])
    set_apart = _apart(said, key_at - ABOVE_KEY)
    late = max(_range_along(model, scale, key)) if model.chances and key else 0.0
    return PipeRun(
        width=WIDTH,
        height=max(key_at + ROOM_BELOW, late + 16),
        upright=True,
        ticks=week_lines(model, scale, sheet),
        now=today_line(model, scale, sheet),
        pipes=_asides(model, pieces, sheet),
        header="",
        hands=DrawnHands(**hands_layers(pieces, sheet, scale)),
        hands_at=(HANDS, TOP),
        path=path,
        letters=tuple(label_at(one.sign, SIGN - 5, y + 4) for one, y in set_apart if one.is_letter),
        names=tuple(label_at(one.lines[0], TEXT, y - 2) for one, y in set_apart),
        notes=tuple(
            label_at(line, TEXT, y - 2 + LINE * i)
            for one, y in set_apart
            for i, line in enumerate(one.lines[1:], start=1)
        ),
        numbers=tuple(circle_at(one.sign, SIGN, y) for one, y in set_apart if not one.is_letter),
        nick_numbers=(),
        leaders="".join(
            f"M{spot(ASIDE + 10)} {spot(one.along)}L{spot(SIGN - 11)} {spot(y)}"
            for one, y in set_apart
            if not one.is_letter and abs(y - one.along) > 6
        ),
        key=key,
        key_words=_key_words(model, sheet, key),
        range=_range(model, scale, key),
        range_ends=_range_ends(model, scale, key),
        range_words=_range_words(model, key),
    )


def _sheet(model: PipeRunModel) -> Sheet:
    days = (last_shown(model) - model.now).total_seconds() / 86_400
    labels = sum(1 if isinstance(one, HandsRun) else len(one.waits) for one in model.path)
    length = max(min(max(days * UNITS_A_DAY, LEAST), MOST), labels * APART)
    return Sheet(
        axes=Axes(upright=True),
        along_from=TOP,
        along_to=TOP + length,
        across_from=ASIDE,
        pitch=0,
        half=ASIDE_HALF,
        hands=HANDS,
        hands_half=9,
        width=WIDTH,
        height=TOP + length + TAIL + ROOM_BELOW,
        foot=0,
    )


def _said(model: PipeRunModel, pieces: Pieces, scale: TimeScale) -> list[_Said]:
    """The words of each stretch and each wait, in order along the path."""
    found = []
    for one in pieces:
        if isinstance(one.piece, HandsRun):
            amount = f"{one.piece.tasks}, {one.piece.hours}"
            middle = (one.begin + one.end) / 2
            lines: tuple[str, ...] = ("Your hands", amount)
            found.append(_Said(sign=one.piece.letter, is_letter=True, lines=lines, along=middle))
            continue
        name = cut(model.pipes[one.piece.pipe].name, NAME_CHARACTERS)
        for wait in one.piece.waits:
            at = within(one, scale.along(wait.at))
            lines = (name, *_two_lines(wait.words, WIDTH - TEXT - 6))
            found.append(_Said(sign=str(wait.number), is_letter=False, lines=lines, along=at))
    return found


def _apart(said: list[_Said], bottom: float) -> list[tuple[_Said, float]]:
    """Each at its place, pushed down as far as the one before needs, and up from the bottom."""
    places: list[float] = []
    for one in said:
        least = places[-1] + said[len(places) - 1].room if places else TOP + 14
        places.append(max(one.along, least))
    most = bottom
    for i in reversed(range(len(places))):
        places[i] = min(places[i], most)
        most = places[i] - said[i - 1].room
    return list(zip(said, places, strict=True))


def _two_lines(text: str, room: float) -> tuple[str, ...]:
    """The text broken once between words where it is too long for one line, then cut."""
    if width_of(text) <= room:
        return (text,)
    words = text.split(" ")
    first = 1
    while first < len(words) and width_of(" ".join(words[: first + 1])) <= room:
        first += 1
    return tuple(_fitted(" ".join(part), room) for part in (words[:first], words[first:]) if part)


def _fitted(text: str, room: float) -> str:
    most = len(text)
    while most > 1 and width_of(cut(text, most)) > room:
        most -= 1
    return cut(text, most)


def _asides(model: PipeRunModel, pieces: Pieces, sheet: Sheet) -> tuple[DrawnPipe, ...]:
    """A short piece of the subsystem's pipe at each wait."""
    axes, found = sheet.axes, []
    for one in pieces:
        if isinstance(one.piece, Fall):
            pipe = model.pipes[one.piece.pipe]
            begin, end = one.begin - 3, one.end + 3
            found.append(
                DrawnPipe(
                    name="",
                    medium=pipe.medium,
                    medium_word="",
                    x=0,
                    y=0,
                    idle="",
                    done="",
                    open=axes.box(begin, end, ASIDE, ASIDE_HALF),
                    done_walls="",
                    open_walls=axes.walls(begin, end, ASIDE, ASIDE_HALF),
                    pattern="",
                    flanges="",
                )
            )
    return tuple(found)


def _key_words(model: PipeRunModel, sheet: Sheet, key: Point | None) -> tuple[Label, ...]:
    if key is None:
        return (label_at(" ".join(model.first_start_words), 14, sheet.height - 22),)
    return tuple(
        label_at(line, HANDS + 50, key[1] - 4 + 18 * i)
        for i, line in enumerate(model.first_start_words)
    )


def _range_along(model: PipeRunModel, scale: TimeScale, key: Point) -> tuple[float, ...]:
    assert model.chances is not None
    shift = key[1] - scale.along(model.key_at or model.now)
    moments = (model.chances.early, model.chances.likely, model.chances.late)
    return tuple(scale.along(moment) + shift for moment in moments)


def _range(model: PipeRunModel, scale: TimeScale, key: Point | None) -> str:
    if model.chances is None or key is None:
        return ""
    early, _, late = _range_along(model, scale, key)
    return Axes(upright=True).along(early, late, RANGE_LANE)


def _range_ends(model: PipeRunModel, scale: TimeScale, key: Point | None) -> str:
    if model.chances is None or key is None:
        return ""
    at = _range_along(model, scale, key)
    return "".join(Axes(upright=True).flange(along, RANGE_LANE, 5) for along in at)


def _range_words(model: PipeRunModel, key: Point | None) -> tuple[Label, ...]:
    if model.chances is None or key is None:
        return ()
    after = 18.0 * len(model.first_start_words)
    return tuple(
        label_at(line, HANDS + 50, key[1] - 4 + after + 15 * i)
        for i, line in enumerate(model.chances.words)
    )

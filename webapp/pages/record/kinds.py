"""How long work takes by kind: what this build says, what earlier ones do, what comes of it."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.pages.words import amounts as words
from webapp.pages.words.earlier_records import heard
from webapp.pages.words.how import How, factor, factor_how, level_how
from webapp.pages.words.how_record import OwnTasks, heard_factor_how, heard_level_how, taken_how
from webapp.planning.chances.factors import (
    Factors,
    KindFactor,
    is_of_hours_taken,
    setup_of,
)
from webapp.planning.record.calibration import Hours, names_of, records_of, said_of
from webapp.planning.record.levels import KindSays, in_levels, rest_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What one side says of a kind: a factor and the tasks behind it."""

    factor: str = words.NOTHING
    count: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KindLine:
    """One kind of work, or the level: the tasks behind it, and the forecast's factor.

    `before` is what earlier builds say of it alone, `here` what its own tasks say.
    """

    name: str
    figure: str
    count: str
    factor: str
    words: str
    how: How
    before: Beside = Beside()
    here: Beside = Beside()


@dataclass(frozen=True, slots=True, kw_only=True)
class KindLines:
    """The kinds with a record, and the lines of the kinds without; () where no kind has one."""

    kinds: tuple[KindLine, ...] = ()
    ends: tuple[KindLine, ...] = ()
    is_heard: bool = False


def kind_lines(build: BuildInput) -> KindLines:
    """Every kind of work that something is known of."""
    return _Lines(build).lines()


class _Lines:
    def __init__(self, build: BuildInput) -> None:
        self._build = build
        self._setups = {setup.key: setup.name for setup in build.shop.setups}
        self._records: Mapping[str, Sequence[Hours]] = records_of(build)
        self._names = names_of(build)
        self._said = said_of(build)
        self._own = {one.kind: one for one in self._said if one.is_own}
        self._factors = in_levels(self._said, self._names)
        self._before: Factors | None = None
        if any(record.tasks for record in heard(build.earlier_records)):
            earlier = [one for one in self._said if not one.is_own]
            self._before = in_levels(earlier, self._names)

    def lines(self) -> KindLines:
        factors = self._factors
        if not factors.kinds and not factors.level.earlier:
            return KindLines()
        ends = []
        if factors.level.count or factors.level.earlier:
            ends.append(self._level())
        if any(task.hours_taken for task in self._build.tasks):
            ends.append(self._taken())
        return KindLines(
            kinds=tuple(map(self._kind, factors.kinds)),
            ends=tuple(ends),
            is_heard=self._before is not None,
        )

    def _name(self, kind: str) -> str:
        setup = setup_of(kind)
        name = self._setups.get(setup, setup) or "without a setup"
        return f"{name}, hours once taken" if is_of_hours_taken(kind) else name

    def _kind(self, of: KindFactor) -> KindLine:
        own = self._own.get(of.kind)
        before = Beside()
        if self._before is not None:
            begun = self._before.of_kind(of.kind).factor
            before = _beside(begun, of.earlier)
        return KindLine(
            name=self._name(of.kind),
            figure="factor",
            count=words.count(of.count, "task"),
            factor=factor(of.factor),
            words=_factor_words(of.factor, is_taken=is_of_hours_taken(of.kind)),
            before=before,
            here=self._here(own),
            how=self._how(of, own),
        )

    def _here(self, own: KindSays | None) -> Beside:
        if own is None:
            return Beside()
        actual, expected = _sums(self._records[own.kind])
        return _beside(actual / expected, own.count)

    def _how(self, of: KindFactor, own: KindSays | None) -> How:
        name, record = self._name(of.kind), self._records.get(of.kind, ())
        actual, expected = _sums(record)
        is_taken = is_of_hours_taken(of.kind)
        if self._before is None and not is_taken and not self._has_taken():
            return factor_how(
                name,
                count=of.count,
                actual=actual,
                expected=expected,
                level=self._factors.level.factor,
                weight=of.weight,
                told=of.factor,
            )
        if own is None:
            return heard_factor_how(
                name, earlier=of.earlier, own=None, rest=of.factor, weight=0.0, told=of.factor
            )
        rest = rest_of(self._said, own)
        return heard_factor_how(
            name,
            earlier=of.earlier,
            own=OwnTasks(
                count=of.count,
                actual=actual,
                expected=expected,
                put_right=math.exp(own.log_ratio),
            ),
            rest=math.exp(rest.log_mean),
            weight=rest.weight,
            told=of.factor,
            is_of_hours_taken=is_taken,
            is_heard=self._before is not None,
        )

    def _has_taken(self) -> bool:
        """Whether tasks at hours once taken say something, which moves the level too."""
        return any(is_of_hours_taken(kind) for kind in self._own)

    def _level(self) -> KindLine:
        level = self._factors.level
        kinds = sum(not is_of_hours_taken(kind) for kind in self._own)
        how = level_how(count=level.count, kinds=kinds, told=level.factor)
        if level.earlier:
            how = heard_level_how(earlier=level.earlier, count=level.count, told=level.factor)
        begun = self._before.level.factor if self._before is not None else 1.0
        return KindLine(
            name="kinds without a record",
            figure="level",
            count=words.count(level.count, "task"),
            factor=factor(level.factor),
            words=_factor_words(level.factor),
            before=_beside(begun, level.earlier),
            here=_tasks(level.count),
            how=how,
        )

    def _taken(self) -> KindLine:
        taken = self._factors.taken
        return KindLine(
            name="other work at hours once taken",
            figure="level",
            count=words.count(taken.count, "task"),
            factor=factor(taken.factor),
            words=_factor_words(taken.factor, is_taken=True),
            here=_tasks(taken.count),
            how=taken_how(count=taken.count, told=taken.factor),
        )


def _beside(value: float, count: int) -> Beside:
    return Beside(factor=factor(value), count=words.count(count, "task"))


def _tasks(count: int) -> Beside:
    return Beside(factor=words.count(count, "task")) if count else Beside()


def _sums(record: Sequence[Hours]) -> tuple[float, float]:
    """Actual and expected hours together."""
    return sum(actual for actual, _ in record), sum(expected for _, expected in record)


def _factor_words(value: float, *, is_taken: bool = False) -> str:
    share = value - 1
    if abs(share) < 0.005:
        return "takes what it took" if is_taken else "takes what was estimated"
    side = "longer" if share > 0 else "less"
    than = "it took" if is_taken else "estimated"
    return f"takes {abs(share) * 100:.0f} % {side} than {than}"

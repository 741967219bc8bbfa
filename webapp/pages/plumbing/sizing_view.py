"""Does it carry enough: every check of the drawing and the data sheet, circuit by circuit."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from webapp.pages import addresses
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words.amounts import sentence
from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.pages.words.how import How
from webapp.pages.words.sizing import figure_line, limit_line, with_unit
from webapp.sizing.answers import Answer, Word
from webapp.sizing.checks import checks_of
from webapp.sizing.left_to_others import NOT_SIZED, LeftToOthers

ELSEWHERE = "Wires and belts"
CARRIES_OR_UNKNOWN: tuple[Word, ...] = ("ok", "tight", "not checked")


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLine:
    """One check: where, what it says, its number and what it was held against.

    `kind` is what `how` calls the number.
    """

    check: str
    place: Named
    says: str
    number: str
    kind: str
    limit: str
    limit_from: str
    remarks: tuple[str, ...]
    how: How | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckGroup:
    """The checks of one circuit."""

    of: Named
    lines: tuple[CheckLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizingView:
    """The Sizing page."""

    lede: str
    short: str
    groups: tuple[CheckGroup, ...]
    others: tuple[LeftToOthers, ...]


def sizing_view(seen: Seen) -> SizingView:
    """Every check of a build; what is left to licensed practice apart, with its caution."""
    answers = checks_of(seen.build, seen.plumbed)
    sized = [answer for answer in answers if answer.check != "left_to_others"]
    numbered = list(enumerate(sized, start=1))
    groups = [
        CheckGroup(
            of=_circuit(seen, key),
            lines=tuple(_line(seen, number, answer) for number, answer in found),
        )
        for key, found in groupby(numbered, key=lambda each: each[1].circuit)
    ]
    return SizingView(
        lede=_lede(sized),
        short=_short(seen, sized),
        groups=tuple(groups),
        others=tuple(_others(answers)),
    )


def _short(seen: Seen, answers: Iterable[Answer]) -> str:
    """What does not carry enough: "Not enough: room to expand (Coolant)."; "" where all does."""
    found = [
        f"{CHECK_WORDS[answer.check]} ({_place(seen, answer.at).name})"
        for answer in answers
        if answer.word not in CARRIES_OR_UNKNOWN
    ]
    return f"Not enough: {'; '.join(found)}." if found else ""


def _lede(answers: Iterable[Answer]) -> str:
    words = [answer.word for answer in answers]
    short = sum(word not in CARRIES_OR_UNKNOWN for word in words)
    counts = [
        f"{words.count('ok')} ok",
        f"{words.count('tight')} tight",
        f"{short} too small, too hot or too long",
        f"{words.count('not checked')} not checked",
    ]
    return f"{', '.join(counts[:-1])} and {counts[-1]}."


def _others(answers: Iterable[Answer]) -> Iterator[LeftToOthers]:
    """The matters that the drawing touches, each once, in the order of the list of all."""
    left = [answer for answer in answers if answer.check == "left_to_others"]
    names = {figure.value for answer in left for figure in answer.used}
    for one in NOT_SIZED.values():
        if one.name in names:
            yield one


def _circuit(seen: Seen, key: str | None) -> Named:
    if key is None or key not in seen.circuits:
        return Named(name=ELSEWHERE, address="")
    name = seen.circuits[key].circuit.name
    return Named(name=name, address=addresses.circuit(seen.slug, key), key=key)


def _line(seen: Seen, number: int, answer: Answer) -> CheckLine:
    kind = f"check-{number}"
    limit = answer.limit
    return CheckLine(
        check=sentence(CHECK_WORDS[answer.check]),
        place=_place(seen, answer.at),
        says=answer.words,
        number="" if answer.value is None else with_unit(answer.value, answer.unit),
        kind=kind,
        limit="" if limit is None or not answer.unit else limit_line(limit, answer.unit),
        limit_from="" if limit is None else limit.words,
        remarks=answer.remarks,
        how=_how(answer, kind),
    )


def _how(answer: Answer, kind: str) -> How | None:
    """What went into a check and what else came of it."""
    told = []
    if answer.used:
        told.append(f"From {', '.join(figure_line(figure) for figure in answer.used)}.")
    if answer.also:
        told.append(f"Also {', '.join(figure_line(figure) for figure in answer.also)}.")
    if not told:
        return None
    return How(figures=(kind,), of=CHECK_WORDS[answer.check], sentences=tuple(told))


def _place(seen: Seen, at: str) -> Named:
    """A run or a circuit with its page, a component by its name, else as it is called."""
    if at in seen.runs:
        return Named(name=seen.runs[at].run.name, address=addresses.run(seen.slug, at), key=at)
    if at in seen.circuits:
        return _circuit(seen, at)
    component = seen.components.get(at)
    return Named(name=at if component is None else component.name, address="", key=at)

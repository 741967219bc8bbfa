"""Does it carry enough: every check of the drawing and the data sheet, circuit by circuit."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from webapp.build.data_sheet import FIGURES, LIMITED, DataSheet
from webapp.pages import addresses
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words.amounts import sentence
from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.pages.words.how import How
from webapp.pages.words.sizing import answer_number, answer_words, in_shop, limit_line
from webapp.pages.words.sizing_how import check_how
from webapp.sizing.answers import Answer, Missing, Word
from webapp.sizing.checks import checks_of
from webapp.sizing.left_to_others import NOT_SIZED, LeftToOthers
from webapp.sizing.of_exhaust import OF_TYPED, is_exhaust_drawn

ELSEWHERE = "Wires and belts"
TYPED_EXHAUST = "Exhaust, as it was typed"
CARRIES_OR_UNKNOWN: tuple[Word, ...] = ("ok", "tight", "not checked")


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLine:
    """One check: where, what it says, its number and what it was held against.

    `kind` is what `how` calls the number. `asks` are the places where what is missing is typed or
    drawn, `change` where the limit is, "" where it has none; `usual` what an own limit replaces.
    """

    check: str
    place: Named
    says: str
    number: str
    kind: str
    limit: str
    limit_from: str
    usual: str
    change: str
    asks: tuple[Named, ...]
    remarks: tuple[str, ...]
    how: How | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckGroup:
    """The checks of one circuit."""

    of: Named
    lines: tuple[CheckLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizingView:
    """The Sizing page. `asked` is what nothing was said of yet, `never` what is never sized."""

    lede: str
    short: str
    groups: tuple[CheckGroup, ...]
    asked: tuple[tuple[str, Named], ...]
    others: tuple[LeftToOthers, ...]
    never: str


def sizing_view(seen: Seen) -> SizingView:
    """Every check of a build; what is left to licensed practice apart, with its caution."""
    answers = checks_of(seen.build, seen.plumbed)
    sized = [answer for answer in answers if answer.check != "left_to_others"]
    numbered = list(enumerate(sized, start=1))
    groups = [
        CheckGroup(of=of, lines=tuple(_lines(seen, found)))
        for of, found in groupby(numbered, key=lambda each: _group(seen, each[1]))
    ]
    others = tuple(_others(answers))
    return SizingView(
        lede=_lede(sized),
        short=_short(seen, sized),
        groups=tuple(groups),
        asked=tuple(_asked(seen)),
        others=others,
        never=_never(others),
    )


def _short(seen: Seen, answers: Iterable[Answer]) -> str:
    """What does not carry enough: "Not enough: room to expand (Coolant)."; "" where all does."""
    found = [
        f"{CHECK_WORDS[answer.check]} ({place_of(seen, answer.at).name})"
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


def _asked(seen: Seen) -> Iterator[tuple[str, Named]]:
    """What is neither drawn nor typed, with the place where it is."""
    sheet, slug = seen.build.data_sheet, seen.slug
    if not sheet.wires:
        yield (
            "No cable or wire is typed in: neither the starter's cable nor a fuse is checked.",
            Named(name="Type in a wire", address=addresses.wire(slug)),
        )
    if not sheet.belts:
        yield (
            "No belt is typed in: its length and its wraps are not checked.",
            Named(name="Type in a belt", address=addresses.belt(slug)),
        )
    if not is_exhaust_drawn(seen.drawing) and not _is_any_typed(sheet):
        yield (
            "No exhaust is drawn: its back pressure and its growth are not checked. Draw it as a"
            " circuit of gas, or type its bore, length and bends.",
            Named(name="Type in the exhaust", address=addresses.figure(slug, "exhaust_bore_mm")),
        )


def _is_any_typed(sheet: DataSheet) -> bool:
    return any(figure.name in OF_TYPED for figure in sheet.figures)


def _others(answers: Iterable[Answer]) -> Iterator[LeftToOthers]:
    """The matters that the drawing touches, each once, in the order of the list of all."""
    left = [answer for answer in answers if answer.check == "left_to_others"]
    names = {figure.value for answer in left for figure in answer.used}
    for one in NOT_SIZED.values():
        if one.name in names:
            yield replace(one, caution=in_shop(one.caution))


def _never(others: tuple[LeftToOthers, ...]) -> str:
    """What else is never sized, wherever it comes in."""
    touched = {one.matter for one in others}
    rest = [one for one in NOT_SIZED.values() if one.matter not in touched]
    return "; ".join(f"{one.name} (left to {one.who})" for one in rest)


def _group(seen: Seen, answer: Answer) -> Named:
    if answer.circuit in seen.circuits:
        return _circuit(seen, answer.circuit or "")
    name = TYPED_EXHAUST if answer.check in ("exhaust_loss", "growth") else ELSEWHERE
    return Named(name=name, address=addresses.data_sheet(seen.slug))


def _circuit(seen: Seen, key: str) -> Named:
    name = seen.circuits[key].circuit.name
    return Named(name=name, address=addresses.circuit(seen.slug, key), key=key)


def _lines(seen: Seen, found: Iterable[tuple[int, Answer]]) -> Iterator[CheckLine]:
    """The lines of a circuit; what is said beside several of them is said once."""
    told = set[str]()
    for number, answer in found:
        line = _line(seen, number, answer)
        yield replace(line, remarks=tuple(one for one in line.remarks if one not in told))
        told.update(line.remarks)


def _line(seen: Seen, number: int, answer: Answer) -> CheckLine:
    kind, limit = f"check-{number}", answer.limit
    usual = None if limit is None else limit.instead_of
    is_limited = answer.check in LIMITED and limit is not None
    return CheckLine(
        check=sentence(CHECK_WORDS[answer.check]),
        place=place_of(seen, answer.at),
        says=answer_words(answer),
        number=answer_number(answer),
        kind=kind,
        limit="" if limit is None or not answer.unit else limit_line(limit, answer.unit),
        limit_from="" if limit is None else limit.words,
        usual="" if usual is None or not answer.unit else limit_line(usual, answer.unit),
        change=addresses.limit(seen.slug, answer.check, answer.at) if is_limited else "",
        asks=tuple(_asks(seen, answer)),
        remarks=tuple(map(in_shop, answer.remarks)),
        how=check_how(answer, kind),
    )


def _asks(seen: Seen, answer: Answer) -> Iterator[Named]:
    """Where what is missing is typed or drawn: each figure by its own field."""
    if not isinstance(answer.gap, Missing):
        return
    if answer.gap.at:
        place = place_of(seen, answer.gap.at)
        if place.address:
            yield Named(name=f"{place.name}: say it there", address=place.address)
    for name in answer.gap.figures:
        words = FIGURES[name].words
        yield Named(name=f"Type the {words}", address=addresses.figure(seen.slug, name))


def place_of(seen: Seen, at: str) -> Named:
    """A run, a circuit, a component, a wire, a belt or its pulley, each with its page."""
    if at in seen.runs:
        return Named(name=seen.run_name(at), address=addresses.run(seen.slug, at), key=at)
    if at in seen.circuits:
        return _circuit(seen, at)
    component = seen.components.get(at)
    if component is not None:
        return Named(name=component.name, address=addresses.component(seen.slug, at), key=at)
    for wire in seen.build.data_sheet.wires:
        if wire.key == at:
            return Named(name=wire.name, address=addresses.wire(seen.slug, at), key=at)
    for belt in seen.build.data_sheet.belts:
        if at == belt.key or at.startswith(f"{belt.key}."):
            pulley = at.removeprefix(belt.key).removeprefix(".")
            name = f"{belt.name}, {pulley}" if pulley else belt.name
            return Named(name=name, address=addresses.belt(seen.slug, belt.key), key=at)
    return Named(name=at, address="", key=at)

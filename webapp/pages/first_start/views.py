"""First start in words: what is open by kind, by stage and by circuit; a stage, a circuit."""

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.first_start.holes import Hole
from webapp.first_start.list_facts import facts_of
from webapp.first_start.standing import CheckStanding, StageStanding
from webapp.pages import addresses
from webapp.pages.first_start.at_hand import AtHand
from webapp.pages.first_start.check_view import CheckView, CheckViews
from webapp.pages.words import start_page as words
from webapp.pages.words.amounts import count, day, sentence
from webapp.pages.words.first_start import open_words

CHECKS_A_PAGE = 12
FALLEN_SHOWN = 8
HOLES_SHOWN = 80
FLUIDS = "fluids"


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLine:
    """One kind of what is open: how many, and the first of them."""

    what: str
    count: int
    first: str
    address: str
    every: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StageLine:
    """A stage with how far it is."""

    number: int
    title: str
    note: str
    how_far: str
    why_shut: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitLine:
    """A circuit of the list: how many of its checks are open, and how many are offered."""

    name: str
    how_far: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OverviewView:
    """All of the first page."""

    known: str
    how_many: str
    lines: tuple[OpenLine, ...]
    stages: tuple[StageLine, ...]
    circuits: tuple[CircuitLine, ...]
    fallen: tuple[CheckView, ...]
    fallen_more: int
    aside: tuple[CheckView, ...]
    oldest: tuple[str, ...]
    next: CheckView | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ListView:
    """Some checks of a stage or a circuit. `pages` are the addresses of all its pages."""

    title: str
    note: str
    how_far: str
    why_shut: str
    checks: tuple[CheckView, ...]
    pages: tuple[tuple[str, str, bool], ...]


def overview(hand: AtHand) -> OverviewView:
    """What stands between the build and the key."""
    views, all_of = CheckViews(hand), hand.standing.all
    fell = [one for one in all_of if one.state in ("fallen", "lapsed")]
    ready = next(
        (one for one in all_of if one.can_be_signed and not one.check.engine_running), None
    )
    return OverviewView(
        known=open_words(hand.standing),
        how_many=_how_many(hand),
        lines=tuple(_open_lines(hand)),
        stages=tuple(
            _stage_line(hand, number, stage)
            for number, stage in enumerate(hand.standing.stages, start=1)
        ),
        circuits=tuple(_circuit_lines(hand)),
        fallen=tuple(views.of(one) for one in fell[:FALLEN_SHOWN]),
        fallen_more=max(0, len(fell) - FALLEN_SHOWN),
        aside=tuple(views.of(one) for one in hand.standing.set_aside),
        oldest=oldest_words(hand),
        next=None if ready is None else views.of(ready),
    )


def _how_many(hand: AtHand) -> str:
    """How many checks there are before the key, and how many come after it is turned."""
    stages, key = hand.standing.stages, facts_of(hand.checks).key_stage
    place = [stage.stage.key for stage in stages].index(key)
    before = [one for stage in stages[:place] for one in stage.checks]
    after = sum(one.is_kept for stage in stages[place:] for one in stage.checks)
    return f"Before the key: {how_far(before)}. While it runs and after: {after} more."


def oldest_words(hand: AtHand) -> tuple[str, ...]:
    """The ten oldest signatures that it rests on, with their days."""
    names = {one.check.key: one.check.text for one in hand.standing.all}
    return tuple(
        f"{day(one.at, today=hand.today)}: {names[one.check]} ({one.signer})"
        for one in hand.standing.oldest
    )


def _open_lines(hand: AtHand) -> Iterable[OpenLine]:
    kinds: dict[str, list[Hole]] = {}
    for hole in hand.standing.holes:
        is_fluid = hole.kind == "check" and hole.stage == FLUIDS
        kinds.setdefault("fluid" if is_fluid else hole.kind, []).append(hole)
    order = ("task", "part", "circuit", "not tested", "fluid", "check", "answer", "stop line")
    for kind in (*order, "shut"):
        found = kinds.get(kind, [])
        if found or kind in ("task", "part", "circuit", "fluid", "check"):
            yield OpenLine(
                what=words.HOLES[kind],
                count=len(found),
                first=hole_name(found[0]) if found else "none",
                address=hole_address(hand.slug, found[0]) if found else "",
                every=addresses.first_start_open(hand.slug, kind),
            )


def hole_name(hole: Hole) -> str:
    """What something that is open is called, with why where the name alone does not say it."""
    if hole.kind == "answer":
        return words.question(hole.key)
    if hole.kind == "shut":
        return words.SHUT.get(hole.why, hole.why)
    if hole.kind == "circuit":
        return f"{hole.name}: {hole.why}"
    return sentence(hole.name)


def hole_address(slug: str, hole: Hole) -> str:
    """Where something that is open is dealt with."""
    match hole.kind:
        case "check":
            return addresses.first_start_check(slug, hole.key)
        case "task":
            return addresses.task(slug, hole.key)
        case "part":
            return addresses.part(slug, hole.key)
        case "circuit" | "not tested":
            return addresses.circuit(slug, hole.key)
        case "answer":
            return addresses.first_start_answers(slug)
        case "stop line":
            return addresses.first_start_stop_lines(slug)
        case _:
            return addresses.first_start_day(slug)


def open_of(hand: AtHand, kind: str) -> tuple[Hole, ...]:
    """Everything of one kind that is open."""
    return tuple(
        hole
        for hole in hand.standing.holes
        if (kind == "fluid" and hole.kind == "check" and hole.stage == FLUIDS)
        or (hole.kind == kind and (kind != "check" or hole.stage != FLUIDS))
    )


def how_far(checks: Iterable[CheckStanding]) -> str:
    """How many of the kept checks are signed, set aside, and how many fell."""
    kept = [one for one in checks if one.is_kept]
    signed = sum(one.state in ("stands", "spent") for one in kept)
    said = f"{signed} of {len(kept)} signed"
    aside = sum(one.state == "set aside" for one in kept)
    fell = sum(one.state in ("fallen", "lapsed") for one in kept)
    missing = sum(one.state == "figures missing" for one in kept)
    for number, what in ((aside, "set aside"), (fell, "fell or ran out"), (missing, "no figures")):
        if number:
            said += f", {number} {what}"
    return said


def _why_shut(hand: AtHand, stage: StageStanding) -> str:
    if stage.is_open:
        return ""
    first = next((one for one in _before(hand, stage) if not one.is_met), None)
    if first is None:
        return "Shut."
    place = [one.stage.key for one in hand.standing.stages].index(first.check.stage) + 1
    return f"Opens after stage {place}. First there: {first.check.text}"


def _before(hand: AtHand, stage: StageStanding) -> Iterable[CheckStanding]:
    for one in hand.standing.stages:
        if one.stage.key == stage.stage.key:
            return
        yield from one.checks


def _stage_line(hand: AtHand, number: int, stage: StageStanding) -> StageLine:
    return StageLine(
        number=number,
        title=stage.stage.title,
        note=stage.stage.note,
        how_far=how_far(stage.checks),
        why_shut="" if stage.is_open else "not open yet",
        address=addresses.first_start_stage(hand.slug, stage.stage.key),
    )


def _circuit_lines(hand: AtHand) -> Iterable[CircuitLine]:
    for key, _ in hand.checks.groups:
        checks = [one for one in hand.standing.all if one.check.circuit == key]
        if not checks:
            continue
        offered = sum(one.state in ("offered", "left out") for one in checks)
        more = f", {count(offered, 'more', 'more')} offered" if offered else ""
        yield CircuitLine(
            name=sentence(key),
            how_far=how_far(checks) + more,
            address=addresses.first_start_circuit(hand.slug, key),
        )


def page_of_check(stage: StageStanding, key: str) -> int:
    """On which page of its stage a check stands, counted from 1."""
    kept = [one.check.key for one in stage.checks if one.is_kept]
    return kept.index(key) // CHECKS_A_PAGE + 1 if key in kept else 1


def stage_list(hand: AtHand, stage: StageStanding, page: int) -> ListView:
    """The kept checks of a stage, so many at a time, in the order they are walked."""
    views = CheckViews(hand)
    kept = [one for one in stage.checks if one.is_kept]
    pages = max(1, -(-len(kept) // CHECKS_A_PAGE))
    at = min(max(page, 1), pages)
    shown = kept[(at - 1) * CHECKS_A_PAGE : at * CHECKS_A_PAGE]
    number = [one.stage.key for one in hand.standing.stages].index(stage.stage.key) + 1
    return ListView(
        title=f"{number}. {stage.stage.title}",
        note=stage.stage.note,
        how_far=how_far(stage.checks),
        why_shut=_why_shut(hand, stage),
        checks=tuple(map(views.of, shown)),
        pages=tuple(
            (
                f"{(each - 1) * CHECKS_A_PAGE + 1} to {min(each * CHECKS_A_PAGE, len(kept))}",
                addresses.first_start_stage(hand.slug, stage.stage.key, each),
                each == at,
            )
            for each in range(1, pages + 1)
        )
        if pages > 1
        else (),
    )


def circuit_list(hand: AtHand, key: str) -> ListView:
    """The checks of a circuit; those that are offered or were left out come last."""
    views = CheckViews(hand)
    checks = [one for one in hand.standing.all if one.check.circuit == key]
    kept = [one for one in checks if one.is_kept]
    rest = [one for one in checks if not one.is_kept]
    return ListView(
        title=f"Checks of the circuit: {key}",
        note="What is offered is taken in on its own page.",
        how_far=how_far(checks),
        why_shut="",
        checks=tuple(map(views.of, (*kept, *rest))),
        pages=(),
    )

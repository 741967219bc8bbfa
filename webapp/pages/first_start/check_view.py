"""A check as the pages show it: its words, why, caution, what it hangs on, what is in its way."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from webapp.first_start.check_list import Check
from webapp.first_start.standing import Blocked, CheckStanding
from webapp.pages import addresses
from webapp.pages.first_start.at_hand import AtHand
from webapp.pages.words import start_page as words
from webapp.pages.words.amounts import day, sentence

SAID_NOTHING = "Nothing has been opened since"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What is in the way of a check, and where it is dealt with."""

    what: str
    name: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingField:
    """A reading to be typed: the name of its field, what it is called, its unit and range."""

    field: str
    label: str
    hint: str
    is_words: bool
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckView:
    """One check in words. `ways` () and `can_sign` False: it is signed, or not on the list."""

    key: str
    number: str
    stage: str
    stage_title: str
    circuit: str
    text: str
    why: str
    caution: str
    hangs: str
    who: str
    state: str
    is_signed: bool
    can_sign: bool
    ways: tuple[Way, ...]
    readings: tuple[ReadingField, ...]
    asks_figures: bool
    asks_helper: bool
    asks_paper: bool
    asks_seen: bool
    asks_opened: bool
    is_never: bool
    is_own: bool
    is_offered: bool
    is_left_out: bool
    is_dropped: bool
    address: str


class CheckViews:
    """Makes the views of one page; what things are called is looked up once."""

    def __init__(self, hand: AtHand) -> None:
        self.hand = hand
        self.stages = [stage.stage for stage in hand.standing.stages]
        self._places = {
            check.key: f"{number}.{place}"
            for number, stage in enumerate(self.stages, start=1)
            for place, check in enumerate(stage.checks, start=1)
        }
        self._titles = {stage.key: stage.title for stage in self.stages}

    @cached_property
    def names(self) -> Mapping[tuple[str, str], str]:
        """What checks, tasks and circuits are called, by kind and key."""
        build = self.hand.build
        found = {("task", key): name for key, name in self.hand.checks.task_names}
        found |= {("task", task.key): task.name for task in build.tasks}
        found |= {("circuit", one.key): one.name or one.key for one in build.plumbing.circuits}
        found |= {("check", one.check.key): one.check.text for one in self.hand.standing.all}
        return found

    def of(self, one: CheckStanding) -> CheckView:
        """The view of a check as it stands."""
        check, slug = one.check, self.hand.slug
        return CheckView(
            key=check.key,
            number=self._places[check.key],
            stage=check.stage,
            stage_title=self._titles[check.stage],
            circuit=check.circuit,
            text=check.text,
            why=check.why,
            caution=words.with_local_codes(check.caution),
            hangs=words.hangs_on(check, self.names),
            who=words.WHO[check.who] if check.who != "you" else "",
            state=words.state_words(one, today=self.hand.today),
            is_signed=one.state in ("stands", "figures missing"),
            can_sign=one.can_be_signed or (check.key == OPENED and not one.blocked_by),
            ways=tuple(self.way(each) for each in one.blocked_by),
            readings=reading_fields(check, self.hand.volts),
            asks_figures=one.state == "figures missing",
            asks_helper=check.who == "helper",
            asks_paper=check.who == "licensed",
            asks_seen=asks_seen(check),
            asks_opened=check.key == OPENED,
            is_never=check.waive == "never",
            is_own=check.is_own,
            is_offered=one.state == "offered",
            is_left_out=one.state == "left out",
            is_dropped=one.state == "dropped",
            address=addresses.first_start_check(slug, check.key),
        )

    def way(self, blocked: Blocked) -> Way:
        """What is in the way, in words, with the place where it is dealt with."""
        slug, key = self.hand.slug, blocked.key
        name, address = blocked.name, addresses.first_start_day(slug)
        match blocked.kind:
            case "task":
                address = addresses.task(slug, key)
            case "circuit":
                address = addresses.circuit(slug, key)
            case "answer":
                name, address = words.question(key), addresses.first_start_answers(slug)
            case "stop line":
                name, address = sentence(key), addresses.first_start_stop_lines(slug)
            case "shut":
                name = words.SHUT.get(key, key)
            case _:
                address = addresses.first_start_check(slug, key)
        return Way(what=words.BLOCKED[blocked.kind], name=name, address=address)


OPENED = "opened_since"


def asks_seen(check: Check) -> bool:
    """Whether what was seen is asked for: of what is never set aside and has nothing to read."""
    return (
        check.waive == "never" and not check.readings and check.who == "you" and check.key != OPENED
    )


def reading_fields(check: Check, volts: str | None) -> tuple[ReadingField, ...]:
    """The fields of the readings of a check."""
    return tuple(
        ReadingField(
            field=f"reading-{number}",
            label=sentence(wanted.name),
            hint=words.range_words(wanted, volts),
            is_words=wanted.is_words,
            number=number,
        )
        for number, wanted in enumerate(check.readings)
    )


def what_changed(hand: AtHand, since: dt.datetime) -> tuple[str, ...]:
    """What was signed, set aside, opened or turned since a page was shown."""
    start, at = hand.build.start, hand.at
    names = {one.check.key: one.check.text for one in hand.standing.all}
    found: list[tuple[dt.datetime, str]] = []
    for signature in start.signatures:
        found.append((signature.at, f"signed: {names.get(signature.check, '')}"))
    for aside in start.set_asides:
        found.append((aside.at, f"set aside: {names.get(aside.check, '')}"))
    for opening in start.openings:
        found.append((opening.at, f"opened: {opening.name}"))
    for run in start.runs:
        found.append((run.begun_at, "cranked or run"))
    return tuple(
        f"{day(moment, today=at.date())} {moment:%H:%M:%S}: {said}"
        for moment, said in sorted(found)
        if since < moment <= at
    )

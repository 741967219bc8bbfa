"""The screens of the day in words: the stop lines first, then one sentence and what is pressed."""

import datetime as dt
import math
from dataclasses import dataclass

from webapp.build.first_start import RunKind
from webapp.build.moments import by_the_clock_of
from webapp.first_start.attempts import WATCHED_WITHIN, last_stop
from webapp.first_start.list_facts import OPENED_SINCE, facts_of
from webapp.pages.first_start.at_hand import AtHand
from webapp.pages.first_start.check_view import CheckView, CheckViews
from webapp.pages.first_start.day_step import Asked, Step, may_watch, prime_was_cranked, step_of
from webapp.pages.first_start.views import oldest_words
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words import start_page as words
from webapp.pages.words.amounts import sentence
from webapp.pages.words.first_start import open_words

BRACKETS = {"[air pull: where]": 1, "[where]": 0, "[seat / outside: where]": 0}
"""Which of the typed lines stands in the brackets of a stop line."""
TURN_WORDS: dict[RunKind, tuple[str, str]] = {
    "prime": ("Turn it without firing: ten seconds, then rest.", "Turn it"),
    "start": ("Crank: ten seconds at most, then rest.", "Crank it"),
    "power": ("Powered up: everybody at his post.", "It is powered up"),
    "spin": ("First turn, wheels free: two arm's lengths away.", "It is turned"),
    "drive": ("Walking pace, own ground, nobody in front or behind.", "It is driven"),
}
CRANKED: dict[RunKind, str] = {
    "prime": "Turning without firing. It must not fire.",
    "start": "Cranking: ten seconds at most.",
}
NO_WATCH = ("cranking", "running", "stopped", "cause", "figures", "it ran", "wait", "watch")
"""Screens that do not lead to the watch for fire: something else is to be done first."""
RUNS_ON = "All of this run is tapped. Stop it the normal way."


@dataclass(frozen=True, slots=True, kw_only=True)
class StopLines:
    """The lines that say how to stop it, with what was typed into them."""

    lines: tuple[str, ...]
    more: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AbortChoice:
    """Why it was stopped, to pick from: what is noticed, what is done first, what is looked for."""

    key: str
    notice: str
    action: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Clock:
    """A clock worked out from stored moments: since when or until when, and how long."""

    text: str
    seconds: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DayView:
    """One screen of the day.

    sentence : at most fifteen words while it runs
    beforehand : what is asked while it runs, with its caution: no running screen has room for it
    refresh : seconds after which the screen asks again by itself, 0 for not
    to_watch : somebody may end here and watch for fire; from_watch : the day may go on instead
    """

    screen: str
    stop: StopLines
    sentence: str
    check: CheckView | None
    clock: Clock | None
    where: str
    refresh: int
    button: str
    kind: str
    run: str
    aborts: tuple[AbortChoice, ...]
    is_first_look: bool
    signs_beside: bool
    ends_normally: bool
    beforehand: tuple[tuple[str, str], ...]
    watch: tuple[str, ...]
    aside: tuple[str, ...]
    oldest: tuple[str, ...]
    road: str
    known: str
    shut: str
    to_watch: bool
    may_say_opened: bool
    from_watch: bool
    asked_watch: str
    not_taken: str
    without_page: str


def stop_lines(hand: AtHand) -> StopLines:
    """The stop lines of a build; an empty bracket stays as the list has it."""
    found = hand.checks.stop_words_for(hand.standing.answers)
    typed = {one.name: one.words for one in hand.build.start.stop_lines}
    said, used = [], set[str]()
    for line in found.lines:
        for bracket, place in BRACKETS.items():
            name = found.typed[place] if place < len(found.typed) else ""
            if bracket in line and typed.get(name):
                line = line.replace(bracket, typed[name])
                used.add(name)
        said.append(line)
    rest = [
        f"{sentence(name.removeprefix('the '))}: {typed[name]}."
        for name in found.typed
        if typed.get(name) and name not in used
    ]
    return StopLines(lines=tuple(said), more=" ".join(rest))


def day_view(hand: AtHand, watch: Asked = "", not_taken: str = "") -> DayView:
    """The screen that comes next; `not_taken` is why a press before it was not taken."""
    step = step_of(hand, watch)
    views = CheckViews(hand)
    check = None if step.check is None else views.of(step.check)
    shut = hand.standing.shut
    clock = _clock(hand, step)
    is_running = step.screen in ("running", "cranking")
    return DayView(
        screen=step.screen,
        stop=stop_lines(hand),
        sentence=_sentence(step, hand.checks.key),
        check=check,
        clock=clock,
        where="" if check is None else _where(hand, step),
        refresh=_refresh(step, clock),
        button=_button(step, hand.checks.key),
        without_page=words.ran_without_page(hand.checks.key),
        kind=step.kind or "",
        run=step.run.key if step.run else "",
        aborts=tuple(
            AbortChoice(
                key=one.key, notice=sentence(one.notice), action=one.action, after=one.after
            )
            for one in hand.checks.aborts_for(hand.standing.answers)
        )
        if step.screen == "stopped"
        else (),
        is_first_look=step.check is not None and step.check.state != "figures missing",
        signs_beside=step.screen == "turn" and step.kind == "prime" and prime_was_cranked(hand),
        ends_normally=_ends_normally(step),
        beforehand=_beforehand(hand, step) if step.screen == "turn" else (),
        watch=() if is_running else watch_words(hand),
        aside=() if is_running else _aside(views, hand),
        oldest=() if is_running else oldest_words(hand),
        road="" if is_running else road_words(hand),
        known=open_words(hand.standing),
        shut=words.SHUT[shut.why] if shut is not None and step.screen != "running" else "",
        may_say_opened=not is_running and _may_say_opened(hand),
        to_watch=step.screen not in NO_WATCH and may_watch(hand),
        from_watch=step.screen == "watch" and step_of(hand, "no").screen != "watch",
        asked_watch=watch,
        not_taken=not_taken,
    )


def _sentence(step: Step, kind: str) -> str:
    check = step.check.check if step.check is not None else None
    match step.screen:
        case "cranking" if step.kind is not None:
            return CRANKED.get(step.kind, "")
        case "running":
            return RUNS_ON if check is None else check.text
        case "turn" if step.kind is not None:
            return TURN_WORDS[step.kind][0]
        case "stopped":
            return "What was it, and what was done?"
        case "cause":
            return "Find out why first: what was it, and what was done?"
        case "enough":
            return "Enough for today: find it cold. It opens again in the morning."
        case "it ran":
            return words.did_it_run(kind)
        case "over":
            return "Nothing more is asked today."
        case _:
            return "" if check is None else check.text


def _may_say_opened(hand: AtHand) -> bool:
    """Whether it was said today what was opened, so that more is to be said where there is more."""
    one = hand.standing.of(OPENED_SINCE)
    return one is not None and one.state == "stands"


def _button(step: Step, kind: str) -> str:
    if step.screen == "it ran":
        return words.it_ran(kind)
    return TURN_WORDS[step.kind][1] if step.screen == "turn" and step.kind else ""


def _beforehand(hand: AtHand, step: Step) -> tuple[tuple[str, str], ...]:
    """What is tapped in the run that is offered: of its stage, later ones too once it ran."""
    assert step.check is not None
    places = [stage.stage.key for stage in hand.standing.stages]
    begin = places.index(step.check.check.stage)
    end = len(places) if hand.standing.ran_at is not None else begin + 1
    return tuple(
        (one.check.text, words.with_local_codes(one.check.caution))
        for stage in hand.standing.stages[begin:end]
        for one in stage.checks
        if one.is_kept and one.check.engine_running and one.check.caution
    )


def _ends_normally(step: Step) -> bool:
    """Whether the right-hand press of a running screen is the stop that is part of the run."""
    return step.screen == "running" and (
        step.check is None or step.check.check.key in ("normal_stop", "hot_stop")
    )


def _where(hand: AtHand, step: Step) -> str:
    assert step.check is not None
    stage = hand.standing.stage_of(step.check.check.stage)
    kept = [one.check.key for one in stage.checks if one.is_kept]
    place = kept.index(step.check.check.key) + 1
    return f"{stage.stage.title} · check {place} of {len(kept)}"


def _refresh(step: Step, clock: Clock | None) -> int:
    if step.screen in ("running", "cranking"):
        return 1
    if step.screen == "watch":
        return 15
    if step.screen == "wait":
        return 1
    return 1 if step.screen == "turn" and clock is not None else 0


def _clock(hand: AtHand, step: Step) -> Clock | None:
    """From the server's stored moments: a screen that went dark shows the same second."""
    run, shut, at = step.run, hand.standing.shut, hand.at
    if step.screen == "cranking" and run is not None:
        seconds = _seconds(at - run.begun_at)
        return Clock(text=f"{seconds} s", seconds=seconds)
    if step.screen == "running" and run is not None and run.fired_at is not None:
        seconds = _seconds(at - run.fired_at)
        return Clock(text=f"{seconds // 60}:{seconds % 60:02d}", seconds=seconds)
    if step.screen == "turn" and shut is not None and shut.until is not None:
        left = max(0, math.ceil((shut.until - at).total_seconds()))
        what = "Rest" if shut.why == "rest" else "Pause"
        text = f"{what} until {shut.until:%H:%M:%S}: {left // 60}:{left % 60:02d} left"
        return Clock(text=text, seconds=left)
    if step.until is None:
        return None
    left = max(0, math.ceil((step.until - at).total_seconds()))
    if step.screen == "wait":
        text = f"Watch until {step.until:%H:%M:%S}: {left // 60}:{left % 60:02d} left"
        return Clock(text=text, seconds=left)
    is_second = step.check is not None and step.check.state == "figures missing"
    what = "Second look" if is_second else "First look"
    return Clock(text=f"{what} from {step.until:%H:%M}: {-(-left // 60)} min left", seconds=left)


def _seconds(passed: dt.timedelta) -> int:
    return max(0, int(passed.total_seconds()))


def not_taken_words(hand: AtHand, form: TypedForm) -> str:
    """Why a press on a screen that runs was not taken: another device pressed before; "" else.

    So short that the screen still holds it beside its one sentence.
    """
    if not form.faults:
        return ""
    tapped = hand.standing.of(form.typed("check"))
    if tapped is not None and tapped.state in ("stands", "figures missing"):
        return words.TAPPED_BEFORE
    return words.NOT_TAKEN


def watch_words(hand: AtHand) -> tuple[str, ...]:
    """After "it ran", until the fire watch is signed with both looks; () else."""
    ran, stopped = hand.standing.ran_at, last_stop(hand.build.start, hand.at)
    watch = hand.standing.of(facts_of(hand.checks).fire_watch)
    if ran is None or stopped is None or watch is None or watch.state == "stands":
        return ()
    if hand.at - stopped > WATCHED_WITHIN:
        return ()
    timings = hand.checks.timings
    first, second = (
        by_the_clock_of(stopped + dt.timedelta(minutes=minutes), hand.at)
        for minutes in (timings.fire_watch_minutes, timings.fire_second_look_minutes)
    )
    it_ran = words.it_ran(hand.checks.key)
    return (
        f"{it_ran}: {ran:%H:%M:%S}. Stay thirty minutes: until {first:%H:%M}.",
        f"Second look at {second:%H:%M}.",
    )


def road_words(hand: AtHand) -> str:
    """The sentence that stands from "it ran" until the papers are signed; "" else."""
    papers = hand.standing.of("papers")
    if hand.standing.ran_at is None or papers is None or papers.state == "stands":
        return ""
    return words.WATER if hand.checks.key == "boat" else words.ROAD


def _aside(views: CheckViews, hand: AtHand) -> tuple[str, ...]:
    return tuple(f"{one.check.text} {views.of(one).state}" for one in hand.standing.set_aside)

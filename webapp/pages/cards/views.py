"""What the printed job cards show: each task whole, its neighbours as sentences."""

from dataclasses import dataclass, replace

from webapp.build.build_input import Dependency, Task
from webapp.build.by_key import get_by_key
from webapp.build.verbs.work import needs_hands
from webapp.pages.bench.tonight import current_or_next_session, of_session
from webapp.pages.cards.sheets import (
    HEAD_MM,
    LINE_MM,
    MOST_SHEETS,
    SHEET_MM,
    on_sheets,
    text_mm,
)
from webapp.pages.frame.context import PageContext
from webapp.pages.tasks.step_lines import HandList, hand_list
from webapp.pages.tasks.views import WHY_FIRST, JobCard, job_card, part_state
from webapp.pages.words import amounts as words
from webapp.pages.words.names import named

NOTES_CHARACTERS = 600
WHY_CHARACTERS = 120
FACTS_LEFT_OUT = ("State", WHY_FIRST)
FIXED_MM = 62.0
"""Title, frame, gaps and the fields to write in."""
STEP_MM = 6.5
MEASURE_MM = 7.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCard:
    """One task on paper. `more_steps` says how many steps its page has besides."""

    card: JobCard
    hands: HandList
    more_steps: str
    sentences: tuple[str, ...]
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CardsView:
    """Tonight's cards, sheet by sheet; `left_out` names those that did not fit."""

    title: str
    sheets: tuple[tuple[SheetCard, ...], ...]
    left_out: str
    nothing: str


def cards_view(page: PageContext, passed: tuple[str, ...] = ()) -> CardsView:
    """The task on the bench, then what the job order puts into the coming session."""
    session = current_or_next_session(page.build, page.now)
    cards = [sheet_card(page, task) for task in _tasks(page, passed)]
    sheets = on_sheets([(card, card.height_mm) for card in cards])
    out = named(card.card.name for card in sheets.left_out)
    return CardsView(
        title=session.title(page.now) if session else "No session is planned",
        sheets=sheets.sheets if cards else (),
        left_out=f"Left out, for they do not fit on {MOST_SHEETS} sheets: {out}." if out else "",
        nothing=""
        if cards
        else "Nothing is on the bench, and nothing in the job order falls into the coming session.",
    )


def _tasks(page: PageContext, passed: tuple[str, ...]) -> list[Task]:
    """The tasks of the coming session that take hands, each once, the one on the bench first."""
    tasks = {task.key: task for task in page.build.tasks}
    keys = [page.clock.task] if page.clock else []
    session = current_or_next_session(page.build, page.now)
    if page.plan is not None and session is not None:
        keys += [one.key for one in of_session(page.plan, session, tasks, passed)]
    found = (tasks[key] for key in dict.fromkeys(keys) if key in tasks)
    return [task for task in found if needs_hands(task)]


def sheet_card(page: PageContext, task: Task) -> SheetCard:
    """One task as it is printed; what is too long for two sheets is counted, never a caution."""
    card = job_card(page, task)
    facts = tuple(fact for fact in card.facts if fact.word not in FACTS_LEFT_OUT)
    notes = card.notes
    if len(notes) > NOTES_CHARACTERS:
        notes = f"{words.one_line(notes, NOTES_CHARACTERS)} (the rest stands on its page)"
    card, sentences = replace(card, facts=facts, notes=notes), _sentences(page, task)
    hands = hand_list(task)
    height = FIXED_MM + MEASURE_MM * len(hands.measures)
    height += sum(text_mm(measure.name + measure.value) - LINE_MM for measure in hands.measures)
    said = "   ".join(f"{fact.word} {fact.text}" for fact in facts)
    height += sum(text_mm(text) for text in (card.name * 2, said, card.caution, notes, *sentences))
    shown, room = [], MOST_SHEETS * SHEET_MM - HEAD_MM - 2 * LINE_MM
    for step in hands.steps:
        taller = height + STEP_MM + text_mm(step.text) - LINE_MM
        if taller > room:
            break
        shown.append(step)
        height = taller
    more = len(hands.steps) - len(shown)
    return SheetCard(
        card=card,
        hands=replace(hands, steps=tuple(shown)),
        more_steps=f"{words.count(more, 'more step stands', 'more steps stand')} on its page."
        if more
        else "",
        sentences=sentences,
        height_mm=height + (LINE_MM if more else 0),
    )


def _sentences(page: PageContext, task: Task) -> tuple[str, ...]:
    """What must be here and done before it, and what waits for it."""
    build = page.build
    befores = [link for link in build.dependencies if link.after == task.key]
    afters = [link for link in build.dependencies if link.before == task.key]
    waited = [(link, get_by_key(build.tasks, link.before)) for link in befores]
    open_names = [_with_why(link, one) for link, one in waited if one.finished_on is None]
    done_names = [_with_why(link, one) for link, one in waited if one.finished_on is not None]
    after = [_with_why(link, get_by_key(build.tasks, link.after)) for link in afters]
    parts = [
        f"{part.name} ({part_state(part, page.today)})"
        for part in build.parts
        if task.key in part.serves
    ]
    told = []
    if open_names:
        told.append(f"Before it must be done: {named(open_names)}.")
    if done_names:
        told.append(f"Finished before it: {named(done_names)}.")
    if parts:
        told.append(f"Parts it needs: {named(parts)}.")
    if after:
        told.append(f"After it comes: {named(after)}.")
    return tuple(told)


def _with_why(link: Dependency, other: Task) -> str:
    """A task before or after, with the wait between and the reason in few words."""
    wait = f"wait {words.hours(link.wait_hours)}" if link.wait_hours else ""
    why = words.one_line(link.why, WHY_CHARACTERS)
    said = ", ".join(text for text in (wait, why) if text)
    return f"{other.name} ({said})" if said else other.name

"""The path as a list: a stretch of hands with its tasks inside, a wait a row."""

from dataclasses import dataclass

from webapp.build.build_input import Task
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.path_waits import shortened_words, wait_in_full, wait_why
from webapp.pages.words.reasons import ReasonWords
from webapp.planning.order.plan import PathStep, Plan, PlannedTask
from webapp.planning.order.stretches import PathWait, Stretch, path_pieces
from webapp.services.levers_found import Levers


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """One task or wait. `sign` is a wait's number in the picture, "" for a task."""

    sign: str
    day: str
    name: str
    address: str | None
    why: str
    length: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PathLine:
    """A row of the path: a stretch under its letter with what is inside, or a single wait."""

    letter: str
    day: str
    title: str
    inside: tuple[StepLine, ...]
    wait: StepLine | None


def path_list(page: PageContext, plan: Plan, levers: Levers | None) -> tuple[PathLine, ...]:
    """The same pieces as the picture has, in the same order, with the same letters.

    `levers` are what would win a week, None while they are worked out.
    """
    lines = _Lines(page, plan, levers)
    rows: list[PathLine] = []
    for piece in path_pieces(page.build, plan):
        if isinstance(piece, Stretch):
            rows.append(lines.stretch(piece))
            continue
        for wait in piece.waits:
            line = lines.wait(wait)
            rows.append(PathLine(letter="", day=line.day, title="", inside=(), wait=line))
    return tuple(rows)


class _Lines:
    """The lines of one path."""

    def __init__(self, page: PageContext, plan: Plan, levers: Levers | None) -> None:
        self.page = page
        self.reasons = ReasonWords(page.build, plan)
        self.place = {step: place for place, step in enumerate(plan.path)}
        self.levers = levers

    def stretch(self, piece: Stretch) -> PathLine:
        inside = [(self.place[step], self.task(step)) for step in piece.steps]
        inside += [(self.place[wait.step], self.wait(wait)) for wait in piece.waits]
        title = f"Your hands: {words.count(len(piece.steps), 'task')}"
        waits = words.count(len(piece.waits), "short wait")
        return PathLine(
            letter=piece.letter,
            day=words.short_day(piece.begins, today=self.page.today),
            title=f"{title}, {words.tenth_hours(piece.hours)}"
            + (f", {waits}" if piece.waits else ""),
            inside=tuple(line for _, line in sorted(inside, key=lambda one: one[0])),
            wait=None,
        )

    def task(self, step: PathStep) -> StepLine:
        reasons = self.reasons
        task, planned = reasons.tasks[step.what], reasons.planned[step.what]
        begun = task.begun_on is not None
        why = reasons.of(planned) or ("is begun" if begun else "nothing holds it")
        if planned.setup_hours > 0 and task.setup is not None:
            setup = reasons.setup_name(task.setup)
            why += f"; {setup} to get out, {words.planned_hours(planned.setup_hours)}"
        return StepLine(
            sign="",
            day=words.short_day(step.begins, today=self.page.today),
            name=task.name,
            address=addresses.task(self.page.slug, task.key),
            why=why,
            length=_work_words(task, planned),
        )

    def wait(self, wait: PathWait) -> StepLine:
        step = wait.step
        waited = (step.ends - step.begins).total_seconds() / 3600
        address = None
        if wait.kind in ("outside", "by_itself"):
            address = addresses.task(self.page.slug, step.what)
        return StepLine(
            sign=str(wait.number),
            day=words.short_day(step.begins, today=self.page.today),
            name=words.sentence(wait_in_full(self.reasons, wait)),
            address=address,
            why="; ".join(filter(None, (wait_why(self.reasons, wait), self._shortened(wait)))),
            length=words.days(waited / 24) if waited >= 36 else words.tenth_hours(waited),
        )

    def _shortened(self, wait: PathWait) -> str:
        """What would shorten it, as soon as that is worked out."""
        return shortened_words(wait, self.levers.levers) if self.levers is not None else ""


def _work_words(task: Task, planned: PlannedTask) -> str:
    if task.outside_days is not None:
        return words.days(task.outside_days)
    return words.planned_hours(
        planned.end_shop_hours - planned.begin_shop_hours - planned.setup_hours
    )

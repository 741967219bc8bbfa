"""Why a task begins when it does, in words."""

import datetime as dt

from webapp.build.build_input import BuildInput, Dependency
from webapp.build.due_days import due_of
from webapp.pages.words import amounts as words
from webapp.pages.words.parts import assumed
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.plan import PathStep, Plan, PlannedTask, Reason


class ReasonWords:
    """The reasons of one plan in words, with the names of the build."""

    def __init__(self, build: BuildInput, plan: Plan) -> None:
        self.build = build
        self.today = plan.now.date()
        self.tasks = {task.key: task for task in build.tasks}
        self.parts = {part.key: part for part in build.parts}
        self.setups = {setup.key: setup for setup in build.shop.setups}
        self.stations = {station.key: station for station in build.shop.stations}
        self.planned = {task.key: task for task in plan.tasks}
        self.links = {(link.before, link.after): link for link in build.dependencies}

    def task_name(self, key: str) -> str:
        task = self.tasks.get(key)
        return task.name if task else key

    def setup_name(self, key: str) -> str:
        """A setup's name as it stands in "X is out": without an "out" of its own."""
        setup = self.setups.get(key)
        return (setup.name if setup else key).removesuffix(" out")

    def of(self, task: PlannedTask) -> str:
        """All binding reasons of one start in one phrase, "" where nothing held it."""
        kinds = {reason.kind for reason in task.held_by}
        # the opening says nothing beside what cleared by then, nor the hands beside their own task
        before = {reason.what for reason in task.held_by if reason.kind in ("dependency", "wait")}
        told = [
            r
            for r in task.held_by
            if (r.kind != "session" or kinds == {"session"})
            and not (r.kind == "people" and r.what in before)
        ]
        return "; ".join(dict.fromkeys(self.one(reason, task.key) for reason in told))

    def one(self, reason: Reason, key: str) -> str:
        """One reason of the task with this key."""
        what = reason.what
        match reason.kind:
            case "dependency":
                return f"needs {self.task_name(what)}"
            case "wait":
                return self.wait(what, key)
            case "part":
                return self.part(what)
            case "people":
                return f"hands were on {self.task_name(what)}"
            case "station":
                station = self.stations.get(what)
                return f"{station.name if station else what} was taken"
            case "setup":
                return f"{self.setup_name(what)} was in use"
            case "helper":
                return f"helper comes {self._at(what)}"
            case "session":
                return f"shop opens {self._at(what)}"

    def part(self, key: str) -> str:
        """ "waits for part: Radiator, Thu 5 March"."""
        part = self.parts.get(key)
        if part is None:
            return f"waits for part: {key}"
        due = due_of(part, self.today)
        when = "no date" if due is None else self._due(due.said)
        if due is not None and due.assumed:
            when += f" ({assumed(part, due, self.today)})"
        return f"waits for part: {part.name}, {when}"

    def wait(self, before: str, after: str) -> str:
        """ "sealant cure on Sump until Sat 9:00"."""
        link = self.links.get((before, after))
        until = self.wait_ends(link) if link else None
        words_of_wait = (link.why if link else "") or "wait"
        end = f" until {words.planned_moment(until, today=self.today)}" if until else ""
        return f"{words_of_wait} on {self.task_name(before)}{end}"

    def wait_ends(self, link: Dependency) -> dt.datetime | None:
        """When the wait of a dependency is over; None while its task has no date."""
        planned, task = self.planned.get(link.before), self.tasks.get(link.before)
        if planned is not None:
            ended = planned.ends
        elif task is not None and task.finished_on is not None:
            ended = finished_at(self.build, task)
        else:
            return None
        return ended + dt.timedelta(hours=link.wait_hours)

    def wait_step(self, step: PathStep, after: str) -> str:
        """One stretch of the path that is no task, in words."""
        match step.kind:
            case "wait":
                return self.wait(step.what, after)
            case "part":
                return self.part(step.what)
            case "task":
                return self.task_name(step.what)
            case kind:
                return self.one(Reason(kind=kind, what=step.what), after)

    def _at(self, iso: str) -> str:
        try:
            return words.planned_moment(dt.datetime.fromisoformat(iso), today=self.today)
        except ValueError:
            return iso

    def _due(self, due: dt.date) -> str:
        if isinstance(due, dt.datetime):
            return words.planned_moment(due, today=self.today)
        return words.day(due, today=self.today)

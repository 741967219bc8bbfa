"""The scope ledger: the build against its baseline, and every change of its work in between."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.money import MoneyGrowth, money_growth
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How, scope_how
from webapp.pages.words.how_money import growth_how
from webapp.pages.words.money import cents
from webapp.pictures.ledger import LedgerPicture, LedgerPoint, ledger_picture
from webapp.storage.scope_history import ScopeChange
from webapp.storage.snapshots import SnapshotHeading


@dataclass(frozen=True, slots=True, kw_only=True)
class SumLine:
    """One line of the account: its words, how many tasks, their hours, and the money of it."""

    what: str
    tasks: str
    hours: str
    money: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One change of the work. `wish` is the idea it came from, "" where it came from none."""

    day: str
    task: str
    what: str
    hours: str
    wish: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedLine:
    name: str
    address: str
    hours: str
    wish: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerView:
    """`baseline` names the one that is measured against, "" where none is frozen yet."""

    baseline: str
    older: tuple[str, ...]
    growth: str
    how: How | None
    money_how: How | None
    account: tuple[SumLine, ...]
    pictures: tuple[LedgerPicture, ...]
    changes: tuple[ChangeLine, ...]
    added: tuple[AddedLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeAccount:
    """A build against its baseline, in tasks and their expected hours.

    Work that is set aside is not in the build. `re_estimated_hours` is how much more (or less)
    the tasks of the first plan that are still there are now expected to take.
    """

    baseline_hours: float
    baseline_tasks: int
    added: tuple[Task, ...]
    dropped: tuple[Task, ...]
    re_estimated: tuple[Task, ...]
    re_estimated_hours: float

    @property
    def added_hours(self) -> float:
        return _hours(self.added)

    @property
    def growth(self) -> float | None:
        """Added hours over baseline hours; None where the baseline has none."""
        return self.added_hours / self.baseline_hours if self.baseline_hours else None


def _hours(tasks: Sequence[Task]) -> float:
    return sum(task.hours.expected for task in tasks)


def scope_account(baseline: BuildInput, build: BuildInput) -> ScopeAccount:
    """What was added to, dropped from and estimated anew since the baseline."""
    then = {task.key: task for task in baseline.tasks if task.set_aside_on is None}
    now = {task.key: task for task in build.tasks if task.set_aside_on is None}
    anew = [now[k] for k in then if k in now and now[k].hours != then[k].hours]
    return ScopeAccount(
        baseline_hours=_hours(tuple(then.values())),
        baseline_tasks=len(then),
        added=tuple(task for key, task in now.items() if key not in then),
        dropped=tuple(task for key, task in then.items() if key not in now),
        re_estimated=tuple(anew),
        re_estimated_hours=sum(t.hours.expected - then[t.key].hours.expected for t in anew),
    )


def scope_view(
    page: PageContext,
    baselines: tuple[SnapshotHeading, ...],
    baseline: BuildInput | None,
    history: tuple[ScopeChange, ...],
) -> LedgerView:
    """The ledger against the last of the baselines, whose build is `baseline`."""
    latest = baselines[-1] if baselines else None
    if latest is None or baseline is None:
        return LedgerView(
            baseline="",
            older=(),
            growth="",
            how=None,
            money_how=None,
            account=(),
            pictures=(),
            changes=_change_lines(page, history),
            added=(),
        )
    account = scope_account(baseline, page.build)
    money = money_growth(baseline, page.build)
    since = tuple(change for change in history if change.at >= latest.taken_at)
    growth = account.growth
    return LedgerView(
        baseline=_baseline_words(page, latest),
        older=tuple(_baseline_words(page, one) for one in reversed(baselines[:-1])),
        how=None
        if growth is None
        else scope_how(added=account.added_hours, baseline=account.baseline_hours, growth=growth),
        growth=f"{words.number(growth * 100, 1)} %" if growth is not None else "",
        money_how=growth_how(money),
        account=_account_lines(account, money),
        pictures=tuple(
            ledger_picture(
                ledger_points(baseline, latest.taken_at, since),
                baseline_hours=account.baseline_hours,
                now=page.now,
                upright=upright,
            )
            for upright in (False, True)
        ),
        changes=_change_lines(page, since),
        added=tuple(_added_line(page, task) for task in account.added),
    )


def _added_line(page: PageContext, task: Task) -> AddedLine:
    return AddedLine(
        name=task.name,
        address=addresses.task(page.slug, task.key),
        hours=words.tenth_hours(task.hours.expected),
        wish=_wish_text(page.build, task.wish),
    )


def _baseline_words(page: PageContext, one: SnapshotHeading) -> str:
    return f"baseline {one.label}, frozen {words.day(one.taken_at, today=page.today)}"


def _account_lines(account: ScopeAccount, money: MoneyGrowth) -> tuple[SumLine, ...]:
    from_wishes = [task for task in account.added if task.wish is not None]
    kept = account.baseline_tasks - len(account.dropped)
    total = (
        account.baseline_hours
        - _hours(account.dropped)
        + account.re_estimated_hours
        + account.added_hours
    )

    def line(what: str, tasks: int, hours: float, sum_of: int) -> SumLine:
        return SumLine(
            what=what,
            tasks=words.number(tasks),
            hours=words.tenth_hours(hours),
            money=cents(sum_of),
        )

    return (
        line("First plan, as frozen", account.baseline_tasks, account.baseline_hours, money.first),
        line("Dropped from it", len(account.dropped), -_hours(account.dropped), money.dropped),
        line(
            "Estimated anew in it",
            len(account.re_estimated),
            account.re_estimated_hours,
            money.anew,
        ),
        line("Added from wishes", len(from_wishes), _hours(from_wishes), money.from_wishes),
        line(
            "Added otherwise",
            len(account.added) - len(from_wishes),
            account.added_hours - _hours(from_wishes),
            money.otherwise,
        ),
        line("The build now", kept + len(account.added), total, money.now),
    )


def ledger_points(
    baseline: BuildInput, taken_at: dt.datetime, changes: tuple[ScopeChange, ...]
) -> tuple[LedgerPoint, ...]:
    """Hours of the first plan and of what was added, from the baseline on, change by change."""
    first_plan = {task.key for task in baseline.tasks if task.set_aside_on is None}
    plan = sum(t.hours.expected for t in baseline.tasks if t.key in first_plan)
    added = 0.0
    points = [LedgerPoint(at=taken_at, plan_hours=plan, added_hours=0.0)]
    for change in changes:
        move = change.hours_after - change.hours_before
        if change.task in first_plan:
            plan = max(0.0, plan + move)
        else:
            added = max(0.0, added + move)
        points.append(LedgerPoint(at=change.at, plan_hours=plan, added_hours=added))
    return tuple(points)


def _change_lines(page: PageContext, changes: tuple[ScopeChange, ...]) -> tuple[ChangeLine, ...]:
    """Every change, the last first."""
    return tuple(
        ChangeLine(
            day=words.short_day(change.at, today=page.today),
            task=change.name,
            what=change.kind,
            hours=_hours_words(change),
            wish=_wish_text(page.build, change.wish),
        )
        for change in reversed(changes)
    )


def _hours_words(change: ScopeChange) -> str:
    move = change.hours_after - change.hours_before
    sign = "+" if move > 0 else ""
    return f"{sign}{words.tenth_hours(move)}"


def _wish_text(build: BuildInput, key: str | None) -> str:
    if key is None:
        return ""
    return next((wish.text for wish in build.wishes if wish.key == key), key)

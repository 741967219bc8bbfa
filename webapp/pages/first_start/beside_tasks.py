"""What First start says on other pages: checks beside the task they hang on, the watch on Bench."""

from dataclasses import dataclass

from webapp.build.by_key import find_by_key
from webapp.build.moments import by_the_end_of_minute
from webapp.first_start.evaluation import start_standing
from webapp.first_start.list_facts import facts_of
from webapp.first_start.own_list import list_of_build
from webapp.pages import addresses
from webapp.pages.first_start.at_hand import AtHand
from webapp.pages.first_start.check_view import CheckView, CheckViews
from webapp.pages.first_start.day_view import road_words, watch_words
from webapp.pages.frame.context import PageContext
from webapp.services.seed_builds import check_list_of


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchWatch:
    """What stands first on Bench once it ran: the second look, work after it, the road."""

    watch: tuple[str, ...]
    work: tuple[tuple[str, str], ...]
    road: str


def _hand(page: PageContext) -> AtHand:
    """What stands by the end of this minute: what was signed in it is seen."""
    at = by_the_end_of_minute(page.now)
    checks = check_list_of(page.build)
    standing = start_standing(page.build, checks, at=at, plumbed=page.planned.plumbed)
    return AtHand(slug=page.slug, build=page.build, checks=checks, standing=standing, page=page)


def checks_of_task(page: PageContext, key: str) -> tuple[CheckView, ...]:
    """The kept checks that hang on a task, to be looked at where its work ends."""
    named = {
        check.key
        for check in list_of_build(page.build, check_list_of(page.build)).checks
        if any(need.kind == "task" and need.key == key for need in check.needs)
    }
    if not named:
        return ()
    hand = _hand(page)
    views = CheckViews(hand)
    kept = (one for one in hand.standing.all if one.is_kept and one.check.key in named)
    return tuple(map(views.of, kept))


def bench_watch(page: PageContext) -> BenchWatch | None:
    """None until it ran, and once nothing of it is left to say."""
    if all(run.ran_at is None for run in page.build.start.runs):
        return None
    hand = _hand(page)
    tasks = [find_by_key(page.build.tasks, key) for key in facts_of(hand.checks).after_work]
    found = BenchWatch(
        watch=watch_words(hand),
        work=tuple(
            (task.name, addresses.task(page.slug, task.key))
            for task in tasks
            if task is not None and task.is_open
        ),
        road=road_words(hand),
    )
    return found if found.watch or found.work or found.road else None

"""What of the list of first start holds it, beside what circuits hold."""

from webapp.build.by_key import find_by_key
from webapp.build.first_start import NOTHING_SIGNED
from webapp.build.moments import by_the_end_of_minute
from webapp.first_start.evaluation import start_standing
from webapp.pages.frame.context import PageContext
from webapp.pages.words.first_start import held_by_checks
from webapp.services.seed_builds import check_list_of

TOLD = 2
"""So many stages are told."""


def held_by_the_list(page: PageContext, key: str) -> tuple[str, ...]:
    """Why the list holds the task that is first start, once somebody began with the list.

    A phrase a stage; () for every other task.
    """
    build = page.build
    if key != build.first_start or build.start == NOTHING_SIGNED:
        return ()
    task = find_by_key(build.tasks, key)
    if task is None or not task.is_open or page.planned.plumbed is None:
        return ()
    at = by_the_end_of_minute(build.now)
    standing = start_standing(build, check_list_of(build), at=at, plumbed=page.planned.plumbed)
    return held_by_checks(standing)[:TOLD]

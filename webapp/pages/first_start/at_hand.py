"""What every page of First start has at hand: the build, its list, and what stands of it now."""

import datetime as dt
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.first_start.check_list import CheckList
from webapp.first_start.evaluation import start_standing
from webapp.first_start.standing import StartStanding
from webapp.pages.frame.context import PageContext, page_of
from webapp.pages.frame.errors import missing_build
from webapp.pages.words.the_end import call_the_end
from webapp.services.program import Services
from webapp.services.seed_builds import check_list_of
from webapp.storage.build_loader import load_build
from webapp.storage.builds import revision_of

PAGE = "First start"


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """A build at one moment; `standing` is worked out anew for each request, never stored.

    `page` is the frame around it; None on the day, which has none and waits for no plan.
    """

    slug: str
    build: BuildInput
    checks: CheckList
    standing: StartStanding
    page: PageContext | None = None

    @property
    def at(self) -> dt.datetime:
        """The moment, to the fraction of a second."""
        return self.standing.at

    @property
    def today(self) -> dt.date:
        return self.at.date()

    @property
    def volts(self) -> str | None:
        """The answer that doubles voltages."""
        return self.standing.answers.get("volts")


def framed(services: Services, slug: str) -> tuple[PageContext, AtHand]:
    """The page in its frame, and what stands; Missing where there is no such build."""
    page = page_of(services, slug, PAGE)
    return page, started(services, page)


def started(services: Services, page: PageContext) -> AtHand:
    """What stands of the build that a page shows."""
    checks, at = check_list_of(page.build), services.settings.moment()
    plumbed = page.planned.plumbed
    standing = start_standing(page.build, checks, at=at, plumbed=plumbed)
    return AtHand(slug=page.slug, build=page.build, checks=checks, standing=standing, page=page)


def on_the_day(services: Services, slug: str) -> AtHand:
    """The same without a frame and without a plan: a screen of the day answers at once."""
    now, plumbed = services.settings.now(), None
    with services.database.reading() as session:
        revision = revision_of(session, slug)
        planned = None if revision is None else services.plans.at_hand(slug, revision)
        if planned is None:
            build = load_build(session, slug, now=now)
        else:
            build, plumbed = replace(planned.build, now=now), planned.plumbed
    if build is None:
        raise missing_build(slug)
    call_the_end(build)
    checks = check_list_of(build)
    standing = start_standing(build, checks, at=services.settings.moment(), plumbed=plumbed)
    return AtHand(slug=slug, build=build, checks=checks, standing=standing)

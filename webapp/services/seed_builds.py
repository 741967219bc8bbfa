"""What comes with the program: the demo build with its story, and the starter lists."""

import datetime as dt
import json
from dataclasses import replace
from functools import cache

from sqlmodel import Session

from webapp.build.build_input import BuildInput, Photograph
from webapp.build.by_key import get_by_key
from webapp.build.start_answers import check_list_key
from webapp.build.starter.starter_list import StarterList
from webapp.build.usual_components import UsualComponent
from webapp.exchange.start_lists import read_check_lists
from webapp.exchange.starter_document import read_starter
from webapp.exchange.usual_components import read_usual_components
from webapp.exchange.week_shift import shift_weeks, weeks_to_present
from webapp.first_start.check_list import CheckList
from webapp.services.baseline import freeze_baseline, freeze_week
from webapp.services.demo_story import LivedStory, lived
from webapp.settings import resource_root
from webapp.storage.builds import create_build
from webapp.storage.changes import store_changes
from webapp.storage.journal import TOLD_AT
from webapp.storage.photograph_files import SMALL, WHOLE, PhotographFiles, digest_of

SEED_DATA = resource_root() / "seed_data"


def store_demo(session: Session, now: dt.datetime, files: PhotographFiles) -> str:
    """Write the demo build with its baseline, week by week as it was lived; returns its slug.

    So the journal has what happened, each week's changes at its close.
    """
    for name in _photographs():
        files.keep(_picture(f"{name}{WHOLE}"), _picture(f"{name}{SMALL}"))
    story = shipped_story()
    weeks = weeks_to_present(story.present.now, now)
    last = shift_weeks(story.baseline, weeks)
    session.info[TOLD_AT] = last.now.astimezone(dt.UTC)
    slug = create_build(session, last)
    freeze_baseline(session, slug, last)
    present = shipped_demo()
    for state in (*story.weeks, present):
        build = shift_weeks(state, weeks)
        session.info[TOLD_AT] = build.now.astimezone(dt.UTC)
        store_changes(session, slug, last, build)
        if state is not present:
            freeze_week(session, slug, build, f"{build.now:%G-W%V}")
        last = build
    del session.info[TOLD_AT]
    return slug


def demo_build(now: dt.datetime) -> BuildInput:
    """The demo build, moved by whole weeks so that its story reaches the present week."""
    build = shipped_demo()
    return shift_weeks(build, weeks_to_present(build.now, now))


def shipped_demo() -> BuildInput:
    """The demo build in the weeks it was written for."""
    return replace(shipped_story().present, photographs=tuple(_photographs().values()))


def shipped_story() -> LivedStory:
    """All moments of the demo build that are kept, in the weeks they were written for."""
    folder = SEED_DATA / "heron"
    baseline, story, plumbing = (
        (folder / f"{name}.json").read_bytes() for name in ("baseline", "story", "plumbing")
    )
    return lived(baseline, story, plumbing)


@cache
def _photographs() -> dict[str, Photograph]:
    """The photographs of the demo by the name of their file; their files are shipped as kept."""
    found = {}
    for said in json.loads((SEED_DATA / "heron" / "photographs.json").read_text(encoding="utf-8")):
        name, on = said.pop("file"), dt.date.fromisoformat(said.pop("added_on"))
        jpeg = _picture(f"{name}{WHOLE}")
        found[name] = Photograph(**said, added_on=on, digest=digest_of(jpeg), size_bytes=len(jpeg))
    return found


def _picture(name: str) -> bytes:
    return (SEED_DATA / "heron" / "photographs" / name).read_bytes()


STARTER_LISTS = ("swap", "electric", "boat")
"""The keys of the starter lists, in the order in which they are offered."""


@cache
def starter_list(key: str) -> StarterList | None:
    """The starter list of that key, frozen; None where the program has none."""
    if key not in STARTER_LISTS:
        return None
    return read_starter((SEED_DATA / "starter" / f"{key}.json").read_bytes())


def starter_lists() -> tuple[StarterList, ...]:
    """All starter lists, in the order in which they are offered."""
    return tuple(each for key in STARTER_LISTS if (each := starter_list(key)) is not None)


@cache
def check_lists() -> tuple[CheckList, ...]:
    """The lists of checks of first start that come with the program."""
    return read_check_lists((SEED_DATA / "first_start" / "checks.json").read_bytes())


def check_list_of(build: BuildInput) -> CheckList:
    """The list of checks of a build, by its kind."""
    return get_by_key(check_lists(), check_list_key(build))


@cache
def usual_components() -> tuple[UsualComponent, ...]:
    """The components as they are usually met, in the order in which they are offered."""
    path = SEED_DATA / "plumbing" / "usual_components.json"
    return read_usual_components(path.read_bytes())

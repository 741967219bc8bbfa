"""Freezing: what is kept holds every acknowledged change, and no computation holds writers up."""

import datetime as dt
import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.pages.form_build import NOW, small_build
from tests.stored_files import opened_new
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.build.edited import Edited
from webapp.build.verbs.work import begun_build
from webapp.exchange.build_document import read_document
from webapp.planning.order.kept_order import plan_that_holds
from webapp.services import baseline
from webapp.services.baseline import MOST_TRIES, freeze
from webapp.services.changes import Refused, Stored, change
from webapp.services.plan_cache import PlanCache
from webapp.services.program import Services
from webapp.settings import Settings
from webapp.storage.builds import create_build
from webapp.storage.snapshots import SnapshotKind, snapshots_of

SLUG = "the-heron"


@pytest.fixture
def services(tmp_path: Path) -> Iterator[Services]:
    """The Heron of the forms, nothing of it begun."""
    settings = Settings(data_file=tmp_path / "heron.sqlite3", frozen_now=NOW)
    made = Services(settings=settings, database=opened_new(settings.data_file), plans=PlanCache())
    build = small_build()
    tasks = tuple(replace(task, begun_on=None) for task in build.tasks)
    with made.database.writing() as session:
        create_build(session, replace(build, tasks=tasks, log=()))
    yield made
    made.plans.background.close()
    made.database.close()


def noted(text: str) -> Callable[[BuildInput], Edited[None]]:
    """The edit that notes something on the task to be welded."""

    def edit(build: BuildInput) -> Edited[None]:
        tasks = tuple(
            replace(task, notes=text) if task.key == "weld" else task for task in build.tasks
        )
        return Edited(build=replace(build, tasks=tasks), made=None)

    return edit


def begin(build: BuildInput) -> Edited[None]:
    return Edited(build=begun_build(build, "bracket", now=NOW), made=None)


def meanwhile(monkeypatch: pytest.MonkeyPatch, services: Services, *, times: int) -> list[str]:
    """Have somebody change the build while its plan is laid out for keeps; what they note."""
    noted_so_far: list[str] = []
    laid_out = plan_that_holds

    def changed(build: BuildInput) -> object:
        if len(noted_so_far) < times:
            noted_so_far.append(f"note {len(noted_so_far)}")
            # On this very thread: with the turn of the writers held it would write into the
            # transaction that is open, and SQLite would have it wait for itself.
            done = change(services, SLUG, noted(noted_so_far[-1]))
            assert isinstance(done, Stored)
        return laid_out(build)

    monkeypatch.setattr(baseline, "plan_that_holds", changed)
    return noted_so_far


def kept(services: Services, kind: SnapshotKind) -> list[tuple[BuildInput, dict[str, str]]]:
    """What is kept of one kind: the build, and the forecast."""
    with services.database.reading() as session:
        found = snapshots_of(session, SLUG, kind)
    read = [read_document(one.document, now=NOW) for one in found]
    return [
        (build, json.loads(one.forecast))
        for (build, _), one in zip(read, found, strict=True)
        if build is not None
    ]


@pytest.mark.parametrize(("kind", "label"), [("week", "2026-W07"), ("baseline", "")])
def test_a_change_that_was_stored_meanwhile_is_in_what_is_kept(
    services: Services, monkeypatch: pytest.MonkeyPatch, kind: SnapshotKind, label: str
) -> None:
    meanwhile(monkeypatch, services, times=2)
    assert freeze(services, SLUG, kind, label) == "frozen"
    ((build, forecast),) = kept(services, kind)
    assert get_by_key(build.tasks, "weld").notes == "note 1"
    assert sorted(forecast) == ["p10", "p50", "p80", "p90"]


def test_freezing_gives_up_where_the_build_never_stands_still(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    notes = meanwhile(monkeypatch, services, times=100)
    assert freeze(services, SLUG, "baseline") == "changed again and again"
    assert len(notes) == MOST_TRIES
    assert kept(services, "baseline") == []


def test_a_week_is_closed_once(services: Services) -> None:
    assert freeze(services, SLUG, "week", "2026-W07") == "frozen"
    assert freeze(services, SLUG, "week", "2026-W07") == "closed already"
    assert freeze(services, SLUG, "week", "2026-W08") == "frozen"
    assert freeze(services, "none", "week", "2026-W07") == "no build"


def test_a_week_that_is_closed_while_its_figures_are_read_is_closed_once(
    monkeypatch: pytest.MonkeyPatch, services: Services
) -> None:
    worked_out = baseline.worked_out
    others = [lambda: freeze(services, SLUG, "week", "2026-W32")]

    def closed_meanwhile(services: Services, slug: str) -> object:
        while others:
            assert others.pop()() == "frozen"
        return worked_out(services, slug)

    monkeypatch.setattr(baseline, "worked_out", closed_meanwhile)
    assert freeze(services, SLUG, "week", "2026-W32") == "closed already"
    with services.database.reading() as session:
        assert len(snapshots_of(session, SLUG, "week")) == 1


def test_the_first_baseline_has_what_was_stored_meanwhile_and_not_the_begin(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    meanwhile(monkeypatch, services, times=1)
    done = change(services, SLUG, begin)
    assert isinstance(done, Stored)
    assert get_by_key(done.build.tasks, "bracket").begun_on == NOW
    assert get_by_key(done.build.tasks, "weld").notes == "note 0"
    ((build, forecast),) = kept(services, "baseline")
    assert get_by_key(build.tasks, "bracket").begun_on is None
    assert get_by_key(build.tasks, "weld").notes == "note 0"
    assert dt.datetime.fromisoformat(forecast["p50"]) > NOW


def test_a_begin_is_refused_where_the_build_never_stands_still(
    services: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    meanwhile(monkeypatch, services, times=100)
    done = change(services, SLUG, begin)
    assert isinstance(done, Refused)
    assert "Press once more" in done.new_faults[0].text
    assert kept(services, "baseline") == []

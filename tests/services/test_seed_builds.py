"""The demo is stored as it was lived, so that its journal tells what happened."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

from tests.photographs import opened
from tests.stored_files import opened_new
from webapp.services.seed_builds import demo_build, store_demo
from webapp.storage.build_loader import load_build
from webapp.storage.scope_history import scope_history

NOW = dt.datetime(2026, 11, 27, 8)


def test_the_demo_is_the_build_of_its_story_and_its_ledger_tells_the_changes(
    tmp_path: Path,
) -> None:
    database = opened_new(tmp_path / "demo.sqlite3")
    with database.writing() as session:
        slug = store_demo(session, NOW, database.photographs)
    with database.reading() as session:
        build = load_build(session, slug, now=NOW)
        changes = scope_history(session, slug)
    database.close()
    assert build == replace(demo_build(NOW), now=NOW)
    # The two photographs of the story's last day, its files beside the database.
    assert [(each.task, each.added_on) for each in build.photographs] == [
        ("rad_bracket", dt.date(2026, 11, 23)),
        ("hoses_cut", dt.date(2026, 11, 23)),
    ]
    assert database.photographs.lost(build.photographs) == 0
    for each in build.photographs:
        small, whole = (database.photographs.read(each.digest, small=s) for s in (True, False))
        assert small is not None
        assert whole is not None
        assert opened(whole).size == (each.width_px, each.height_px)
        assert len(whole) + len(small) < 25_000
    # seed_data/heron/story.json: two wishes accepted, one task set aside; the story's last Monday
    # falls on 23 November, each change stands at the close of its week.
    assert [(change.at.date(), change.kind, change.wish is not None) for change in changes] == [
        (dt.date(2026, 10, 18), "added", True),
        (dt.date(2026, 11, 1), "added", True),
        (dt.date(2026, 11, 8), "dropped", False),
    ]

"""What is plumbed goes through the data file to the byte, whatever was done to it."""

from random import Random

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.build.verbs.random_plumbing import RANDOM_PLUMBING
from tests.plumbing.heron import heron
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import read_document, write_document
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database

SEEDS = st.lists(st.integers(0, 2**32), min_size=12, max_size=12)


def changed(build: BuildInput, seed: int) -> BuildInput:
    chance = Random(seed)
    return chance.choice(RANDOM_PLUMBING)(build, chance)


@settings(
    max_examples=10,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(begin=st.sampled_from((RICH_BUILD, heron())), seeds=SEEDS)
def test_any_plumbing_comes_back_to_the_byte(
    database: Database, begin: BuildInput, seeds: list[int]
) -> None:
    """Entered whole half way, then change by change: the document is that of the build."""
    build = begin
    for seed in seeds[:6]:
        build = changed(build, seed)
    with database.writing() as session:
        slug = create_build(session, build)
    for seed in seeds[6:]:
        after = changed(build, seed)
        with database.writing() as session:
            before = load_build(session, slug, now=build.now)
            assert before is not None
            store_changes(session, slug, before, after)
        build = after
    with database.reading() as session:
        found = load_build(session, slug, now=build.now)
    assert found is not None
    assert found.plumbing == build.plumbing
    assert write_document(found) == write_document(build)
    again, _ = read_document(write_document(found), now=build.now)
    assert again is not None
    assert again.plumbing == build.plumbing

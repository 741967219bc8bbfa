"""The builds that a connection read last, at hand for as long as the file is as it was then."""

from sqlalchemy import Connection

from webapp.build.build_input import BuildInput

MOST_BUILDS = 2
"""So many a connection keeps: the one that is on the screen, and another."""
_WHERE = "builds read last"


def read_last(connection: Connection) -> dict[str, BuildInput]:
    """What this connection read last, by slug; nothing where anything was written since.

    SQLite itself tells: of what others committed, another program too, by `data_version`
    (<https://sqlite.org/pragma.html#pragma_data_version>), of what this connection wrote, whether
    it was committed or taken back, by the number of rows it wrote.
    """
    driver = connection.connection.driver_connection
    assert driver is not None
    state = driver.execute("PRAGMA data_version").fetchone()[0], driver.total_changes
    kept: tuple[tuple[int, int], dict[str, BuildInput]] | None = connection.info.get(_WHERE)
    if kept is None or kept[0] != state:
        kept = connection.info[_WHERE] = state, {}
    return kept[1]


def keep_read(connection: Connection, slug: str, build: BuildInput) -> None:
    """Keep what was read while nothing was written; a transaction that writes may be taken back."""
    if not connection.get_execution_options().get("only_reading", False):
        return
    last = read_last(connection)
    if len(last) >= MOST_BUILDS:
        last.clear()
    last[slug] = build

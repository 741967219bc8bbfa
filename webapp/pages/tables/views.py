"""The tables that can be taken out, in strings."""

from dataclasses import dataclass

from webapp.exchange.tables_out import TABLES_OUT
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.lists.forms import KINDS
from webapp.pages.words import tables as words


@dataclass(frozen=True, slots=True, kw_only=True)
class TableLine:
    """One table: `takes_in` is where such a list is pasted, "" where none can be."""

    title: str
    note: str
    address: str
    takes_in: str


def table_lines(page: PageContext) -> tuple[TableLine, ...]:
    """Each table with how much is in it."""
    kinds = {kind.name for kind in KINDS}
    build = page.build
    counts = {
        "tasks": len(build.tasks),
        "parts": len(build.parts),
        "log": len(build.log),
        "wishes": len(build.wishes),
    }
    return tuple(
        TableLine(
            title=words.TITLES[table.name],
            note=words.note(table.name, counts.get(table.name)),
            address=addresses.table(page.slug, table.name),
            takes_in=addresses.new_list(page.slug, table.name) if table.name in kinds else "",
        )
        for table in TABLES_OUT
    )

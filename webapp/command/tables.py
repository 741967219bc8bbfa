"""The command that prints a table of a document: keyturn table."""

import json

from webapp.command.documents import read_build
from webapp.command.files import write_out
from webapp.command.settings import settings_of
from webapp.exchange.tables_out import TABLES_OUT


def print_table(file: str, name: str, *, as_json: bool) -> None:
    """Print a table of a document as CSV (RFC 4180), or as a list of rows by their heads.

    Raises RefusedError.
    """
    build, _ = read_build(file, settings_of())
    table = next(one for one in TABLES_OUT if one.name == name)
    if not as_json:
        write_out(table.csv(build))
        return
    rows = [dict(zip(table.head, row, strict=True)) for row in table.rows(build)]
    write_out(json.dumps(rows, ensure_ascii=False, allow_nan=False, indent=1) + "\n")

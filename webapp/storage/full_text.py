"""Full text over what is at hand: SQLite's index, made for one question and let go again.

The texts of a build of 2,000 tasks are in the index within some ten milliseconds, so none is kept
that could fall behind the build.
"""

import sqlite3
import unicodedata
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass

LEAST_INDEXED = 3
"""The index holds runs of three letters; for shorter words the texts are read."""
TITLE_WEIGHT, TEXT_WEIGHT = 6.0, 1.0
"""A word in a title counts so many times one in the text (SQLite FTS5, function bm25)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """A text with its title, and whatever it is found for."""

    title: str
    text: str = ""


def words_of(typed: str) -> tuple[str, ...]:
    """The words that are looked for: folded, each once, in the order they were typed."""
    return tuple(dict.fromkeys(folded(typed).split()))


def folded(text: str) -> str:
    """The text without case and accents, and with blanks for what is no letter, number or sign."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    kept = (c for c in plain if not unicodedata.combining(c))
    return "".join(c if unicodedata.category(c)[0] in "LNPS" else " " for c in kept)


def found_in(passages: Sequence[Passage], words: Sequence[str]) -> tuple[int, ...]:
    """The places of the passages that hold every word, as a part of one; the best first.

    `words` are those of `words_of`; nothing is found for none.
    """
    if not words:
        return ()
    indexed = " AND ".join(_quoted(word) for word in words if len(word) >= LEAST_INDEXED)
    read = [word for word in words if len(word) < LEAST_INDEXED]
    wanted = ["found MATCH ?"] if indexed else []
    wanted += ["instr(title || ' ' || text, ?)"] * len(read)
    order = f"bm25(found, {TITLE_WEIGHT}, {TEXT_WEIGHT}), rowid" if indexed else "rowid"
    question = f"SELECT rowid FROM found WHERE {' AND '.join(wanted)} ORDER BY {order}"
    with closing(sqlite3.connect(":memory:")) as memory:
        memory.execute("CREATE VIRTUAL TABLE found USING fts5(title, text, tokenize='trigram')")
        memory.executemany(
            "INSERT INTO found(rowid, title, text) VALUES (?, ?, ?)",
            ((i, folded(one.title), folded(one.text)) for i, one in enumerate(passages)),
        )
        rows = memory.execute(question, [indexed] * bool(indexed) + read).fetchall()
    return tuple(place for (place,) in rows)


def _quoted(word: str) -> str:
    return '"' + word.replace('"', '""') + '"'

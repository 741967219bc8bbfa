"""Databases of one process that share what SQLAlchemy makes of a statement."""

from collections.abc import Callable
from typing import Any

from sqlalchemy import Engine, create_engine
from sqlalchemy.util import LRUCache


def sharing_engines() -> Callable[..., Engine]:
    """What makes engines in place of `create_engine`, all with the same statements compiled.

    To compile the sixty statements that read a build takes longer than most tests with it.
    """
    compiled: LRUCache[Any, Any] = LRUCache(2_000)
    first = create_engine("sqlite://")
    first.connect().close()  # the dialect learns of its database with the first connection

    def engine(*given: Any, **named: Any) -> Engine:
        made = create_engine(*given, **named, execution_options={"compiled_cache": compiled})
        made.dialect = first.dialect  # what is compiled is kept by it
        return made

    return engine

"""Tasks that stand close together on a pipe, joined to one block."""

import datetime as dt
from collections.abc import Iterable

from webapp.pictures.pipe_run_model import Block

APART = dt.timedelta(days=3)


def joined(blocks: Iterable[Block]) -> tuple[Block, ...]:
    """The same in order, those less than three days apart as one; done and to come stay two."""
    found: list[Block] = []
    for done in (True, False):
        own: list[Block] = []
        ordered = sorted(
            (block for block in blocks if block.done == done), key=lambda one: one.begins
        )
        for block in ordered:
            if own and block.begins - own[-1].ends < APART:
                last = own.pop()
                block = Block(begins=last.begins, ends=max(last.ends, block.ends), done=done)
            own.append(block)
        found += own
    return tuple(found)

"""Photographs taken in: made anew, put on disk, and only then named by a build.

All of it happens beside any transaction: a picture of fifty megapixels takes seconds.
"""

import datetime as dt
import threading
from collections.abc import Iterable
from dataclasses import replace

from webapp.build.build_input import BuildInput, Photograph
from webapp.exchange.photographs import NoPhotograph, made_anew, size_of
from webapp.storage.photograph_files import PhotographFiles, digest_of

_ONE_AT_A_TIME = threading.Lock()
"""One picture takes up to 0.8 GB while it is made anew; two at once might not fit."""


def taken_in(
    files: PhotographFiles, data: bytes, *, task: str, on: dt.date, caption: str = ""
) -> Photograph | NoPhotograph:
    """The photograph of a file, on disk already; or why it is none.

    A file that this very program made, and still has, is what it is and is not made anew: so a
    build that is exported and imported where it was has the same photographs to the byte.

    Raises `UnusableDatabaseError` where the disk does not take it.
    """
    with _ONE_AT_A_TIME:
        digest = digest_of(data)
        small = files.read(digest, small=True)
        size = size_of(data) if small is not None and files.read(digest) == data else None
        if size is not None and small is not None:
            files.keep(data, small)
        else:
            made = made_anew(data)
            if isinstance(made, NoPhotograph):
                return made
            data, size = made.jpeg, (made.width_px, made.height_px)
            digest = files.keep(data, made.small_jpeg)
    return Photograph(
        task=task,
        digest=digest,
        width_px=size[0],
        height_px=size[1],
        size_bytes=len(data),
        added_on=on,
        caption=caption,
    )


def with_photographs(build: BuildInput, new: Iterable[Photograph]) -> BuildInput:
    """The build with photographs added; one that its task has already is there once."""
    there = {(each.task, each.digest): each for each in build.photographs}
    for each in new:
        there.setdefault((each.task, each.digest), each)
    if len(there) == len(build.photographs):
        return build
    return replace(build, photographs=tuple(there.values()))

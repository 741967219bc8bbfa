"""What is said of the copies of the data file."""

import datetime as dt
from collections.abc import Sequence

from webapp.pages.words import amounts

MADE = "A copy was made and looked over: it opens, and a plan comes of each of its builds."
NOT_THERE = "There is no such copy any more. These are the copies that are there."
OWN_FOLDER = (
    "The copies lie in that folder already: a disk that breaks would take both along. Name one "
    "on another disk."
)
NO_FOLDER = "Give the whole path of a folder that is there, or leave the field empty for none."


def moment(stamp: dt.datetime, *, today: dt.date) -> str:
    """When a copy was made, in the machine's own time: "today 18:30", "Sat 14 Feb 9:00"."""
    return amounts.moment(stamp.astimezone().replace(tzinfo=None), today=today)


def moments(stamps: Sequence[dt.datetime], *, today: dt.date) -> tuple[str, ...]:
    """When each of some copies was made; with its seconds, or less, where two read the same."""
    said = [moment(stamp, today=today) for stamp in stamps]
    for finer in ("%S", "%f"):
        said = [
            f"{text}:{stamp.astimezone():{finer}}" if said.count(text) > 1 else text
            for text, stamp in zip(said, stamps, strict=True)
        ]
    return tuple(said)


def size(count_bytes: int) -> str:
    """How large a file is: "0.6 MB"."""
    return f"{amounts.number(max(count_bytes / 1e6, 0.1), 1)} MB"


def put_back(made: str, kept: str) -> str:
    """What the notice says once a copy was put back; both as moments."""
    return (
        f"The copy of {made} was put back. What was there before is kept as the copy of {kept}: "
        "put that one back to take this back."
    )


def carried(folder: str) -> str:
    """What is said once another folder was named, or none."""
    if not folder:
        return "The copies are carried to no other folder."
    return f"Each copy from now on is carried to {folder} as well."


def trouble(at: str, text: str) -> str:
    """Why the last copy was not made."""
    return f"No copy was made {at}: {text}"


def elsewhere_trouble(at: str, text: str) -> str:
    """Why a copy did not get to the other folder."""
    return f"The copy of {at} is not in the other folder. {text}"


def rotation_trouble(at: str, text: str) -> str:
    """Why copies that are kept no longer are still there."""
    return (
        f"The copy of {at} was made, but older ones that are kept no longer could not be removed. "
        f"{text}"
    )


def last_copy(made_at: dt.datetime | None, folder: str, *, today: dt.date) -> str:
    """When the last copy was made and where it is, for the room of the shop."""
    if made_at is None:
        return "There is no copy of your builds yet."
    return f"The last one was made {moment(made_at, today=today)}. It is in {folder}."

"""What pages show of the photographs of a task, in strings."""

from dataclasses import dataclass

from webapp.build.build_input import Photograph, Task
from webapp.build.limits import SMALL_PHOTOGRAPH_SIDE_PX
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.photographs import called

ON_A_CARD = 6
"""So many stand on a card of the Bench; the others are a tap away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureView:
    """One photograph of a list: `small` and `whole` are the addresses of its files.

    `width` and `height` are those of the small one, so that its place is kept while it comes.
    """

    address: str
    small: str
    whole: str
    said: str
    caption: str
    added: str
    width: int
    height: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturesView:
    """The photographs of one task: those that are shown, and how many more there are."""

    pictures: tuple[PictureView, ...]
    more: int
    all_address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OnePicture:
    """A photograph by itself, between the one before it and the one after it; "" for none."""

    picture: PictureView
    width: int
    height: int
    place: str
    before: str
    after: str


def pictures_of(page: PageContext, task: Task, most: int | None = None) -> PicturesView:
    """The photographs of a task, the last ones first where only `most` are shown."""
    there = photographs_of(page, task.key)
    shown = there if most is None or len(there) <= most else there[: -most - 1 : -1]
    return PicturesView(
        pictures=tuple(_picture(page, task, each) for each in shown),
        more=len(there) - len(shown),
        all_address=addresses.photographs(page.slug, task.key),
    )


def one_picture(page: PageContext, task: Task, photograph: Photograph) -> OnePicture:
    """A photograph as its own page shows it."""
    there = photographs_of(page, task.key)
    place = there.index(photograph)

    def at(number: int) -> str:
        is_there = 0 <= number < len(there)
        return addresses.photograph(page.slug, task.key, there[number].digest) if is_there else ""

    return OnePicture(
        picture=_picture(page, task, photograph),
        width=photograph.width_px,
        height=photograph.height_px,
        place=f"{place + 1} of {len(there)}" if len(there) > 1 else "",
        before=at(place - 1),
        after=at(place + 1),
    )


def photographs_of(page: PageContext, task: str) -> tuple[Photograph, ...]:
    """The photographs of a task in the order in which they were added."""
    return tuple(each for each in page.build.photographs if each.task == task)


def _picture(page: PageContext, task: Task, photograph: Photograph) -> PictureView:
    longest = max(photograph.width_px, photograph.height_px, 1)
    scale = min(1.0, SMALL_PHOTOGRAPH_SIDE_PX / longest)
    return PictureView(
        address=addresses.photograph(page.slug, task.key, photograph.digest),
        small=addresses.small_picture(page.slug, photograph.digest),
        whole=addresses.picture(page.slug, photograph.digest),
        said=called(photograph, task.name),
        caption=photograph.caption,
        added=words.day(photograph.added_on, today=page.today),
        width=max(1, round(photograph.width_px * scale)),
        height=max(1, round(photograph.height_px * scale)),
    )

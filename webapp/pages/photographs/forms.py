"""Photographs as forms: added with a caption, captioned anew, removed."""

from collections.abc import Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Photograph
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_PHOTOGRAPHS, MOST_PHOTOGRAPHS_BYTES
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.words.photographs import TOO_MANY
from webapp.services.photographs import with_photographs

PICTURE = "picture"
"""The fields that files are sent in: from the camera, and chosen."""
CAPTION = "What it shows"


def blank_form() -> TypedForm:
    """The form that adds photographs."""
    return TypedForm(scope="new")


def caption_shown(photograph: Photograph) -> Shown:
    """The form of one photograph."""
    return Shown().text("caption", photograph.caption)


def find_photograph(build: BuildInput, task: str, digest: str) -> Photograph | None:
    """The photograph of a task with that file."""
    found = (each for each in build.photographs if (each.task, each.digest) == (task, digest))
    return next(found, None)


def add(task: str, photographs: Sequence[Photograph]) -> FormEdit[None]:
    """Add photographs whose files are on disk; one that the task already has stays as it is."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        if find_by_key(build.tasks, task) is None:
            return Edited(build=build, made=None, lost=Lost(kind="task", key=task))
        after = with_photographs(build, photographs)
        if after is not build and is_too_much(after):
            form.fault(PICTURE, TOO_MANY)
            after = build
        return Edited(build=after, made=None)

    return edit


def is_too_much(build: BuildInput) -> bool:
    """Whether a build has more photographs, or larger ones, than may be added."""
    sizes = {each.digest: each.size_bytes for each in build.photographs}
    is_large = sum(sizes.values()) > MOST_PHOTOGRAPHS_BYTES
    return is_large or len(build.photographs) > MOST_PHOTOGRAPHS


def edit_caption(task: str, digest: str) -> FormEdit[None]:
    """Say what a photograph shows."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        photograph = find_photograph(build, task, digest)
        if photograph is None:
            return Edited(build=build, made=None, lost=Lost(kind="photograph", key=digest[:12]))
        if not form.settle(caption_shown(photograph)):
            return Edited(build=build, made=None)
        said = replace(photograph, caption=form.text("caption", CAPTION))
        photographs = tuple(said if each is photograph else each for each in build.photographs)
        return Edited(build=replace(build, photographs=photographs), made=None)

    return edit


def remove(task: str, digest: str) -> FormEdit[None]:
    """Take a photograph out, as it was asked about; its file stays, for Undo."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        photograph = find_photograph(build, task, digest)
        if photograph is None:
            return Edited(build=build, made=None, lost=Lost(kind="photograph", key=digest[:12]))
        is_as_asked(form, goes_with(photograph))
        left = tuple(each for each in build.photographs if each is not photograph)
        return Edited(build=replace(build, photographs=left), made=None)

    return edit


def goes_with(photograph: Photograph) -> tuple[GoesWith, ...]:
    """What is lost with a photograph: its caption."""
    now = f"it says “{photograph.caption}” now" if photograph.caption else "it has no caption now"
    return (GoesWith(name="caption", state=photograph.caption, now=now),)

"""The answer where the data file can not be used: what to do, and everything that was typed."""

from typing import get_args

from fastapi import Request, Response
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException

from webapp.pages.forms.field_words import typed_in_words
from webapp.pages.forms.posted import typed_form
from webapp.pages.frame.rendering import render
from webapp.storage.trouble import BUSY_SECONDS, TroubleKind, UnusableDatabaseError

TITLES: dict[TroubleKind, str] = {
    "full": "The disk is full",
    "held": "Another program holds the data file",
    "locked": "The data file may not be written",
    "disk": "The disk does not answer",
    "damaged": "The data file is damaged",
    "gone": "The data file is not in its place",
    "foreign": "The data file can not be used",
}
assert TITLES.keys() == set(get_args(TroubleKind))


async def stands_in_the_way(request: Request, trouble: UnusableDatabaseError) -> Response:
    """A page with a form that sends the same fields to the same address once more.

    507 where the disk is full, else 503 (RFC 9110 and RFC 4918: the server's state, not what was
    sent).
    """
    is_form = request.method == "POST"
    posted = (await _posted(request)).multi_items() if is_form else []
    texts = [(name, value) for name, value in posted if isinstance(value, str)]
    address = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    answer = render(
        "frame/trouble.html",
        status=507 if trouble.kind == "full" else 503,
        title=TITLES[trouble.kind],
        text=str(trouble),
        again=address,
        is_form=is_form,
        fields=texts,
        typed=typed_in_words(texts),
        files=[
            (name, value.filename)
            for name, value in posted
            if isinstance(value, UploadFile) and value.filename
        ],
    )
    if not is_form and "HX-Request" in request.headers and "HX-Boosted" not in request.headers:
        # a part that asks anew by itself: what it shows stays, the next step tells of the trouble
        answer.headers["HX-Reswap"] = "none"
    if trouble.kind == "held":
        answer.headers["Retry-After"] = str(BUSY_SECONDS)
    return answer


async def _posted(request: Request) -> FormData:
    """The fields that the address was asked with, whether or not it looked at them."""
    try:
        return await typed_form(request)
    except HTTPException:  # no form, and the address has not asked for one
        return FormData()

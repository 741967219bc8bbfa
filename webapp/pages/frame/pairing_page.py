"""The one page that a device sees which is not paired.

It is whole in itself: its style stands in it, allowed by its hash, for no file is given to such a
device either.
"""

import base64
import hashlib
from functools import cache

from fastapi.responses import HTMLResponse
from markupsafe import Markup

from webapp.pages.frame.answer_headers import ANSWER_HEADERS
from webapp.pages.frame.rendering import environment
from webapp.pages.words import network as words
from webapp.settings import resource_root

LONGEST_CODE_SHOWN = 20


@cache
def _style() -> tuple[str, str]:
    """The style of the page, and what the policy allows it by."""
    style = (resource_root() / "static" / "pairing.css").read_text(encoding="utf-8")
    digest = hashlib.sha256(style.encode()).digest()
    return style, f"'sha256-{base64.b64encode(digest).decode()}'"


def pairing_page(status: int, *, wrong: str = "", code: str = "", name: str = "") -> HTMLResponse:
    """The page; `wrong` says what was wrong with what was sent, which stays in its fields."""
    style, allowed = _style()
    text = (
        environment(resource_root())
        .get_template("network/pairing.html")
        .render(
            style=Markup(style),  # our own file
            wrong=wrong,
            code=code[:LONGEST_CODE_SHOWN],
            name=name[: words.LONGEST_NAME],
            longest_name=words.LONGEST_NAME,
        )
    )
    answer = HTMLResponse(text, status_code=status)
    answer.headers.update(ANSWER_HEADERS)
    answer.headers["Content-Security-Policy"] = (
        f"default-src 'none'; style-src {allowed}; img-src data:; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    )
    answer.headers["Cache-Control"] = "no-store"
    return answer

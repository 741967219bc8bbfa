"""Tasks passed over for tonight: kept by the browser that passed them over, until the morning.

A fact about one evening of one person and no fact about the build, so it stands in a cookie of
the Bench: it survives a reload and a restart, moves no date and ends by itself.
"""

import datetime as dt
from collections.abc import Mapping
from urllib.parse import quote, unquote

from fastapi.responses import Response

COOKIE = "not-tonight"
ENDS_AT_HOUR = 4
"""Tonight ends at this hour of the morning."""
MOST_PASSED = 20
MOST_CHARACTERS = 3000
"""A browser keeps 4 kB in a cookie; the oldest are offered again first."""
_BETWEEN = "~"


def passed_over(cookies: Mapping[str, str], now: dt.datetime) -> tuple[str, ...]:
    """The keys of the tasks that are not to be offered at `now`; none from a cookie of before."""
    until, *keys = cookies.get(COOKIE, "").split(_BETWEEN)
    if until != _end_of(now).isoformat():
        return ()
    return tuple(unquote(key) for key in keys[-MOST_PASSED:] if key)


def pass_over(answer: Response, path: str, keys: tuple[str, ...], now: dt.datetime) -> None:
    """Have the browser keep the keys until the morning; none of them: offer everything again.

    `path` is the address of the Bench: only it and what is below gets the cookie.
    """
    quoted = [quote(key, safe="").replace(_BETWEEN, "%7E") for key in keys[-MOST_PASSED:]]
    while len(_BETWEEN.join(quoted)) > MOST_CHARACTERS:
        quoted.pop(0)
    if not quoted:
        answer.delete_cookie(COOKIE, path=path)
        return
    until = _end_of(now)
    answer.set_cookie(
        COOKIE,
        _BETWEEN.join((until.isoformat(), *quoted)),
        max_age=int((until - now).total_seconds()),
        path=path,
        httponly=True,
        samesite="strict",
    )


def _end_of(now: dt.datetime) -> dt.datetime:
    """When the night ends that `now` belongs to."""
    day = now.date() if now.hour < ENDS_AT_HOUR else now.date() + dt.timedelta(days=1)
    return dt.datetime.combine(day, dt.time(hour=ENDS_AT_HOUR))

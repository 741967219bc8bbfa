"""Addresses of the way to the key."""

from urllib.parse import urlencode

from webapp.pages.addresses.joined import build, encoded


def first_start(slug: str) -> str:
    """What stands between the build and the key."""
    return f"{build(slug)}/first-start"


def first_start_stage(slug: str, stage: str, page: int = 1, check: str = "") -> str:
    """The checks of a stage, `page` counted from 1; at the place of one of them."""
    fields = {"key": stage} | ({"page": str(page)} if page > 1 else {})
    mark = f"#check-{encoded(check)}" if check else ""
    return f"{first_start(slug)}/stage?{urlencode(fields)}{mark}"


def first_start_open(slug: str, kind: str) -> str:
    """Everything of one kind that is open: task, part, circuit, check."""
    return f"{first_start(slug)}/open?{urlencode({'kind': kind})}"


def first_start_circuit(slug: str, circuit: str) -> str:
    """The checks of one circuit, those that are offered among them."""
    return f"{first_start(slug)}/circuit?{urlencode({'key': circuit})}"


def first_start_check(slug: str, key: str, do: str = "") -> str:
    """One check and its forms; `do` is where one of them is sent: "" signs it."""
    way = f"/{do}" if do else ""
    return f"{first_start(slug)}/check{way}?{urlencode({'key': key})}"


def first_start_take_back(slug: str) -> str:
    return f"{first_start(slug)}/take-back"


def first_start_answers(slug: str) -> str:
    """The questions of first start."""
    return f"{first_start(slug)}/answers"


def first_start_stop_lines(slug: str) -> str:
    """Where the lines that say how to stop it are typed."""
    return f"{first_start(slug)}/stop-lines"


def first_start_own_check(slug: str) -> str:
    return f"{first_start(slug)}/own-check"


def first_start_sheet(slug: str, *, whole: bool = False) -> str:
    """The day on one page to be printed; or the whole list, printed on both sides."""
    return f"{first_start(slug)}/sheet" + ("?whole=1" if whole else "")


def first_start_day(slug: str, do: str = "", *, watch: str = "") -> str:
    """The day itself, one screen at a time; `do` is where one of its presses is sent.

    `watch` "yes" is the screen of the watch after a stop, "no" what comes before it.
    """
    address = f"{first_start(slug)}/day" + (f"/{do}" if do else "")
    return f"{address}?watch={watch}" if watch else address

"""The report as the text of one file: no scripts, nothing loaded, the photographs inside."""

import datetime as dt
from base64 import b64encode
from collections.abc import Iterator

from webapp.build.build_input import BuildInput
from webapp.first_start.check_list import CheckList
from webapp.pages.frame.rendering import environment
from webapp.pages.report.choice import ReportChoice
from webapp.pages.report.pictures import Reader
from webapp.pages.report.views import report_view
from webapp.settings import resource_root


def report_pieces(
    build: BuildInput,
    checks: CheckList,
    choice: ReportChoice,
    *,
    at: dt.datetime,
    read: Reader,
) -> Iterator[str]:
    """The report, a photograph at a time: never are all of them held at once."""
    view = report_view(build, checks, choice, at=at, read=read)
    template = environment(resource_root()).get_template("report/report.html")
    yield from template.generate(view=view, choice=choice, fonts=_fonts())


def _fonts() -> tuple[tuple[int, str], ...]:
    """The letters that the pictures of circuits are laid out for, by weight (SIL OFL 1.1)."""
    folder = resource_root() / "static" / "fonts"
    return tuple(
        (weight, b64encode(path.read_bytes()).decode("ascii"))
        for weight in (500, 600)
        for path in (folder / f"barlow-condensed-latin-{weight}-normal.woff2",)
    )

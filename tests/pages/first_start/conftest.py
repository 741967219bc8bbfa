"""The application with a build that was walked to somewhere, and a clock that the test moves."""

import datetime as dt
import html
import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

from tests.first_start.lists import ENGINE, start_build
from tests.first_start.walker import Walker
from tests.pages.client import Client
from tests.pages.conftest import client_of
from tests.stored_files import file_with
from webapp.build.build_input import BuildInput
from webapp.first_start.check_list import CheckList
from webapp.first_start.evaluation import start_standing
from webapp.first_start.standing import StartStanding
from webapp.services.seed_builds import check_list_of
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build

FIELD = re.compile(r"<(?:input|select|textarea)\b[^>]*>")


class Bay:
    """A client, the build behind it, and its clock."""

    def __init__(self, client: Client, slug: str, at: dt.datetime) -> None:
        self.client, self.slug, self.at = client, slug, at

    def wait(self, **time: float) -> None:
        self.at += dt.timedelta(**time)

    def get(self, address: str, *, status: int = 200) -> str:
        answer = self.client.get(f"/builds/{self.slug}/{address}")
        assert answer.status_code == status, answer.text
        return html.unescape(answer.text)

    def post(self, address: str, **fields: str | list[str]) -> tuple[int, str]:
        answer = self.client.post(f"/builds/{self.slug}/{address}", data=fields)
        return answer.status_code, html.unescape(answer.text)

    @property
    def build(self) -> BuildInput:
        application = self.client.app
        with application.state.services.database.reading() as session:
            build = load_build(session, self.slug, now=self.at.replace(tzinfo=None))
        assert build is not None
        return build

    @property
    def standing(self) -> StartStanding:
        build = self.build
        return start_standing(build, check_list_of(build), at=self.at)

    @property
    def version(self) -> str:
        return self.standing.version

    def sign(self, key: str, **other: str | list[str]) -> tuple[int, str]:
        """The form of a check as a person fills it in."""
        fields = {**self.filled(key), **other}
        return self.post(f"first-start/check?key={key}", **fields)

    def filled(self, key: str, standing: StartStanding | None = None) -> dict[str, str | list[str]]:
        """What a person types into the form of a check; `standing` where it is at hand."""
        standing = standing or self.standing
        one = standing.of(key)
        assert one is not None, key
        fields: dict[str, str | list[str]] = {"version": standing.version, "signer": "A. Builder"}
        fields["shown_at"] = self.at.isoformat()
        fields["seen"] = "by the wing, tied away"
        if one.check.who == "helper":
            fields["helper"] = "B. Second"
        if one.check.who == "licensed":
            fields |= {"paper_name": "J. Ferro", "paper_firm": "Ferro", "paper_number": "118"}
            fields |= {"paper_on": f"{self.at:%Y-%m-%d}", "saw_paper": "on"}
        if key == "opened_since":
            fields["opened"] = "nothing"
        for number, wanted in enumerate(one.check.readings):
            low, high = wanted.bounds("12")
            value = low if low is not None else high if high is not None else 1.0
            fields[f"reading-{number}"] = "near MAX" if wanted.is_words else f"{value:g}"
            fields[f"sure-{number}"] = "on"
        return fields


Walk = Callable[[Walker], None]
BayOf = Callable[..., Bay]


@pytest.fixture
def bay_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[BayOf]:
    """Makes the application on a build that was walked to somewhere."""
    opened: list[Client] = []

    def made(*walks: Walk, checks: CheckList = ENGINE, build: BuildInput | None = None) -> Bay:
        stored, slug, at = _walked_file(walks, checks, build)
        data_file = tmp_path / f"bay{len(opened)}.sqlite3"
        data_file.write_bytes(stored)
        client = client_of(data_file, at.replace(tzinfo=None))
        bay = Bay(client.__enter__(), slug, at)
        opened.append(client)
        monkeypatch.setattr(Settings, "moment", lambda _self: bay.at)

        def to_the_minute(_self: Settings) -> dt.datetime:
            return bay.at.replace(second=0, microsecond=0, tzinfo=None)

        monkeypatch.setattr(Settings, "now", to_the_minute)
        return bay

    yield made
    for client in opened:
        client.__exit__(None, None, None)


@cache
def _walked_file(
    walks: tuple[Walk, ...], checks: CheckList, build: BuildInput | None
) -> tuple[bytes, str, dt.datetime]:
    """A data file with the build after the walks, its slug, and the moment at their end."""
    walker = Walker(build or start_build(checks), checks)
    for walk in walks:
        walk(walker)
    slugs: list[str] = []
    stored = file_with(lambda session: slugs.append(create_build(session, walker.build)))
    return stored, slugs[0], walker.at

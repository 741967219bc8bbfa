"""The command that makes the report of a document: keyturn report."""

from base64 import b64decode
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from webapp.build.build_input import BuildInput, Photograph
from webapp.build.moments import by_the_end_of_minute
from webapp.command.documents import read_build
from webapp.command.files import write_file, write_out
from webapp.command.refusal import RefusedError
from webapp.command.settings import settings_of
from webapp.exchange.build_document import SentPhotograph
from webapp.exchange.photographs import NoPhotograph, made_anew
from webapp.pages.report.choice import ReportChoice
from webapp.pages.report.writer import report_pieces
from webapp.services.seed_builds import check_list_of


def make_report(file: str, output: Path | None, choice: ReportChoice) -> None:
    """Write the report of a document, with the photographs in it, to a file or standard output.

    Raises RefusedError.
    """
    settings = settings_of()
    read, sent = read_build(file, settings)
    build, files = _with_photographs(read, sent if choice.photographs else ())
    at = by_the_end_of_minute(build.now)
    pieces = report_pieces(
        build,
        check_list_of(build),
        choice,
        at=at,
        read=lambda photograph: files.get(photograph.digest),
    )
    text = "".join(pieces)
    if output is None:
        write_out(text)
    else:
        write_file(output, text)


def _with_photographs(
    build: BuildInput, sent: tuple[SentPhotograph, ...]
) -> tuple[BuildInput, dict[str, bytes]]:
    """The build with the photographs of its document, made anew as anything from outside."""
    photographs, files = [], {}
    for each in sent:
        made = made_anew(b64decode(each.base64))
        if isinstance(made, NoPhotograph):
            raise RefusedError([f"{each.task}, photograph {each.number}: {made.text}"])
        digest = sha256(made.jpeg).hexdigest()
        files[digest] = made.jpeg
        photographs.append(
            Photograph(
                task=each.task,
                digest=digest,
                width_px=made.width_px,
                height_px=made.height_px,
                size_bytes=len(made.jpeg),
                added_on=each.added_on,
                caption=each.caption,
            )
        )
    return replace(build, photographs=tuple(photographs)), files

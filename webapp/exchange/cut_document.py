"""The cut document, read with every fault at once, and its answer: what `keyturn cut` prints."""

from functools import partial
from typing import Annotated, Any

from pydantic import PlainValidator, WithJsonSchema

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import Thing
from webapp.build.limits import (
    LEAST_LENGTH_MM,
    MOST_CUT_LENGTH_MM,
    MOST_CUT_PIECES,
    MOST_KERF_MM,
    MOST_STOCK_LINES,
)
from webapp.exchange.document_entry import Entry, between, many, said, whole_between
from webapp.exchange.document_faults import Shape, read_form
from webapp.exchange.document_format import reads_format, reads_version
from webapp.exchange.document_places import Place
from webapp.exchange.document_things import Fields
from webapp.exchange.document_values import Name, YesNo
from webapp.exchange.entry_nouns import nouns, said_of
from webapp.exchange.json_text import UnreadableError, parse_json
from webapp.exchange.plumbing_values import Count, Price
from webapp.exchange.value_readers import read_number, read_whole_number
from webapp.plumbing.cutting.cut_list import CutJob, CutList, Stock, WantedPiece
from webapp.plumbing.cutting.faults import CUT_LIST, THE_LIST, cut_faults, piece_thing, stock_thing

FORMAT = "keyturn-cut"
VERSION = 1

LengthMm = Annotated[
    float, PlainValidator(read_number), between(LEAST_LENGTH_MM, MOST_CUT_LENGTH_MM)
]
KerfMm = Annotated[float, PlainValidator(read_number), between(0, MOST_KERF_MM)]
PieceCount = Annotated[
    int,
    PlainValidator(read_whole_number),
    whole_between(1, MOST_CUT_PIECES),
]


class StockEntry(Entry):
    """Bars, tubes or hoses of one length; a leftover on the shelf costs nothing and is counted."""

    name: Name
    length_mm: LengthMm
    price: Price | None = said("Of one.", 0)
    count: Count | None = said("How many there are; null is as many as wanted.")


class WantedEntry(Entry):
    """So many pieces of one length."""

    name: Name
    length_mm: LengthMm
    count: PieceCount | None = said("How many.", 1)


class CutDocument(Entry):
    """What is to be cut from what."""

    format: Annotated[
        str,
        PlainValidator(reads_format(FORMAT, "a cut document")),
        WithJsonSchema({"const": FORMAT}),
    ]
    version: Annotated[
        int, PlainValidator(reads_version(VERSION)), WithJsonSchema({"const": VERSION})
    ]
    kerf_mm: KerfMm | None = said("What the saw takes away between two pieces.", 0)
    square_end: YesNo | None = said("Whether the end of each bar is squared first.", False)
    stock: list[StockEntry] | None = many("What there is to cut from.", MOST_STOCK_LINES)
    pieces: list[WantedEntry] | None = many("What is to be cut.", MOST_CUT_PIECES)


def _named(thing: Any, fields: Fields, number: int, _within: object) -> Thing:
    name = fields.get("name")
    made: Thing = thing(name if isinstance(name, str) else "", number)
    return made


CUT = Shape(
    model=CutDocument,
    places={
        (): Place(
            model=CutDocument,
            thing=lambda _fields, _number, _within: THE_LIST,
            stand_ins={"format": FORMAT, "version": VERSION},
        ),
        ("stock",): Place(
            model=StockEntry, thing=partial(_named, stock_thing), leaning=((CUT_LIST, "stock"),)
        ),
        ("pieces",): Place(model=WantedEntry, thing=partial(_named, piece_thing)),
    },
)
"""The cut document."""


def read_cut_document(text: str | bytes) -> tuple[CutJob | None, tuple[Fault, ...]]:
    """The job of a document and every fault of form and content; no faults: it can be cut.

    The job is None only where nothing can be read at all.
    """
    try:
        raw, twice = parse_json(text)
    except UnreadableError as error:
        return None, (error.fault,)
    if not isinstance(raw, dict):
        fault = THE_LIST.fault("", "the document must be one object in curly braces.")
        return None, (*twice, fault)
    reading = read_form(raw, CUT)
    job = _job(reading.document)
    return job, (*twice, *reading.faults, *reading.new_among(cut_faults(job)))


def _job(document: CutDocument) -> CutJob:
    return CutJob(
        **{
            name: value
            for name, value in said_of(document).items()
            if name in ("kerf_mm", "square_end")
        },
        stock=nouns(Stock, document.stock),
        pieces=nouns(WantedPiece, document.pieces),
    )


def write_cut_document(job: CutJob) -> Fields:
    """The document of a job, for other programs."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "kerf_mm": plain_number(job.kerf_mm),
        "square_end": job.square_end,
        "stock": [
            {
                "name": stock.name,
                "length_mm": plain_number(stock.length_mm),
                "price": plain_number(stock.price),
                "count": stock.count,
            }
            for stock in job.stock
        ],
        "pieces": [
            {
                "name": piece.name,
                "length_mm": plain_number(piece.length_mm),
                "count": piece.count,
            }
            for piece in job.pieces
        ],
    }


def cut_answer(answer: CutList) -> Fields:
    """A cut list in the fields of `keyturn cut --json`."""
    return {
        "price": plain_number(answer.price),
        "bars": len(answer.bars),
        "bound_price": plain_number(answer.bound_price),
        "proved_best": answer.proved_best,
        "cuts": [
            {
                "stock": bar.stock.name,
                "pieces": [piece.name for piece in bar.pieces],
                "left_mm": plain_number(bar.left_mm),
            }
            for bar in answer.bars
        ],
    }


def cut_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of the cut document, version 1."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **CutDocument.model_json_schema(),
        "title": "Keyturn cut document, version 1",
    }


def plain_number(value: float) -> float:
    """2 rather than 2.0."""
    return int(value) if float(value).is_integer() else value

"""The fields that say what a piece is, in a run or on the shelf: shown, and read."""

from collections.abc import Callable
from typing import Any, cast

from webapp.build.build_input import Fault
from webapp.build.plumbing import (
    ARROWS,
    END_KINDS,
    OF_TWO_SIZES,
    PIECE_KINDS,
    SHELF_KINDS,
    AnyPiece,
    Arrow,
    End,
    EndKind,
    Piece,
    ShelfKind,
)
from webapp.build.typed_sizes import read_size, typed_size_words
from webapp.build.units import Quantity, amount_words, read_amount
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words.plumbing_drawn import PIECE_WORDS, end_word
from webapp.pages.words.sizes import is_metric, shop_units

Reader = Callable[[str], tuple[Any, str]]
"""A text to a value, and a sentence where it can not be read."""


def size_reader(kind: EndKind | None) -> Reader:
    """Reads the size of an end of that kind; nothing typed is not measured."""

    def read(text: str) -> tuple[Any, str]:
        found = read_size(text, kind, shop_units())
        return found.size, found.fault

    return read


def amount_reader(quantity: Quantity) -> Reader:
    """Reads so much of a quantity; nothing typed is None."""

    def read(text: str) -> tuple[Any, str]:
        if not text:
            return None, ""
        found = read_amount(text, quantity, shop_units())
        if found.value is None and quantity == "length":  # a tape in inches says 12 1/2
            fraction = read_size(text, "hose", shop_units())
            if isinstance(fraction.size, float | int):
                return fraction.size, ""
        return found.value, found.fault

    return read


def read_angle(text: str) -> tuple[Any, str]:
    """Degrees; nothing typed is None."""
    bare = text.removesuffix("°").replace(",", ".").strip()
    if not bare:
        return None, ""
    try:
        angle = float(bare)
    except ValueError:
        angle = float("nan")
    if abs(angle) < float("inf"):
        return angle, ""
    return None, f"“{text[:60]}” is no angle. Enter degrees, 45 or 90."


def shown_piece(piece: AnyPiece) -> Shown:
    """The fields of a piece as they are opened."""
    sizes = piece.size if isinstance(piece.size, tuple) else (piece.size, None)
    ends = (*piece.ends, None, None)[:2]
    fields = (
        Shown()
        .choice("piece", piece.piece, lambda kind: PIECE_WORDS.get(cast(Any, kind), kind))
        .add("first_size", typed_size_words(sizes[0], shop_units()), sizes[0])
        .add("other_size", typed_size_words(sizes[1], shop_units()), sizes[1])
        .add("length_mm", _plain_length(piece.length_mm), piece.length_mm)
        .number("angle", piece.angle)
        .text("own_name", piece.name or "")
        .text("of", piece.of or "")
        .add("wall_mm", _plain_length(piece.wall_mm), piece.wall_mm)
        .add("bore_mm", _plain_length(piece.bore_mm), piece.bore_mm)
        .choice("arrow", piece.arrow)
    )
    for end, mark in zip(ends, "ab", strict=True):
        kind = None if end is None else end.kind
        size = None if end is None else end.size
        fields.choice(f"end_{mark}", kind, lambda text: end_word(cast(EndKind, text)))
        fields.add(f"size_{mark}", typed_size_words(size, shop_units()), size)
    return fields


def _plain_length(mm: float | None) -> str:
    return amount_shown(mm, "length").removesuffix(" mm")


def amount_shown(value: float | None, quantity: Quantity) -> str:
    """So much as a field shows it: in mm, bar and litres the number alone, else with its unit."""
    if value is None:
        return ""
    if quantity == "length" and not is_metric():
        return typed_size_words(value, shop_units())
    words = amount_words(value, quantity, shop_units())
    return words.rpartition(" ")[0] if shop_units() == "metric" else words


def read_any_piece(form: TypedForm) -> dict[str, Any]:
    """What the fields say, by the names of `AnyPiece`; faults stay in the form."""
    kind = form.one_of("piece", "Kind of piece", SHELF_KINDS)
    if kind is None:
        form.fault("piece", "Kind of piece: none is picked. Pick one.")
    called = PIECE_WORDS.get(cast(Any, kind), kind or "piece").capitalize()
    first = form.read("first_size", f"{called}, size", size_reader("hose"))
    other = form.read("other_size", f"{called}, size of the other end", size_reader("hose"))
    size = first
    if other is not None and (kind in OF_TWO_SIZES or other != first):
        size = (first if first is not None else other, other)
    return {
        "piece": cast(ShelfKind, kind or "hose"),
        "size": size,
        "length_mm": form.read("length_mm", f"{called}, length", amount_reader("length")),
        "angle": form.read("angle", f"{called}, angle", read_angle),
        "name": form.text("own_name", f"{called}, its own name") or None,
        "of": form.text("of", f"{called}, made of") or None,
        "wall_mm": form.read("wall_mm", f"{called}, wall", amount_reader("length")),
        "bore_mm": form.read("bore_mm", f"{called}, bore", amount_reader("length")),
        "arrow": cast(Arrow | None, form.one_of("arrow", f"{called}, arrow", ARROWS)),
        "ends": _read_ends(form, called),
    }


def _read_ends(form: TypedForm, called: str) -> tuple[End, ...]:
    ends = []
    for mark, words in (("a", "first end"), ("b", "other end")):
        kind = cast(EndKind | None, form.one_of(f"end_{mark}", f"{called}, {words}", END_KINDS))
        size = form.read(f"size_{mark}", f"{called}, {words}", size_reader(kind))
        if kind is not None:
            ends.append(End(kind=kind, size=size))
        elif size is not None:
            form.fault(f"end_{mark}", f"{called}, {words}: pick what kind of end has that size.")
    return tuple(ends)


def read_piece(form: TypedForm) -> Piece:
    """A piece of a run as its fields say it."""
    said = read_any_piece(form)
    if said["piece"] not in PIECE_KINDS:
        form.fault("piece", f"Kind of piece: a {said['piece']} is no piece of a run. Pick another.")
        said["piece"] = "hose"
    return Piece(**said)


def place_of_piece_fault(fault: Fault, length: str = "length_mm", angle: str = "angle") -> str:
    """Which field of a piece a fault of it belongs to, by what it speaks of."""
    text = fault.text.partition(": ")[2]
    for words, field in (
        ("length", length),
        ("is no bend", angle),
        ("walls of", "wall_mm"),
        ("is no wall", "wall_mm"),
        ("a bore of", "bore_mm"),
        ("two ends", "end_a"),
        ("end has no size", "size_b"),
    ):
        if words in text:
            return field
    return {"of": "of", "name": "own_name"}.get(fault.field, "first_size")

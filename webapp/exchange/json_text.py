"""From bytes or text to JSON values, with every fault of form in plain words."""

import codecs
import json
import re
from collections import Counter

from webapp.build.build_input import Fault
from webapp.build.checks.fault_words import shown
from webapp.build.checks.size_checks import megabytes
from webapp.build.limits import MOST_DOCUMENT_BYTES, MOST_FULL_DOCUMENT_BYTES

_REASONS = {
    "Expecting value": "a value is missing here, or is not written as JSON wants it",
    "Expecting ',' delimiter": "a comma or a closing bracket is missing before this place",
    "Expecting ':' delimiter": "a colon is missing after the field's name",
    "Expecting property name enclosed in double quotes": (
        "a field's name in double quotes is missing here, or a comma stands before it for nothing"
    ),
    "Illegal trailing comma before end of": "a comma stands before a closing bracket for nothing",
    "Unterminated string starting at": "the text that begins here has no closing quote",
    "Invalid control character at": "a line break or control character stands inside a text",
    "Invalid \\escape": "a backslash stands before a character that takes none",
    "Invalid \\uXXXX escape": "\\u must be followed by four digits 0-9, a-f",
    "Extra data": "the document has ended here, but something follows",
}
_LONGEST_WHOLE_NUMBER = 18
"""Digits that fit a 64-bit number; longer ones are read as fractions and refused by range."""


class UnreadableError(Exception):
    """The text is no JSON; carries the one fault that says where and why."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.fault = _document_fault(text)


def parse_json(text: str | bytes) -> tuple[object, tuple[Fault, ...]]:
    """The JSON value, and faults for fields that stand twice in one object or have no fit name.

    NaN and Infinity are let through as numbers that are not finite: whoever reads the field
    refuses them by its name. Raises UnreadableError.
    """
    faults: list[Fault] = []

    def unique(pairs: list[tuple[str, object]]) -> dict[str, object]:
        fields = dict(reversed(pairs))  # of two, the first is kept
        if len(fields) < len(pairs):
            faults.extend(_twice(pairs))
        if all(map(_is_whole, fields)):
            return {name: fields[name] for name, _ in pairs}
        faults.append(
            _document_fault(
                "The name of a field or station holds half a character (\\ud800 to \\udfff). "
                "Type the name anew."
            )
        )
        return {name: fields[name] for name, _ in pairs if _is_whole(name)}

    try:
        value = json.loads(_decoded(text), object_pairs_hook=unique, parse_int=_whole_number)
    except json.JSONDecodeError as error:
        raise UnreadableError(_place_and_reason(error)) from None
    except RecursionError:
        raise UnreadableError(
            "The document is nested too deeply. A document has lists of objects, "
            "and nothing much deeper: check its brackets."
        ) from None
    return value, tuple(faults)


def _document_fault(text: str) -> Fault:
    return Fault(kind="build", key="", field="", text=text)


def _is_whole(text: str) -> bool:
    return text.isascii() or not any("\ud800" <= c <= "\udfff" for c in text)


def _whole_number(digits: str) -> int | float:
    return int(digits) if len(digits) <= _LONGEST_WHOLE_NUMBER else float(digits)


def _twice(pairs: list[tuple[str, object]]) -> list[Fault]:
    counts = Counter(name for name, _ in pairs)
    fields = dict(reversed(pairs))
    whose = next(
        (shown(v) for n in ("name", "key") if isinstance(v := fields.get(n), str) and v),
        "the one with " + ", ".join(shown(name) for name in list(counts)[:4]),
    )
    return [
        _document_fault(
            f'The field "{shown(name)}" stands {"twice" if times == 2 else f"{times} times"} '
            f"in one object ({whose}). Keep one of them."
        )
        for name, times in counts.items()
        if times > 1
    ]


def _decoded(text: str | bytes) -> str:
    if len(text) > MOST_FULL_DOCUMENT_BYTES or _size_without_pictures(text) > MOST_DOCUMENT_BYTES:
        raise UnreadableError(
            f"The document is too large: {megabytes(MOST_DOCUMENT_BYTES)} is the most. "
            "Shorten its longest texts, or take out what is not needed."
        )
    if isinstance(text, bytes):
        text = _from_utf8(text)
    text = text.removeprefix("\ufeff")
    if not text.strip():
        raise UnreadableError(
            "The document is empty. Choose a file that holds a document of this program."
        )
    return text


_PICTURE = r'"jpeg": ?"[A-Za-z0-9+/=]*"'


def _size_without_pictures(text: str | bytes) -> int:
    """How long a document is but for the photographs in it, which take no work to read."""
    if len(text) <= MOST_DOCUMENT_BYTES:
        return len(text)
    found = (
        re.finditer(_PICTURE, text)
        if isinstance(text, str)
        else re.finditer(_PICTURE.encode(), text)
    )
    return len(text) - sum(each.end() - each.start() for each in found)


def _from_utf8(data: bytes) -> str:
    other = _other_coding(data)
    if other:
        raise UnreadableError(f"The document is in {other}. Save it as UTF-8 and try again.")
    if data.startswith(b"\0"):
        raise UnreadableError(
            "The document is no text: it begins with a byte of zero. "
            "Choose a file that holds a document of this program."
        )
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        byte = data[error.start]
        guess = bytes([byte]).decode("cp1252", "replace")
        raise UnreadableError(
            f"The document is not in UTF-8: line {line} holds the byte {byte:02X}, "
            f"“{shown(guess)}” if it was saved as Latin-1 or Windows-1252. "
            "Save it as UTF-8 and try again."
        ) from None


def _other_coding(data: bytes) -> str:
    """UTF-16 or UTF-32 by its mark, or where zeros stand around the first character (RFC 4627)."""
    zeros = [byte == 0 for byte in data[:4]]
    if zeros in ([True, True, True, False], [False, True, True, True]) or data.startswith(
        (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)
    ):
        return "UTF-32"
    if zeros[:2] in ([True, False], [False, True]) or data.startswith(
        (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
    ):
        return "UTF-16"
    return ""


def _place_and_reason(error: json.JSONDecodeError) -> str:
    reason = next((w for start, w in _REASONS.items() if error.msg.startswith(start)), "")
    return (
        f"The document is no valid JSON. Line {error.lineno}, column {error.colno}: "
        f"{reason or 'it cannot be read on from here'}. Mend that place and try again."
    )

"""Bytes into JSON values: what is not JSON (RFC 8259) is refused with its place and a remedy."""

import pytest

from webapp.exchange.json_text import UnreadableError, parse_json


def refusal(text: str | bytes) -> str:
    with pytest.raises(UnreadableError) as caught:
        parse_json(text)
    return caught.value.fault.text


def test_utf8_is_read_with_and_without_a_byte_order_mark() -> None:
    data = '{"name": "Längsträger 🔧"}'.encode()
    expected = ({"name": "Längsträger 🔧"}, ())
    assert parse_json(data) == expected
    assert parse_json(b"\xef\xbb\xbf" + data) == expected
    assert parse_json("\ufeff" + data.decode()) == expected


@pytest.mark.parametrize("text", ['{"name": "Van"}', "{}", "1", "[溶]"])
@pytest.mark.parametrize("bits", ["16", "32"])
@pytest.mark.parametrize("order", ["", "-le", "-be"])
def test_utf16_and_utf32_are_named(text: str, bits: str, order: str) -> None:
    said = refusal(text.encode(f"utf-{bits}{order}"))
    assert said == f"The document is in UTF-{bits}. Save it as UTF-8 and try again."


@pytest.mark.parametrize("data", [b"\0", b"\0\0", b"\0\0\0\0", b"\0\0{}", b'{"\0a": 1}', b"{}\0\0"])
def test_bytes_of_zero_are_not_taken_for_another_coding(data: bytes) -> None:
    assert "UTF" not in refusal(data)


def test_a_file_that_begins_with_bytes_of_zero_is_called_no_text() -> None:
    assert "begins with a byte of zero" in refusal(b"\0\0" * 20)


def test_latin1_is_named_with_its_line_and_byte() -> None:
    # "ä" is byte E4 in Latin-1.
    text = refusal('{"a": 1,\n"name": "Träger"}'.encode("latin-1"))
    assert "line 2" in text
    assert "E4" in text
    assert "ä" in text


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('{"a": 1,}', "Line 1, column 9"),
        ('{"a": 1\n "b": 2}', "Line 2, column 2"),
        ('{"a" 1}', "Line 1, column 6"),
        ('{"a": "x', "Line 1, column 7"),
        ('{"a": 1} b', "Line 1, column 10"),
        ("{'a': 1}", "Line 1, column 2"),
        ("nul", "Line 1, column 1"),
        ('{"a": "\t"}', "Line 1, column 8"),
        ('{"a": "\\x"}', "Line 1, column 8"),
    ],
)
def test_broken_json_is_answered_with_line_and_column(text: str, place: str) -> None:
    assert place in refusal(text)


@pytest.mark.parametrize("text", ["", "   \n", b"", b"\xef\xbb\xbf"])
def test_an_empty_document_is_called_empty(text: str | bytes) -> None:
    assert "empty" in refusal(text)


@pytest.mark.parametrize("opening", ["[", '{"a":'])
def test_deep_nesting_is_refused_and_does_not_break_the_reader(opening: str) -> None:
    assert "too deeply" in refusal(opening * 100_000)


def test_a_field_that_stands_twice_is_named_with_what_it_belongs_to() -> None:
    value, faults = parse_json('[{"key": "t1", "hours": 1, "hours": 2}]')
    assert value == [{"key": "t1", "hours": 1}]
    (fault,) = faults
    assert '"hours"' in fault.text
    assert "t1" in fault.text


def test_numbers_of_thousands_of_digits_are_read_and_left_to_the_field() -> None:
    value, _ = parse_json("9" * 10_000)
    assert value == float("inf")

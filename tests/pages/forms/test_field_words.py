"""Fields and what was typed into them, as a sentence says them."""

from webapp.pages.forms.field_words import typed_in_words


def test_what_was_typed_is_told_by_the_labels_of_its_fields_and_in_words() -> None:
    typed = [
        ("likely-0", "2.5"),
        ("opens-1-0", "18:00"),
        ("promised_on", "2026-12-03"),  # a Thursday
        ("helper", "on"),
        ("subsystem", "power-steering"),
        ("name", "Weld 2-3"),
    ]
    assert typed_in_words(typed) == [
        ("Likely hours, row 1", "2.5"),
        ("Opens, Tuesday, row 1", "18:00"),
        ("Promised on", "Thu 3 December 2026"),
        ("Helper", "yes"),
        ("Subsystem", "power steering"),
        ("Name", "Weld 2-3"),
    ]


def test_what_nobody_typed_is_not_told() -> None:
    assert typed_in_words([("shown", "{}"), ("key-3", "rad"), ("run", "7"), ("notes", " ")]) == []

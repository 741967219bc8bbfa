"""Things made by naming them: offered once for all that name them, made where that is ticked."""

from webapp.build.build_input import Subsystem
from webapp.pages.forms.new_things import NewThings
from webapp.pages.forms.typed_form import TypedForm

SUBSYSTEMS = (
    Subsystem(key="breath", name="Air and exhaust"),
    Subsystem(key="cool", name="Coolant"),
)


def read(form: TypedForm) -> tuple[NewThings, list[str | None]]:
    things = NewThings.of(form, "subsystem", SUBSYSTEMS)
    keys = [things.key_of(form, f"subsystem-{row}") for row in form.row_numbers("subsystem")]
    things.offer(form)
    return things, keys


def typed(*names: str, **more: str) -> TypedForm:
    fields = {f"subsystem-{row}": [name] for row, name in enumerate(names)}
    return TypedForm(fields | {name: [text] for name, text in more.items()})


def test_five_rows_that_name_a_new_thing_are_one_question() -> None:
    form = typed("Hydraulics", "coolant", " hydraulics", "HYDRAULICS", "", "Hydraulics")
    things, keys = read(form)
    assert keys == [None, "cool", None, None, None, None]
    assert [(fault.field, fault.text) for fault in form.faults] == [
        (
            "subsystem-0",
            "There is no subsystem “Hydraulics” yet; 4 rows name it. Tick that it is to be made, or"
            " type another.",
        )
    ]
    assert [(offer.name, offer.ticked) for offer in form.offers] == [("Hydraulics", False)]
    assert not things.made


def test_what_is_ticked_is_made_once_and_stays_ticked_while_another_is_asked_about() -> None:
    offer = typed("Hydraulics")
    read(offer)
    field = offer.offers[0].field
    form = typed("hydraulics", "Hydraulics", "Gas", **{field: "Hydraulics"})
    things, keys = read(form)
    assert keys == ["hydraulics", "hydraulics", None]
    assert [new.key for new in things.made.values()] == ["hydraulics"]
    assert [(each.name, each.ticked) for each in form.offers] == [
        ("Gas", False),
        ("hydraulics", True),
    ]
    assert len(form.faults) == 1


def test_part_of_a_name_is_a_new_name_and_asks_whether_the_other_was_meant() -> None:
    form = typed("Air")
    _, keys = read(form)
    assert keys == [None]
    assert form.faults[0].text.endswith("Or did you mean “Air and exhaust”?")

"""Setups and stations that tasks name by typing: made with their hours, counted where typed."""

from tests.pages.form_build import small_build
from webapp.build.build_input import StationNeed
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks.named_things import NamedThings, stations_text
from webapp.pages.tasks.quick_entry import enter_rows


def entered(**fields: str) -> TypedForm:
    """A form with one row."""
    row = {"name-0": "Bend the tubes", "likely-0": "2", "needed-0": "on"}
    typed = row | {name.replace("__", "-"): text for name, text in fields.items()}
    return TypedForm({name: (text,) for name, text in typed.items()})


def test_a_setup_made_by_naming_it_has_the_hours_typed_beside_its_offer() -> None:
    form = entered(setup__0="Tube roller")
    assert enter_rows(form, small_build()).made
    (offer,) = form.offers
    assert offer.hours_field.startswith("make_setup_hours-")
    typed = {name: given[-1] for name, given in form.values.items()}
    again = TypedForm(
        {n: (t,) for n, t in {**typed, offer.field: offer.name, offer.hours_field: "0:45"}.items()}
    )
    build = enter_rows(again, small_build()).build
    assert again.faults == ()
    assert (build.shop.setups[-1].name, build.shop.setups[-1].hours) == ("Tube roller", 0.75)
    assert again.offers[0].hours == "0:45"


def test_hours_of_a_setup_that_can_not_be_read_are_a_fault_with_its_name() -> None:
    form = entered(setup__0="Tube roller")
    enter_rows(form, small_build())
    offer = form.offers[0]
    values = {**form.values, offer.field: (offer.name,), offer.hours_field: ("a while",)}
    again = TypedForm(values)
    enter_rows(again, small_build())
    assert [fault.text.partition(":")[0] for fault in again.faults] == [
        "Tube roller, hours to get it out"
    ]


def test_a_station_takes_a_count_however_the_times_sign_is_typed() -> None:
    for typed in ("Stand x 2", "Stand \u00d72", "stand * 2 ; Vice"):
        form = entered(stations__0=typed)
        enter_rows(form, small_build())
        ticked = {offer.field: (offer.name,) for offer in form.offers}
        again = TypedForm({**form.values, **ticked})
        build = enter_rows(again, small_build()).build
        assert again.faults == (), typed
        stand = next(one for one in build.shop.stations if one.name.casefold() == "stand")
        assert stand.count == 2  # as many as the task needs
        task = build.tasks[-1]
        assert task.stations[0] == StationNeed(station=stand.key, count=2)
        assert stations_text(build, task).startswith(f"{stand.name} \u00d7 2")
        shown = TypedForm({"stations": (stations_text(build, task),)})
        read = NamedThings.of(shown, build).stations_of(shown, "stations", task)
        assert read == task.stations

"""The first tasks of an empty build: its subsystems are offered, and made by naming them."""

import html

from tests.pages.conftest import Shop


def test_an_empty_build_is_offered_the_usual_subsystems_and_gets_what_is_named(bare: Shop) -> None:
    bare.client.post("/builds/new", data={"name": "The Gull"})
    for page in ("tasks", "tasks/new"):
        text = html.unescape(bare.client.get(f"/builds/the-gull/{page}").text)
        assert '<option value="Coolant">' in text
        assert '<option value="Heat and A/C">' in text
    row = {"name-0": "Bleed it", "likely-0": "1", "subsystem-0": "coolant"}
    refused = bare.client.post("/builds/the-gull/tasks/new", data=row)
    assert refused.status_code == 422
    assert "There is no subsystem “coolant” yet" in html.unescape(refused.text)
    field = refused.text.split('name="make_subsystem-')[1].split('"')[0]
    row |= {f"make_subsystem-{field}": "coolant"}
    assert bare.client.post("/builds/the-gull/tasks/new", data=row).status_code == 200
    (made,) = bare.stored("the-gull").subsystems
    assert (made.name, made.medium, made.order) == ("Coolant", "water", 3)
    text = html.unescape(bare.client.get("/builds/the-gull/tasks").text)
    assert '<option value="Heat and A/C">' not in text

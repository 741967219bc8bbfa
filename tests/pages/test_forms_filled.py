"""The forms that are raced: as a page shows them, and filled so that each is taken."""

from tests.benchmarks.forms_filled import another, picked_from, with_one_changed
from tests.benchmarks.forms_found import Form, forms_in
from tests.benchmarks.races import NOT_RACED
from tests.pages.test_bad_requests import routes

PAGE = """
<button form="away" name="move" value="up">Up</button>
<form method="post" action="/save">
  <input type="hidden" name="once" value="t"><input name="size" value="7 mm">
  <select name="kind"><option value="">None</option><option value="hose">Hose</option></select>
  <input type="radio" name="way" value="week"><input type="radio" name="way" value="order">
  <input type="file" name="list" accept=".csv"><input type="file" name="shot" accept="image/*">
  <button>Save</button><button form="away" name="move" value="down">Down</button>
</form>
<form method="post" action="/move" id="away"></form>
"""
SAVE = Form(
    action="/save",
    fields=(("once", "t"), ("size", "7 mm"), ("kind", "")),
    typed=("size",),
    choices=(("kind", ("", "hose")), ("way", ("week", "order"))),
    pictures=("shot",),
)


def test_a_button_belongs_to_the_form_it_names_wherever_it_stands() -> None:
    save, *moves = forms_in(PAGE)
    assert save == SAVE
    assert [(form.action, form.sent) for form in moves] == [
        ("/move", {"move": ["up"]}),
        ("/move", {"move": ["down"]}),
    ]


def test_what_is_not_picked_is_picked_and_each_place_picks_another() -> None:
    assert picked_from(SAVE, 0).sent == {
        "once": ["t"],
        "size": ["7 mm"],
        "kind": ["hose"],  # of one, the first
        "way": ["order"],  # of two, the second: it stands in the second place
    }


def test_one_thing_of_a_form_is_changed_at_a_time_and_nothing_hidden() -> None:
    changed = [
        {name: new for name, new in form.fields if (name, new) not in SAVE.fields}
        for form in with_one_changed(SAVE)
    ]
    assert changed == [{"kind": "hose"}, {"way": "week"}, {"size": "8 mm"}]


def test_another_text_has_its_first_figure_one_more_or_a_word_more() -> None:
    assert [another(text) for text in ("09:30", "25.2 in", "by the door")] == [
        "10:30",
        "26.2 in",
        "by the door again",
    ]


def test_what_is_told_not_to_be_raced_is_there_and_writes() -> None:
    posted = {path for method, path in routes() if method == "POST"}
    assert {path.replace("{slug}", "the-heron") for path in NOT_RACED} <= posted

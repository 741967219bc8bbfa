"""What was shown, what was typed and what is stored now, brought together."""

import datetime as dt
from collections.abc import Mapping

from hypothesis import given
from hypothesis import strategies as st

from webapp.pages.forms.carried import read_carried, settled, text_of_carried
from webapp.pages.forms.settled_field import Settled
from webapp.pages.forms.shown import Rows, Shown

LINKS = Rows(stems=("before", "wait"), identity="before")


def fields(**texts: str) -> Shown:
    """A form with these texts; each stands for its own text in capitals."""
    shown = Shown()
    for name, text in texts.items():
        shown.add(name.replace("__", "-"), text, text.upper())
    return shown


def typed(**texts: str) -> dict[str, str]:
    return {name.replace("__", "-"): text for name, text in texts.items()}


def texts_of(out: Settled) -> dict[str, str]:
    return {name: given[-1] for name, given in out.texts.items()}


# single fields ------------------------------------------------------------------------------
def test_a_field_that_was_not_touched_means_what_is_stored_now() -> None:
    out = settled(typed(name="Weld"), typed(name="Weld"), fields(name="Weld it"))
    assert texts_of(out) == {"name": "Weld it"}
    assert out.exact == {"name": "WELD IT"}
    assert out.questions == {}


def test_a_field_that_was_changed_here_alone_is_as_typed() -> None:
    out = settled(typed(name="Weld it"), typed(name="Weld"), fields(name="Weld"))
    assert texts_of(out) == {"name": "Weld it"}
    assert out.exact == {}
    assert out.questions == {}


def test_a_field_that_both_changed_is_asked_about_with_both_values() -> None:
    out = settled(typed(name="Weld B"), typed(name="Weld"), fields(name="Weld A"))
    assert texts_of(out) == {"name": "Weld B"}
    assert "“Weld A” now, and you typed “Weld B”" in out.questions["name"]


def test_a_field_that_both_changed_alike_is_no_question() -> None:
    out = settled(typed(name="Weld A"), typed(name="Weld"), fields(name="Weld A"))
    assert out.exact == {"name": "WELD A"}
    assert out.questions == {}


def test_a_form_that_carries_nothing_writes_what_differs_from_what_is_stored() -> None:
    out = settled(typed(name="Weld it"), None, fields(name="Weld", note="x"))
    assert texts_of(out) == {"name": "Weld it", "note": "x"}
    assert out.questions == {}


def test_a_field_that_the_form_came_without_means_what_is_stored_now() -> None:
    was = typed(name="Weld", note="x")
    for now in ("x", "y"):
        out = settled(typed(name="Weld it"), was, fields(name="Weld", note=now))
        assert texts_of(out) == {"name": "Weld it", "note": now}
        assert out.exact == {"note": now.upper()}
        assert out.questions == {}


def test_a_box_left_out_was_unticked_only_where_the_form_showed_it_ticked() -> None:
    now = Shown().tick("helper", True)
    assert settled({}, {"helper": "on"}, now).texts == {"helper": ("",)}
    silent: dict[str, str] | None
    for silent in ({}, None):  # shown without a tick, and a form that does not say
        assert settled({}, silent, now).exact == {"helper": True}


def test_line_ends_and_spaces_at_the_ends_are_no_change() -> None:
    out = settled(
        typed(notes="one\r\ntwo "), typed(notes="one\ntwo"), fields(notes="one\ntwo\nthree")
    )
    assert out.exact == {"notes": "ONE\nTWO\nTHREE"}


# rows ---------------------------------------------------------------------------------------
def test_two_windows_that_add_different_rows_both_succeed() -> None:
    was = typed(before__0="A", wait__0="", before__1="")
    now = fields(before__0="A", wait__0="", before__1="B", wait__1="2", before__2="")
    out = settled({**was, **typed(before__1="C", wait__1="1")}, was, now, (LINKS,))
    said = texts_of(out)
    assert [said.get(f"before-{n}", "") for n in range(3)] == ["A", "B", "C"]
    assert [said.get(f"wait-{n}", "") for n in range(3)] == ["", "2", "1"]
    assert out.questions == {}


def test_a_row_taken_out_here_goes_and_one_taken_out_there_stays_out() -> None:
    was = typed(before__0="A", wait__0="", before__1="B", wait__1="", before__2="")
    now = fields(before__0="B", wait__0="", before__1="C", wait__1="", before__2="")
    out = settled({**was, **typed(before__1="")}, was, now, (LINKS,))
    said = texts_of(out)
    assert [text for name, text in said.items() if name.startswith("before") and text] == ["C"]
    assert out.questions == {}


def test_two_windows_may_change_two_fields_of_one_row() -> None:
    stems = Rows(stems=("before", "wait", "why"), identity="before")
    was = typed(before__0="A", wait__0="1", why__0="")
    now = fields(before__0="A", wait__0="5", why__0="")
    out = settled({**was, **typed(why__0="cure")}, was, now, (stems,))
    assert texts_of(out) == typed(before__0="A", wait__0="5", why__0="cure")
    assert out.exact["wait-0"] == "5"
    assert out.questions == {}


def test_a_cell_that_the_form_came_without_is_as_it_was() -> None:
    stems = Rows(stems=("before", "wait", "why"), identity="before")
    was = typed(before__0="A", wait__0="1", why__0="cure")
    sent = typed(before__0="A", wait__0="2")
    out = settled(sent, was, fields(before__0="A", wait__0="1", why__0="soak"), (stems,))
    assert texts_of(out) == typed(before__0="A", wait__0="2", why__0="soak")
    assert out.questions == {}


def test_a_box_in_a_row_left_out_was_unticked_only_where_the_form_showed_it() -> None:
    rows = Rows(stems=("opens", "helper"), identity="opens")
    now = Shown().text("opens-0", "18:00").tick("helper-0", True)
    sent = typed(opens__0="18:00")
    shown = settled(sent, typed(opens__0="18:00", helper__0="on"), now, (rows,))
    assert texts_of(shown) == typed(opens__0="18:00", helper__0="")
    assert settled(sent, None, now, (rows,)).exact["helper-0"] is True


def test_a_row_that_both_changed_is_asked_about() -> None:
    was = typed(before__0="A", wait__0="1")
    out = settled({**was, **typed(wait__0="3")}, was, fields(before__0="A", wait__0="5"), (LINKS,))
    assert "“5” now, and you typed “3”" in out.questions["before-0"]


def test_a_changed_row_that_is_gone_is_asked_about_and_kept() -> None:
    was = typed(before__0="A", wait__0="1", before__1="")
    out = settled({**was, **typed(wait__0="3")}, was, fields(before__0=""), (LINKS,))
    assert "“A” was taken out elsewhere meanwhile" in out.questions["before-0"]
    assert texts_of(out)["wait-0"] == "3"


def test_what_is_carried_comes_back() -> None:
    shown = fields(name="“Weld”\n<b>", notes="")
    assert read_carried(text_of_carried(shown.texts)) == {"name": "“Weld”\n<b>"}
    assert read_carried("") is None
    assert read_carried("[1") is None
    assert read_carried("[]") is None
    assert read_carried('{"a": 1, "b": "x"}') == {"b": "x"}


ROWS = st.dictionaries(st.sampled_from("ABCDE"), st.sampled_from(("", "1", "2")), max_size=4)


def _as_fields(rows: Mapping[str, str]) -> dict[str, str]:
    return {
        f"{stem}-{number}": text
        for number, row in enumerate(rows.items())
        for stem, text in zip(LINKS.stems, row, strict=True)
    }


@given(was=ROWS, here=ROWS, there=ROWS)
def test_what_only_one_window_changed_is_as_that_one_says(
    was: dict[str, str], here: dict[str, str], there: dict[str, str]
) -> None:
    """Row by row, by an independent rule: the three-way choice on plain dictionaries."""
    place = {key: number for number, key in enumerate(was)}
    free = iter(range(len(was), 20))
    posted = dict.fromkeys(_as_fields(was), "")
    for key, wait in here.items():
        number = place.get(key)
        if number is None:
            number = next(free)
        posted |= {f"before-{number}": key, f"wait-{number}": wait}
    now = Shown()
    for name, text in _as_fields(there).items():
        now.add(name, text, text)
    out = settled(posted, _as_fields(was), now, (LINKS,))
    said = texts_of(out)
    rows = {
        said[name]: said.get(name.replace("before", "wait"), "")
        for name in said
        if name.startswith("before") and said[name]
    }
    for key in {*was, *here, *there}:
        mine, theirs, before = here.get(key), there.get(key), was.get(key)
        if None not in (mine, theirs) and before is None:
            before = ""  # a row of the same thing was added in both: its fields are compared
        if mine in (before, theirs):
            assert rows.get(key) == theirs
        elif theirs == before:
            assert rows.get(key) == mine
        else:
            assert out.questions


# how both are said --------------------------------------------------------------------------
def test_what_a_list_offers_is_asked_about_by_its_name() -> None:
    names = {"electrical": "Wiring loom", "coolant": "Water"}
    now = Shown().choice("subsystem", "electrical", names.__getitem__)
    was = typed(subsystem="")
    out = settled(typed(subsystem="coolant"), was, now)
    assert "says “Wiring loom” now, and you typed “Water”" in out.questions["subsystem"]
    out = settled(typed(subsystem=""), typed(subsystem="coolant"), now)
    assert "you typed “none”" in out.questions["subsystem"]


def test_dates_are_asked_about_in_words_with_the_year_where_it_differs() -> None:
    now = Shown().date("promised_on", dt.date(2026, 12, 3))  # a Thursday
    out = settled(typed(promised_on="2026-12-04"), typed(promised_on=""), now)
    assert (
        "says “Thu 3 December” now, and you typed “Fri 4 December”" in out.questions["promised_on"]
    )
    out = settled(typed(promised_on="2027-01-04"), typed(promised_on=""), now)
    assert (
        "says “Thu 3 December 2026” now, and you typed “Mon 4 January 2027”"
        in out.questions["promised_on"]
    )


def test_in_a_row_too_the_words_of_the_list_are_said() -> None:
    group = Rows(stems=("name", "medium"), identity="name")
    media = {"air": "Air", "fuel": "Fuel", "oil": "Oil"}
    now = Shown().text("name-0", "Rail").choice("medium-0", "fuel", media.__getitem__)
    was = typed(name__0="Rail", medium__0="air")
    out = settled(typed(name__0="Rail", medium__0="oil"), was, now, (group,))
    assert "it says “Fuel” now, and you typed “Oil”" in out.questions["name-0"]

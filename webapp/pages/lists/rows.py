"""Rows of parts, of the log and of wishes: each is read by the form of its thing.

A question of such a form (is it right, is it another one, does the task stay finished?) is asked
once below the list, and told at the row that it is about.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput, Part
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited
from webapp.build.folded_name import folded_name
from webapp.exchange.csv_cells import split_names
from webapp.pages.forms.picking import Named, PickList, new_key
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.lists.kinds import Made, SentList, number_of
from webapp.pages.log.forms import with_entry
from webapp.pages.parts import forms as part_forms
from webapp.pages.wishes import forms as wish_forms
from webapp.pages.words import lists as words
from webapp.pages.words.quoted import shown

QUESTIONS = ("sure", "finished")
"""Fields of a form that ask; their answers are given once, below the list."""
YES_WORDS = frozenset({"yes", "y", "x", "true", "1", "on"})
NO_WORDS = frozenset({"", "no", "n", "false", "0", "off"})
RowReader = Callable[[TypedForm, Mapping[str, str], BuildInput], tuple[BuildInput, str]]
"""What a row makes of a build, and the key of what was made."""


def take_parts(form: TypedForm, sent: SentList, build: BuildInput) -> Edited[Made]:
    """Enter every row as a part; one of which nothing but the name was known is filled in."""
    picks = PickList.of("task", build.tasks)
    bare = {folded_name(part.name): part.key for part in build.parts if _is_bare(part)}
    names = {folded_name(part.name) for part in build.parts}

    def read(row: TypedForm, said: Mapping[str, str], now: BuildInput) -> tuple[BuildInput, str]:
        row.put("arrived", "on" if ticked(row, "arrived", words.ARRIVED) else "")
        folded = folded_name(row.typed("name"))
        known = find_by_key(now.parts, bare.pop(folded, None))
        if known is None and folded in names and not row.ticked("sure"):
            row.fault("sure", words.part_again(shown(row.typed("name"))))
        for place, name in enumerate(split_names(said.get("serves", ""))):
            row.put(f"serves-{place}", name)
        offset = len(split_names(said.get("serves", "")))
        for place, key in enumerate(known.serves if known else ()):
            row.put(f"serves-{offset + place}", picks.label(key))
        part = part_forms.entered(row, now, known or part_forms.NEW, picks)
        if known is not None:
            return replace(now, parts=replaced_by_key(now.parts, part)), part.key
        key = new_key(part.name, {each.key for each in now.parts})
        return replace(now, parts=(*now.parts, replace(part, key=key))), key

    return _taken(form, sent, build, read)


def take_log(form: TypedForm, sent: SentList, build: BuildInput) -> Edited[Made]:
    """Enter every row as hours that were worked."""
    picks = PickList.of("task", build.tasks)

    def read(row: TypedForm, _said: Mapping[str, str], now: BuildInput) -> tuple[BuildInput, str]:
        after = with_entry(row, now, None, picks=picks)
        return after, str(len(after.log))

    return _taken(form, sent, build, read)


def take_wishes(form: TypedForm, sent: SentList, build: BuildInput) -> Edited[Made]:
    """Enter every row as a wish that is not decided."""
    tasks = PickList.of("task", build.tasks)
    named: tuple[tuple[str, Iterable[Named]], ...] = (
        ("subsystem", build.subsystems),
        ("setup", build.shop.setups),
        ("size", build.wish_sizes),
    )
    picks = {what: PickList.of(words.NOUNS.get(what, what), things) for what, things in named}
    undecided = {folded_name(one.text) for one in build.wishes if one.decision is None}

    def read(row: TypedForm, said: Mapping[str, str], now: BuildInput) -> tuple[BuildInput, str]:
        if folded_name(row.typed("text")) in undecided and not row.ticked("sure"):
            row.fault("sure", words.wish_again(shown(row.typed("text"))))
        on = row.date("on", "Logged on") or now.now.date()
        if on > now.now.date():
            row.fault("on", words.LOGGED_LATER)
        for what, pick in picks.items():
            key = pick.exactly(said.get(what, ""))
            if key is None and said.get(what, "").strip():
                row.fault(what, words.not_there(pick.what, shown(said[what])))
            row.put(what, key or "")
        _put_wish_parts(row, said)
        after = wish_forms.entered(row, now, tasks, min(on, now.now.date()))
        return after, after.wishes[-1].key

    return _taken(form, sent, build, read)


def _taken(form: TypedForm, sent: SentList, build: BuildInput, read: RowReader) -> Edited[Made]:
    """The build with every row; faults stand at the line they are about, questions once more."""
    made, asked = [], set()
    for line in sent.lines:
        said, number = sent.cells(line), number_of(line)
        row = TypedForm({field: [text] for field, text in said.items()})
        for question in QUESTIONS:
            row.put(question, form.typed(question))
        build, key = read(row, said, build)
        made.append((number, key))
        for fault in row.faults:
            form.fault(f"line-{number}", fault.text)
            asked.add(fault.field)
    for question in QUESTIONS:
        if question in asked:
            form.fault(question, words.ASKED[question])
    return Edited(build=build, made=tuple(made))


def _is_bare(part: Part) -> bool:
    """Whether nothing is known of a part but its name, and the tasks that need it."""
    return part == Part(key=part.key, name=part.name, serves=part.serves)


def ticked(row: TypedForm, field: str, label: str) -> bool:
    """Whether a cell says yes; what says neither yes nor no is a fault."""
    word = row.typed(field).strip().casefold()
    if word not in YES_WORDS | NO_WORDS:
        row.fault(field, words.neither_yes_nor_no(label, shown(word)))
    return word in YES_WORDS


def _put_wish_parts(row: TypedForm, said: Mapping[str, str]) -> None:
    """The parts of a wish, with as many lead times and costs as there are of them, or none."""
    names = split_names(said.get("parts", ""))
    for place, name in enumerate(names):
        row.put(f"part-{place}", name)
    for cell, field in (("part_days", "part_days"), ("part_costs", "part_cost")):
        numbers = [text.strip() for text in said.get(cell, "").split(";") if text.strip()]
        if numbers and len(numbers) != len(names):
            row.fault(cell, words.as_many(len(numbers), len(names)))
        for place, text in enumerate(numbers[: len(names)]):
            row.put(f"{field}-{place}", text)

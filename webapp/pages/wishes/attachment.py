"""Whether a wish can stand where it is to be attached: loops, tasks that are finished or gone."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.precedence import loops_of
from webapp.build.verbs.wish_tasks import with_wish
from webapp.build.wish import Wish, WishWay
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_fields import FieldFault
from webapp.pages.words.faults import said
from webapp.pages.words.quoted import shown

ADDING_WAYS: tuple[WishWay, ...] = ("fit now", "rough in", "fit later")


def attachment_faults(build: BuildInput, wish: Wish) -> tuple[FieldFault, ...]:
    """What stands in the way of a wish, each beside its field; () where it can be priced."""
    tasks = {task.key: task for task in build.tasks}
    found = []
    for field, key, words in (("after", wish.after, "after"), ("before", wish.before, "before")):
        if key is None:
            continue
        task = tasks.get(key)
        if task is None:
            text = f"It is to come {words} “{shown(key)}”, which is no task any more. Pick another."
        elif task.finished_on is not None:
            rest = (
                "Leave this empty: it can start at once."
                if field == "after"
                else "Pick one that is still to be done, or leave this empty."
            )
            text = f"It is to come {words} “{shown(task.name)}”, which is finished. {rest}"
        elif task.set_aside_on is not None:
            text = (
                f"It is to come {words} “{shown(task.name)}”, which is set aside."
                " Pick one that is open, or leave this empty."
            )
        else:
            continue
        found.append(FieldFault(field=field, text=text))
    if wish.after is not None and wish.after == wish.before:
        name = tasks[wish.after].name if wish.after in tasks else wish.after
        text = f"It can not come both after and before “{shown(name)}”. Take one of them out."
        found.append(FieldFault(field="before", text=text))
    return tuple(found) or _faults_in_the_build(build, wish)


def _faults_in_the_build(build: BuildInput, wish: Wish) -> tuple[FieldFault, ...]:
    """What the ways would bring into the build: a loop in words of the wish, all else as it is."""
    others = tuple(each for each in build.wishes if each.key != wish.key)
    build = replace(build, wishes=(*others, wish))
    ways = {way: with_wish(build, wish, way) for way in ADDING_WAYS}
    faults = {way: faults_of(changed) for way, changed in ways.items()}
    known = frozenset(faults_of(build)) if any(faults.values()) else frozenset()
    found: dict[FieldFault, None] = {}
    for way, changed in ways.items():
        new = [fault for fault in faults[way] if fault not in known]
        if not new:
            continue
        field = "after" if wish.after is not None else "before"
        loops = loops_of(changed) if any(f.kind == "dependency" for f in new) else ()
        if loops:
            names = PickList.of("task", changed.tasks)
            circle = ", then ".join(f"“{shown(names.label(key))}”" for key in loops[0])
            text = (
                f"To {way} would go round in a circle: {circle}. What it comes after itself"
                " waits for what it comes before. Pick another task for one of the two."
            )
            return (FieldFault(field=field, text=text),)
        for fault in new:
            found[FieldFault(field="", text=said(fault))] = None
    return tuple(found)

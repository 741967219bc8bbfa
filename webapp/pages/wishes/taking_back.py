"""Taking a decision back: what goes with it is what the page showed, or it is asked again."""

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.verbs.wish_decisions import take_back
from webapp.build.wish import Wish
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit


def going_with_decision(build: BuildInput, wish: Wish) -> tuple[GoesWith, ...]:
    """The decision and the tasks that it made, which go with it."""
    decision = GoesWith(name="decision", state=wish.decision, now=f"“{wish.text}” was decided anew")
    tasks = (
        GoesWith(name=f"task {task.key}", state=task, now=f"its task “{task.name}” was changed")
        for task in build.tasks
        if task.wish == wish.key
    )
    return decision, *tasks


def take_back_decision(key: str) -> FormEdit[None]:
    """The edit that undoes a decision, or says why it can not be undone."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        wish = find_by_key(build.wishes, key)
        if wish is None:
            return Edited(build=build, made=None, lost=Lost(kind="wish", key=key))
        if wish.decision is None:
            form.fault("", f"“{wish.text}” is not decided, so there is nothing to take back.")
            return Edited(build=build, made=None)
        after = take_back(build, wish)
        if after is not None and not is_as_asked(form, going_with_decision(build, wish)):
            return Edited(build=build, made=None)
        if after is None:
            form.fault(
                "",
                f"“{wish.text}” can not be taken back: work on it is begun. Set what is left of it"
                " aside on its task, if it is not to go on.",
            )
        return Edited(build=after or build, made=None)

    return edit

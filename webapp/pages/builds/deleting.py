"""Deleting a build: what goes with it, and whether that is what was asked about."""

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words import amounts as words


def goes_with_build(build: BuildInput, revision: int) -> tuple[GoesWith, ...]:
    """What is lost with a build; the number of its last change stands for what is not named."""
    changed = GoesWith(name="revision", state=revision, now="something in it was changed")
    return (*_named(build), changed)


def _named(build: BuildInput) -> tuple[GoesWith, ...]:
    hours = words.hours(sum(entry.bench_hours for entry in build.log))
    on_bench = "nothing is on the bench any more"
    if build.on_bench is not None:
        task = find_by_key(build.tasks, build.on_bench.task)
        on_bench = f"“{task.name}” is on the bench now, its clock runs" if task else on_bench
    lists = (
        ("tasks", "task", tuple(task.key for task in build.tasks)),
        ("parts", "part", tuple(part.key for part in build.parts)),
        ("photographs", "photograph", tuple((p.task, p.digest) for p in build.photographs)),
        ("wishes", "wish", tuple(wish.key for wish in build.wishes)),
    )
    plurals = {"wish": "wishes"}
    return (
        *(
            GoesWith(
                name=name,
                state=keys,
                now=f"it has {words.count(len(keys), one, plurals.get(one))} now",
            )
            for name, one, keys in lists
        ),
        GoesWith(name="log", state=build.log, now=f"{hours} are logged in it now"),
        GoesWith(name="clock", state=build.on_bench, now=on_bench),
    )


def may_be_deleted(form: TypedForm, build: BuildInput, revision: int) -> bool:
    """Whether the build is what was asked about; if not, what came since is a fault."""
    if not is_as_asked(form, _named(build)):
        return False
    return is_as_asked(form, goes_with_build(build, revision))

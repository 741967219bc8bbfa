"""How the figures of the record were worked out where earlier builds are heard, or hours taken."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.earlier_record import EarlierRecord
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How, factor, percent
from webapp.pages.words.quoted import shown

TIMES_ONE = "\N{MULTIPLICATION SIGN} 1"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnTasks:
    """What the tasks of one kind say in this build; `put_right`: with what few read too low."""

    count: int
    actual: float
    expected: float
    put_right: float


def heard_factor_how(
    name: str,
    *,
    earlier: int,
    own: OwnTasks | None,
    rest: float,
    weight: float,
    told: float,
    is_of_hours_taken: bool = False,
    is_heard: bool = True,
) -> How:
    """The factor of a kind of work; `rest` is what all else says of it, `weight` how far its own
    tasks are believed against that. `earlier` tasks of it were in earlier builds, where any are
    heard."""
    before = "Earlier builds have no such work; what they have in common is taken for it."
    if earlier:
        before = f"Earlier builds had {words.count(earlier, 'task')} of it."
    elif not is_heard:
        before = "Tasks whose hours were once taken stand apart."
    if is_of_hours_taken:
        before = (
            "These hours are what the same work took in an earlier build, so your factor is in them"
            " already and is not put on them again."
        )
    if own is None:
        return How(
            figures=("factor",),
            of=name,
            sentences=(
                f"{before} With all else that the records say, and as builds of one person differ,"
                f" this build begins with less than all of it: {factor(told)}.",
            ),
        )
    return How(
        figures=("factor",),
        of=name,
        sentences=(
            before,
            f"Here {words.count(own.count, 'task')}: {words.tenth_hours(own.actual)} worked over"
            f" {words.tenth_hours(own.expected)} expected is {factor(own.actual / own.expected)},"
            f" {factor(own.put_right)} with what so few tasks read too low put back. That is"
            f" believed to {percent(weight)}; the rest follows all else that the records say of it,"
            f" {factor(rest)}: {factor(told)}.",
        ),
    )


def heard_level_how(*, earlier: int, count: int, told: float) -> How:
    """The level of all work, earlier builds heard."""
    return How(
        figures=("level",),
        of="the level",
        sentences=(
            f"{words.count(earlier, 'task')} of earlier builds and {words.count(count, 'task')} of"
            f" this one, each kind counted by how sure it is, drawn toward {TIMES_ONE} as one in"
            " three builders is off by more than a third. Four fifths of that spread are the"
            " builder's and one fifth is each build's own (common practice, no source), so the"
            f" records of other builds are believed in part, and this one's own takes over: "
            f"{factor(told)}.",
        ),
    )


def taken_how(*, count: int, told: float) -> How:
    """Work at hours that were once taken."""
    of = f"{words.count(count, 'task')} of this build say{'s' if count == 1 else ''}"
    of = of if count else "Nothing says yet"
    return How(
        figures=("level",),
        of="hours once taken",
        sentences=(
            "Hours that the same work took in an earlier build hold your factor already. They begin"
            f" at {TIMES_ONE}, whatever your estimates are off by. {of} how far this build differs"
            f" from that one: {factor(told)}.",
        ),
    )


def heard_attendance_how(
    records: Sequence[EarlierRecord],
    *,
    begins: float,
    worked: float,
    workable: float,
    weeks: int,
    told: float,
) -> How:
    """Attendance, earlier builds heard; `begins` is what they say before this build's own weeks."""
    theirs = words.listed(
        [
            f"{shown(each.name)} {words.tenth_hours(each.worked_hours)} of"
            f" {words.tenth_hours(each.workable_hours)} in {words.count(each.weeks, 'week')}"
            for each in records
        ]
    )
    own = f"No full week of this build has gone by yet: {percent(told)}."
    if weeks and workable:
        own = (
            f"Here {words.tenth_hours(worked)} worked of {words.tenth_hours(workable)} that could"
            f" be worked in {words.count(weeks, 'full week')} is {percent(worked / workable)}; the"
            f" more weeks, the more it counts: {percent(told)}."
        )
    return How(
        figures=("attendance",),
        of="attendance",
        sentences=(
            f"Worked in earlier builds: {theirs}. Drawn toward all of them as with any few weeks,"
            " and half of the way because evenings change from build to build (common practice, no"
            f" source), this build begins with {percent(begins)}.",
            own,
        ),
    )

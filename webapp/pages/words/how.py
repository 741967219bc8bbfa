"""How each figure was worked out: a sentence or two with its own numbers in it.

One function for each kind of figure, of plain numbers and words; the same sentence wherever the
figure stands. `figure` of a `How` is the kind, which templates mark figures with.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.pages.words import amounts as words
from webapp.pages.words.the_end import the_end

TIMES = "\N{MULTIPLICATION SIGN}"


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """How the figures of some kinds were worked out, and what they are called."""

    figures: tuple[str, ...]
    of: str
    sentences: tuple[str, ...]


def together(of: str, *parts: How) -> How:
    """Several as one: one thing to open for figures that stand together."""
    return How(
        figures=tuple(dict.fromkeys(kind for part in parts for kind in part.figures)),
        of=of,
        sentences=tuple(text for part in parts for text in part.sentences),
    )


# --- dates ----------------------------------------------------------------------------------


def likely_how(
    *,
    day: str,
    reached: int,
    draws: int,
    level: float,
    attendance: float,
    last: float,
    whose: str = "",
) -> How:
    """The likely date. `reached`: of the draws, those that have come by that day.

    `level` is the factor of all work, `last` the one that brings the plan onto the middle draw;
    `whose` are the earlier builds' records that are heard.
    """
    heard = f" Both are of your own record with {whose} beside it." if whose else ""
    return How(
        figures=("likely",),
        of="the likely date",
        sentences=(
            f"Likely, {day}, is where the plan ends at your own pace: estimated hours times the"
            f" factor of their kind ({factor(level)} over all your work), over the"
            f" {percent(attendance)} of workable hours that you work, times {last:.2f} so that it"
            f" ends on the day of the middle draw.{heard}",
            f"{reached:,} of {draws:,} draws reach {the_end()} by then.",
        ),
    )


def firm_how(*, day: str, reached: int, draws: int, confidence: float) -> How:
    """The firm date."""
    wanted = round(confidence * draws)
    return How(
        figures=("firm",),
        of="the firm date",
        sentences=(
            f"Firm, {day}, is the first day by which {wanted:,} of {draws:,} draws reach"
            f" {the_end()}: {words.odds(confidence)}. By its end {reached:,} have.",
        ),
    )


def headroom_how(
    *,
    wanted: str,
    open_hours: float,
    needed_hours: float,
    confidence: float,
    attendance: float,
    headroom: float,
) -> How:
    """Headroom, in shop hours."""
    spare = open_hours - needed_hours
    return How(
        figures=("headroom",),
        of="headroom",
        sentences=(
            f"The shop is open {words.tenth_hours(open_hours)} from now to the end of {wanted};"
            f" {words.odds(confidence)} draws need {words.tenth_hours(needed_hours)} of them at"
            f" most. What is left, {words.tenth_hours(spare)}, times the {percent(attendance)} of"
            f" workable hours that you work is {words.tenth_hours(headroom)}.",
        ),
    )


def chances_how(*, day: str, reached: int, draws: int) -> How:
    """The chances, with one of them as an example."""
    return How(
        figures=("chances",),
        of="the chances",
        sentences=(
            f"Each of {draws:,} draws takes the hours of every task anew between “if all goes"
            " well” and “if it fights you”, and your factors as unsure as they are, and runs the"
            f" whole order with them. {reached:,} of the {draws:,} reach {the_end()} by the end"
            f" of {day}.",
        ),
    )


# --- the path -------------------------------------------------------------------------------


def made_of_how(parts: Sequence[tuple[str, str]], whole: str) -> How:
    """What the time until first start is made of: names and days that sum to the whole."""
    sums = " + ".join(days for _, days in parts)
    return How(
        figures=("made-of",),
        of="what the time is made of",
        sentences=(
            f"The path is walked from now to {the_end()}, and every moment counts once, for what"
            f" the path stood at: {sums} = {whole} days, but for rounding.",
        ),
    )


def order_by_how(name: str, *, here_by: str, lead_days: float, order_by: str) -> How:
    """Order-by dates, with one part as an example."""
    return How(
        figures=("order-by",),
        of="the order-by dates",
        sentences=(
            f"“{name}” must be here by {here_by}, the latest arrival that does not move"
            f" {the_end()} with all else as planned; less {words.days(lead_days)} of lead time, in"
            f" whole days, that is {order_by}.",
        ),
    )


def pace_hours_how(
    name: str,
    *,
    expected: float,
    paced: float,
    of_kind: float,
    attendance: float,
    last: float,
    is_stretched: bool,
) -> How:
    """Hours of the job order, with one task as an example.

    `is_stretched` is False for work in one go or with the helper: attendance leaves its hours.
    """
    head = f"“{name}”: {words.tenth_hours(expected)} expected to go, times {of_kind:.2f}"
    told = words.tenth_hours(paced)
    own = f"{head}, is {told}: work in one go or with the helper is not stretched further."
    if is_stretched:
        own = f"{head}, over {percent(attendance)}, times {last:.2f}, is {told}."
    return How(
        figures=("pace",),
        of="the hours",
        sentences=(
            "Hours stand at your own pace: expected hours, (well + 4 likely + fights) / 6, times"
            " the factor of their kind, over the share of workable hours that you work, times one"
            " factor that brings the plan onto the likely day.",
            own,
        ),
    )


# --- the record -----------------------------------------------------------------------------


def factor_how(
    name: str,
    *,
    count: int,
    actual: float,
    expected: float,
    level: float,
    weight: float,
    told: float,
) -> How:
    """The factor of one kind of work; `weight` is how far its own record is believed."""
    own = actual / expected
    put_right = level * (told / level) ** (1 / weight)
    return How(
        figures=("factor",),
        of=name,
        sentences=(
            f"{words.count(count, 'task')}: {words.tenth_hours(actual)} worked over"
            f" {words.tenth_hours(expected)} expected is {factor(own)},"
            f" {factor(put_right)} with what so few tasks read too low put back. That is believed"
            f" to {percent(weight)}, the rest follows the level of all your work,"
            f" {factor(level)}: {factor(told)}.",
        ),
    )


def level_how(*, count: int, kinds: int, told: float) -> How:
    """The level of all work."""
    return How(
        figures=("level",),
        of="the level",
        sentences=(
            f"The mean of {words.count(kinds, 'kind')} of work, {words.count(count, 'task')} in"
            " all, each counted by how sure it is, drawn toward"
            f" {TIMES} 1 as one in three builders is off by more than a third: {factor(told)}.",
        ),
    )


def attendance_how(*, worked: float, workable: float, weeks: int, told: float) -> How:
    """Attendance: hours worked over hours that could be worked."""
    if not weeks or not workable:
        return How(
            figures=("attendance",),
            of="attendance",
            sentences=(
                "No full week with hours that could be worked has gone by yet: the forecast takes"
                f" {percent(told)} of them as worked.",
            ),
        )
    return How(
        figures=("attendance",),
        of="attendance",
        sentences=(
            f"{words.tenth_hours(worked)} worked of {words.tenth_hours(workable)} that could be"
            f" worked in {words.count(weeks, 'full week')} is {percent(worked / workable)}, drawn"
            f" toward all of them the more, the fewer the weeks: {percent(told)}.",
        ),
    )


# --- the week -------------------------------------------------------------------------------


def week_hours_how(*, promised: float, workable: float, worked: float, lost: float) -> How:
    """The hours of a week sheet."""
    return How(
        figures=("hours",),
        of="the hours",
        sentences=(
            f"The shop week and its exceptions had {words.hours(promised)} open up to now. In"
            f" {words.hours(workable)} of them a task that {the_end()} needs could be worked: what"
            " comes before it done, parts and helper there, by the facts as they were. The time"
            f" log has {words.hours(worked)}; lost is what could be worked less what was, day by"
            f" day: {words.hours(lost)}.",
            "Estimates are expected hours, (well + 4 likely + fights) / 6; off by is the hours of"
            " a finished task over its estimate, less one.",
        ),
    )


def bridge_how(shares: Sequence[str], total: str) -> How:
    """The shares of the bridge, in words, and their sum."""
    return How(
        figures=("bridge",),
        of="the bridge",
        sentences=(
            "The earlier plan is replayed with every set of causes, and each cause gets the mean"
            " of what it adds over all orders in which they could come (its Shapley value), so"
            f" that they sum to the move: {'; '.join(shares) or 'nothing'}; together {total}.",
        ),
    )


def scope_how(*, added: float, baseline: float, growth: float) -> How:
    """Scope growth."""
    return How(
        figures=("scope",),
        of="scope growth",
        sentences=(
            f"{words.tenth_hours(added)} expected of tasks that are not in the first plan, over"
            f" its {words.tenth_hours(baseline)}: {words.number(growth * 100, 1)} %.",
        ),
    )


def dipstick_how(
    *, left: float, taken: float, hours_a_day: float, won: Sequence[tuple[str, float]]
) -> How:
    """The dipstick: what is left and what took the rest; `won` are causes that gave hours back.

    `hours_a_day` is what a day of the bridge counts, 0 where no bridge stands behind it.
    """
    full, causes = left + taken, ""
    if hours_a_day:
        causes = (
            " The other causes are their days of the bridge since the baseline, as Week has them,"
            f" at {words.tenth_hours(hours_a_day)} of shop a day times attendance."
        )
    gave = [f"{name} gave back {words.tenth_hours(hours)}" for name, hours in won]
    return How(
        figures=("dipstick",),
        of="the dipstick",
        sentences=(
            f"The stick is {words.tenth_hours(full)} long: {words.tenth_hours(left)} left, and"
            f" {words.tenth_hours(taken)} taken. An accepted wish takes the expected hours of its"
            f" tasks before {the_end()}.{causes}",
            *([f"{words.sentence(words.listed(gave))}."] if gave else []),
            "How headroom is worked out stands at the top of the page.",
        ),
    )


def took_how(*, draws: int) -> How:
    """What a decided wish was said to cost and really took."""
    return How(
        figures=("took", "move"),
        of="said and really",
        sentences=(
            f"Said is the mean move over {draws:,} draws on the day it was decided. Really is the"
            f" same question asked today: {the_end()} with the wish and without it, over as many"
            " draws. The days since it was decided are taken as they went, without the wish with"
            " its hours free for other work: hours worked while everything else waited take no"
            " days. Hours are those worked and those left.",
        ),
    )


# --- small words ----------------------------------------------------------------------------


def factor(value: float) -> str:
    """A factor, with the sign of multiplication before it."""
    return f"{TIMES} {value:.2f}"


def percent(share: float) -> str:
    """A share of a hundred: "82 %"."""
    return f"{share * 100:.0f} %"

"""How moves of first start were worked out: of a change, a wish, a task, a lever, a house rule."""

from collections.abc import Sequence

from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.moves import STEPS
from webapp.pages.words.the_end import capital_end, the_end
from webapp.planning.chances.moves import ABOUT_FROM_DAYS, ERRORS_OF_NOTHING, Move


def move_sentences(move: Move, *, subject: str = "") -> tuple[str, ...]:
    """The mean of a move over its draws, how sure that is, and how many draws move."""
    head = f"{subject}: the" if subject else "The"
    said = [
        f"{head} mean over the same {move.draws:,} draws, with and without, is"
        f" {_days_aside(move.mean_days)}, standard error {_hundredths(move.error_days)} days;"
        f" {_moved(move)}."
    ]
    if not move.is_some and move.mean_days:
        said.append(f"Below {ERRORS_OF_NOTHING:.0f} standard errors it is told as none.")
    elif move.is_about:
        said.append(f"With a standard error above {ABOUT_FROM_DAYS} days it says “about”.")
    return tuple(said)


def move_how(move: Move) -> How:
    """The move in the notice after a change."""
    return How(figures=("move",), of="the move", sentences=move_sentences(move))


def ways_how(ways: Sequence[tuple[str, float, float, float]], *, draws: int) -> How:
    """The four ways of a wish: name, days told, standard error, share of the draws moved."""
    moves = tuple(
        f"{name}: the mean over the same {draws:,} draws, with the wish and without, is"
        f" {_days_aside(days)}, standard error {_hundredths(error)} days;"
        f" {round(share * draws):,} of {draws:,} draws move."
        for name, days, error, share in ways
    )
    return How(
        figures=("move", "likely", "firm", "headroom", "hours"),
        of="the four ways",
        sentences=(
            *moves,
            f"Below {ERRORS_OF_NOTHING:.0f} standard errors a move is told as none. Fit later and"
            f" let go leave {the_end()} where it is: work that it does not need never delays it.",
            "Likely, firm and headroom are worked out with the wish in the build, as at the top"
            " of the page; hours are (well + 4 likely + fights) / 6 of every task it brings.",
        ),
    )


def levers_how(name: str, move: Move) -> How:
    """What would win a week, with the first line as an example."""
    return How(
        figures=("lever",),
        of="what would win a week",
        sentences=(
            "Every line is tried on this build, one at a time, and firm is worked out anew with"
            " it.",
            *move_sentences(move, subject=f"“{name}”"),
        ),
    )


def costs_how(name: str, move: Move, float_hours: float) -> How:
    """What each task costs, and its float, with the dearest task as an example."""
    return How(
        figures=("cost", "float", "chances"),
        of="what each task costs",
        sentences=(
            "The build is run with the task and as if it were not there.",
            *move_sentences(move, subject=f"“{name}”"),
            f"Its float, {words.tenth_hours(float_hours)}, is the latest end that dependencies,"
            " waits and arrivals leave it less the earliest, with hands without number.",
        ),
    )


def rules_how(name: str, move: Move) -> How:
    """The price of the house rules, with one as an example; `move` without the rule."""
    return How(
        figures=("rule",),
        of="the price of the rules",
        sentences=(
            "The build is run by all house rules and without the one; later without it is what"
            " the rule saves.",
            *move_sentences(move, subject=f"Without “{name}”"),
            f"{capital_end()} without a rule is the day by which half of the draws have come"
            f" then; the price is their mean. {STEPS}",
        ),
    )


def order_how(subject: str, move: Move) -> How:
    """What a kept or found order gains."""
    return How(
        figures=("move",),
        of="what the order gains",
        sentences=move_sentences(move, subject=subject),
    )


def _moved(move: Move) -> str:
    later, earlier = round(move.later_share * move.draws), round(move.earlier_share * move.draws)
    if not later and not earlier:
        return "no draw moves"
    sides = [f"{later:,} later"] * bool(later) + [f"{earlier:,} earlier"] * bool(earlier)
    return f"of {move.draws:,} draws {words.listed(sides)}"


def _days_aside(days: float) -> str:
    text = words.number(abs(days))
    if text == "0":
        return "0 days"
    return f"{text} days {'later' if days > 0 else 'earlier'}"


def _hundredths(days: float) -> str:
    return words.number(days, 3 if 0 < days < 0.01 else 2)

"""The waits of the path in words: short ones for the picture, what would shorten each."""

from webapp.pages.words import amounts as words
from webapp.pages.words.moves import gain_words
from webapp.pages.words.reasons import ReasonWords
from webapp.pages.words.the_end import the_end
from webapp.planning.chances.levers import Lever
from webapp.planning.order.stretches import PathWait


def wait_in_short(reasons: ReasonWords, wait: PathWait) -> str:
    """ "part: Radiator", "outside work: Coat the frame", "helper: Lower the engine in"."""
    what = wait.step.what
    match wait.kind:
        case "part":
            part = reasons.parts.get(what)
            return f"part: {part.name if part else what}"
        case "helper":
            return f"helper: {reasons.task_name(wait.after)}"
        case "outside":
            return f"outside work: {reasons.task_name(what)}"
        case "by_itself":
            return f"runs by itself: {reasons.task_name(what)}"
        case "cure":
            link = reasons.links.get((what, wait.after))
            why = (link.why if link else "") or "wait"
            return f"{why}: {reasons.task_name(what)}"


def wait_in_full(reasons: ReasonWords, wait: PathWait) -> str:
    """What the list says of it: "waits for part: Radiator, Thu 5 March"."""
    if wait.kind in ("outside", "by_itself"):
        return reasons.task_name(wait.step.what)
    return reasons.wait_step(wait.step, wait.after)


def wait_why(reasons: ReasonWords, wait: PathWait) -> str:
    """What kind of wait it is, and when the path goes on: "outside work; goes on Wed 27 Jan".

    Later than the wait itself ends, where the shop is closed then.
    """
    kinds = {
        "cure": "cure or wait",
        "part": "part",
        "helper": "helper",
        "outside": "outside work",
        "by_itself": "runs by itself",
    }
    goes_on = words.planned_moment(wait.step.ends, today=reasons.today)
    what = f" for {reasons.task_name(wait.after)}" if wait.kind in ("part", "helper") else ""
    return f"{kinds[wait.kind]}{what}; the path goes on {goes_on}"


def shortened_words(wait: PathWait, levers: tuple[Lever, ...]) -> str:
    """What would shorten a wait, with the figure it has among what would win a week.

    "a week earlier would win 3.1 days"; "" where nothing of the program's acts on it: cures, and
    a helper who is asked for no more days. `levers` are all there are.
    """
    if wait.kind == "helper":
        more = next((one for one in levers if one.kind == "helper"), None)
        return f"one more day of the helper would win {_won(more)}" if more else ""
    if wait.kind not in ("part", "outside"):
        return ""
    sooner = next(
        (one for one in levers if (one.kind, one.what) == (wait.kind, wait.step.what)), None
    )
    if sooner is None:
        return f"a week earlier would win nothing: something else holds {the_end()} as long"
    return f"a week earlier would win {_won(sooner)}"


def _won(lever: Lever) -> str:
    return gain_words(lever.days_won, lever.move.error_days)

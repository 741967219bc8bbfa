"""Ends that look alike and never make tight: said beside a joint that does not fit.

Threads of cones: `webapp.build.standard_sizes`.
"""

from webapp.build.plumbing import End
from webapp.build.standard_sizes import CONE_THREADS
from webapp.build.threads import Thread, thread_of

FLARES = "37 and 45 degree flares look alike and leak: have one of the two changed."
FLARE_IN_BOSS = "a flare screws into an O-ring boss of its thread and never seals there."
SERIES = "L and S of one thread screw together and leak: measure the tube."
PIPE_THREADS = (
    "G, R and NPT of one name look alike: G seals on a washer, R and NPT on their taper, and NPT "
    "has another pitch or angle."
)
M10_AND_EIGHTH = (
    "M10x1 and 1/8 pipe thread start in one another and strip: measure the outside and the pitch."
)
_EIGHTH = frozenset(("1/8",))
_THREADED = ("male", "female", "banjo")


def look_alike_words(one: End, other: End) -> str | None:
    """Why two ends that do not fit may seem to, and what to do; None where nobody mixes them up."""
    kinds = {one.kind, other.kind}
    families = {kind.rpartition("_")[0] for kind in kinds}
    if families == {"flare37", "flare45"}:
        return FLARES
    if "oring" in families and families & {"flare37", "flare45"}:
        return FLARE_IN_BOSS
    if families == {"cone24"} and _one_thread_two_series(one, other):
        return SERIES
    if kinds <= set(_THREADED):
        return _of_threads(thread_of(one.size), thread_of(other.size))
    return None


def _one_thread_two_series(one: End, other: End) -> bool:
    if one.size == other.size:
        return False
    threads = [CONE_THREADS.get(str(end.size)) for end in (one, other)]
    return threads[0] is not None and threads[0] == threads[1]


def _of_threads(one: Thread | None, other: Thread | None) -> str | None:
    if one is None or other is None:
        return None
    systems = {one.system, other.system}
    if len(systems) == 2 and systems <= {"G", "R", "NPT"} and one.nominal == other.nominal:
        return PIPE_THREADS
    metric, pipe = (one, other) if one.system == "M" else (other, one)
    is_m10 = metric.system == "M" and (metric.nominal, metric.pitch) == ("10", "1")
    if is_m10 and pipe.system in ("G", "R", "NPT", "inch") and pipe.nominal in _EIGHTH:
        return M10_AND_EIGHTH
    return None

"""Where what a fault names is mended."""

from webapp.pages.addresses.at_the_bench import order
from webapp.pages.addresses.of_tasks import part, parts, shop, task
from webapp.pages.addresses.of_the_week import record, week, wish, wishes


def mend(slug: str, kind: str, key: str) -> str:
    """Where a fault is mended. `kind` as in `Fault.kind`."""
    if kind == "task" and key:
        return task(slug, key)
    if kind == "part":
        return part(slug, key) if key else parts(slug)
    if kind == "dependency" and "->" in key:
        return task(slug, key.split("->")[-1].strip())
    if kind == "wish":
        return wish(slug, key) if key else wishes(slug)
    if kind == "log" and key:
        return task(slug, key)
    if kind in ("task", "dependency", "log"):
        return order(slug)
    if kind == "looked at":
        return week(slug)
    if kind == "earlier record":
        return record(slug)
    rooms = {"setup": "setups", "station": "setups", "subsystem": "subsystems", "build": "build"}
    return shop(slug, rooms.get(kind, ""))

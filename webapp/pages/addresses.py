"""Every address of the program, in one place. Templates know this module as `to`."""

from urllib.parse import quote, urlencode


def _part(text: str) -> str:
    return quote(text, safe="")


def builds() -> str:
    return "/"


def new_build() -> str:
    return "/builds/new"


def import_build() -> str:
    return "/builds/import"


def build(slug: str) -> str:
    return f"/builds/{_part(slug)}"


def bench(slug: str) -> str:
    return f"{build(slug)}/bench"


def bench_begin(slug: str) -> str:
    return f"{build(slug)}/bench/begin"


def bench_stop(slug: str) -> str:
    return f"{build(slug)}/bench/stop"


def order(slug: str, without: tuple[str, ...] = ()) -> str:
    address = f"{build(slug)}/order"
    return f"{address}?{urlencode([('without', rule) for rule in without])}" if without else address


def path(slug: str) -> str:
    return f"{build(slug)}/path"


def parts(slug: str) -> str:
    return f"{build(slug)}/parts"


def shop(slug: str) -> str:
    return f"{build(slug)}/shop"


def new_task(slug: str) -> str:
    return f"{build(slug)}/tasks/new"


def task(slug: str, key: str) -> str:
    return f"{build(slug)}/tasks/{_part(key)}"


def document(slug: str) -> str:
    return f"{build(slug)}/document"


def schema() -> str:
    return "/schema/build-document-1.json"


def mend(slug: str, kind: str, key: str) -> str:
    """Where a fault is mended. `kind` as in `Fault.kind`."""
    if kind == "task" and key:
        return task(slug, key)
    if kind == "part":
        return parts(slug)
    if kind == "dependency" and "->" in key:
        return task(slug, key.split("->")[-1].strip())
    if kind == "log" and key:
        return task(slug, key)
    if kind in ("task", "dependency", "log"):
        return order(slug)
    return shop(slug)

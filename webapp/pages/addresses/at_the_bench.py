"""Addresses of Bench, Order, Path, photographs and what stands on every page."""

from urllib.parse import urlencode, urlsplit

from webapp.pages.addresses.joined import build, encoded


def bench(slug: str) -> str:
    return f"{build(slug)}/bench"


def bench_begin(slug: str) -> str:
    return f"{build(slug)}/bench/begin"


def bench_stop(slug: str) -> str:
    return f"{build(slug)}/bench/stop"


def bench_stopping(slug: str, then: str = "") -> str:
    """The Bench with the stop form open; `then` is the task to begin after it."""
    fields = {"stop": "1"} | ({"then": then} if then else {})
    return f"{bench(slug)}?{urlencode(fields)}"


def bench_not_tonight(slug: str) -> str:
    return f"{bench(slug)}/not-tonight"


def bench_done(slug: str) -> str:
    return f"{build(slug)}/bench/done"


def bench_wish(slug: str) -> str:
    return f"{build(slug)}/bench/wish"


def bench_logged(slug: str, key: str, *, again: bool = False) -> str:
    """The Bench, with the word that a wish is logged; `again`: that it was already."""
    fields = {"logged": key} | ({"again": "1"} if again else {})
    return f"{bench(slug)}?{urlencode(fields)}#logged"


def order(slug: str, rules: tuple[str, ...] | None = None, *, every: bool = False) -> str:
    """The job order, by other house rules, or (`every`) with every week drawn out."""
    fields = [] if rules is None else [("rule", rule) for rule in rules or ("none",)]
    fields += [("every", "1")] if every else []
    address = f"{build(slug)}/order"
    return f"{address}?{urlencode(fields)}" if fields else address


def tighten(slug: str) -> str:
    return f"{build(slug)}/tighten"


def tightening(slug: str) -> str:
    """How far tightening has come, alone, asked for again while it is on."""
    return f"{build(slug)}/tightening"


def tightening_on_path(slug: str) -> str:
    """The place on the Path page where tightening stands."""
    return f"{path(slug)}#tighten"


def stop_tightening(slug: str) -> str:
    return f"{build(slug)}/stop-tightening"


def keep_order(slug: str) -> str:
    return f"{build(slug)}/keep-order"


def house_rules(slug: str) -> str:
    """Where the house rules that were tried are kept."""
    return f"{build(slug)}/house-rules"


def searched_again(slug: str) -> str:
    """What searching again would win, alone, asked for again while it is measured."""
    return f"{build(slug)}/searched-again"


def let_go_order(slug: str) -> str:
    return f"{build(slug)}/let-go-order"


def path(slug: str) -> str:
    return f"{build(slug)}/path"


def gauges(slug: str) -> str:
    """The figures of the frame alone, asked for again while they are worked out."""
    return f"{build(slug)}/gauges"


def notice(slug: str, since: str, back: str) -> str:
    """What a change did to first start, likewise; `back` is the page that shows it."""
    return f"{build(slug)}/notice?{urlencode({'since': since, 'back': back})}"


def journal(slug: str, page: int = 1) -> str:
    """The changes of a build, the newest first."""
    return f"{build(slug)}/journal" + (f"?page={page}" if page > 1 else "")


def take_back(slug: str) -> str:
    return f"{build(slug)}/journal/take-back"


def find(slug: str, words: str = "", kind: str = "") -> str:
    """Where the texts of a build are looked through; `kind` for things of one kind alone."""
    asked = {name: text for name, text in (("words", words), ("kind", kind)) if text}
    return f"{build(slug)}/find" + (f"?{urlencode(asked)}" if asked else "")


def page_of_build(slug: str, address: str) -> str:
    """An address that was sent, where it is one of the build's own pages; else the journal."""
    parts = urlsplit(address)
    here = parts.path.startswith(f"{build(slug)}/") and not (parts.scheme or parts.netloc)
    steps = parts.path.split("/")
    return address if here and address.isprintable() and ".." not in steps else journal(slug)


def photographs(slug: str, task: str) -> str:
    """All photographs of a task; they are added here."""
    return f"{build(slug)}/photographs?{urlencode({'task': task})}"


def photograph(slug: str, task: str, digest: str) -> str:
    """One photograph, whole; its caption is changed here."""
    return f"{build(slug)}/photographs/{encoded(digest)}?{urlencode({'task': task})}"


def remove_photograph(slug: str, task: str, digest: str) -> str:
    return f"{build(slug)}/photographs/{encoded(digest)}/remove?{urlencode({'task': task})}"


def adds_photographs(path: str) -> bool:
    """Whether photographs are sent to an address."""
    head, _, last = path.rpartition("/")
    return last == "photographs" and head.startswith("/builds/") and head.count("/") == 2


def picture(slug: str, digest: str) -> str:
    """The file of a photograph; what its address says is never another picture."""
    return f"{build(slug)}/pictures/{digest}.jpg"


def small_picture(slug: str, digest: str) -> str:
    return f"{build(slug)}/pictures/{digest}.small.jpg"


def spread(slug: str) -> str:
    """The spread of first start alone, likewise."""
    return f"{path(slug)}/spread"

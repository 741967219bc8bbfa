"""Addresses of wishes, scope, week, record, log and money."""

from urllib.parse import urlencode

from webapp.pages.addresses.joined import build, encoded, thing_in


def wishes(slug: str) -> str:
    return f"{build(slug)}/wishes"


def wish(slug: str, key: str) -> str:
    return thing_in(wishes(slug), key)


def wish_at(slug: str, key: str, *, again: bool = False) -> str:
    """The place of a wish on the page of wishes; `again`: with the word that it was sent twice."""
    query = f"?{urlencode({'again': key})}" if again else ""
    return f"{wishes(slug)}{query}#wish-{encoded(key)}"


def wish_ways(slug: str, key: str) -> str:
    """The four ways of one wish alone, asked for again while they are worked out."""
    return f"{build(slug)}/wish-ways?{urlencode({'key': key})}"


def decide_wish(slug: str, key: str) -> str:
    return f"{build(slug)}/decide-wish?{urlencode({'key': key})}"


def take_back_wish(slug: str, key: str) -> str:
    return f"{build(slug)}/take-back-wish?{urlencode({'key': key})}"


def remove_wish(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-wish?{urlencode({'key': key})}"


def wanted_by(slug: str) -> str:
    """Where the wanted-by date and the confidence are sent."""
    return f"{build(slug)}/wanted-by"


def wish_sizes(slug: str) -> str:
    return f"{build(slug)}/wish-sizes"


def scope(slug: str) -> str:
    """The scope ledger."""
    return f"{build(slug)}/scope"


def week(slug: str, label: str = "") -> str:
    """The week sheet of a week ("2026-W07"); of this week without a label."""
    return f"{build(slug)}/week/{encoded(label)}" if label else f"{build(slug)}/week"


def week_since_closed(slug: str, label: str) -> str:
    """A closed week with what was written down since."""
    return f"{week(slug, label)}?today=1"


def to_do(slug: str, about: str, key: str, answer: str, label: str = "") -> str:
    """Where one line of what there is to do is answered, on the page of a week (see `week`)."""
    fields = {"about": about, "key": key, "answer": answer} | ({"week": label} if label else {})
    return f"{build(slug)}/to-do?{urlencode(fields)}"


def to_do_lines(slug: str, revision: int, ids: tuple[str, ...], label: str = "") -> str:
    """The list of what there is to do alone, where it is another than these lines by now."""
    fields = {"of": revision, "lines": " ".join(ids)} | ({"week": label} if label else {})
    return f"{build(slug)}/to-do-lines?{urlencode(fields)}"


def to_do_price(slug: str, key: str) -> str:
    """The price of a wish in one line, asked for again while it is worked out."""
    return f"{build(slug)}/to-do-price?{urlencode({'key': key})}"


def week_bridge(
    slug: str, earlier: str, later: str, start: str = "", *, folded: bool = False
) -> str:
    """The bridge alone, asked for again while it is worked out.

    `start` is the snapshot that the way is told from where nothing moved it since the earlier one;
    `folded`: its sentence is shown, how it splits is folded away.
    """
    fields = {"from": earlier, "to": later} | ({"start": start} if start else {})
    fields |= {"folded": "1"} if folded else {}
    return f"{build(slug)}/bridge?{urlencode(fields)}"


def compare(slug: str, earlier: str = "", later: str = "") -> str:
    """The bridge between two snapshots; "today" is the build as it is."""
    fields = {name: value for name, value in (("from", earlier), ("to", later)) if value}
    return f"{week(slug)}/compare{'?' + urlencode(fields) if fields else ''}"


def close_week(slug: str, label: str) -> str:
    return f"{build(slug)}/close-week?{urlencode({'week': label})}"


def record(slug: str) -> str:
    """What the record says of the estimates and of shop time."""
    return f"{build(slug)}/record"


def earlier_record(slug: str) -> str:
    """Where the record of an earlier build is taken along, switched and let go."""
    return f"{build(slug)}/record/earlier"


def log(slug: str, page: int = 1) -> str:
    """The time log; its pages count from 1, the latest entries."""
    return f"{build(slug)}/log" + (f"?page={page}" if page > 1 else "")


def log_entry(slug: str, place: int, digest: str) -> str:
    """One entry of the log, by its place and by what it says."""
    return f"{build(slug)}/log-entry?{urlencode({'at': place, 'key': digest})}"


def remove_log_entry(slug: str, place: int, digest: str) -> str:
    return f"{build(slug)}/remove-log-entry?{urlencode({'at': place, 'key': digest})}"


def soundness(slug: str) -> str:
    return f"{build(slug)}/soundness"


def money(slug: str) -> str:
    """What the build has cost, and what is to come."""
    return f"{build(slug)}/money"


def money_paid(slug: str) -> str:
    """Where it is said that something was paid as estimated."""
    return f"{money(slug)}/paid"

"""What the pages show of hours that builds share, in strings."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.sharing import Sharing
from webapp.build.shop import GivenAway
from webapp.build.time.shared_sessions import SharedSession
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext, first_start_words
from webapp.pages.sharing.forms import sharing_values
from webapp.pages.words import amounts
from webapp.pages.words import sharing as words
from webapp.pages.words.faults import said
from webapp.services.planned_build import PlannedBuild
from webapp.services.shared_hours import SharedHours
from webapp.storage.builds import BuildHeading
from webapp.storage.sharing import StoredSharing

SESSIONS_SHOWN = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class SharingLine:
    """A build in the form."""

    slug: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandLine:
    """A session that is to come, whose it is, and the builds it can be given to."""

    when: str
    owner: str
    date: str
    opens: int
    closes: int
    to: tuple[SharingLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PastRule:
    """A rule that held, since when ("" before any), and the fields of the form that say it."""

    since: str
    rule: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SharingView:
    """The room of the shop. `moves` are the dates by the rule that was typed, before it holds."""

    form: TypedForm
    key: str
    holds: str
    lines: tuple[SharingLine, ...]
    sessions: tuple[HandLine, ...]
    came_along: tuple[str, ...]
    history: tuple[PastRule, ...]
    moves: tuple[str, ...] = ()
    after: str = ""
    said: str = ""


def sharing_view(
    page: PageContext,
    form: TypedForm,
    headings: Sequence[BuildHeading],
    history: Sequence[StoredSharing],
    *,
    given: tuple[GivenAway, ...],
    moves: tuple[str, ...] = (),
    told: str = "",
) -> SharingView:
    names = {each.slug: each.name for each in headings}
    now = history[0] if history else None
    return SharingView(
        form=form,
        key=now.key if now else "",
        holds=words.rule_words(now.sharing if now else Sharing(), names),
        lines=_in_order(headings, now.sharing if now else Sharing()),
        sessions=_coming(page),
        came_along=tuple(_given_words(page, one) for one in _ahead(page, given)),
        history=_past_rules(page, headings, names, history),
        moves=moves,
        after=after_line(page),
        said=told,
    )


def _past_rules(
    page: PageContext,
    headings: Sequence[BuildHeading],
    names: dict[str, str],
    history: Sequence[StoredSharing],
) -> tuple[PastRule, ...]:
    """What held before what holds now, the last first; before the first rule nothing was shared."""
    before = [(amounts.moment(one.since, today=page.today), one.sharing) for one in history[1:]]
    if history:
        before.append(("", Sharing()))
    return tuple(
        PastRule(
            since=since,
            rule=words.rule_words(sharing, names),
            values=tuple(
                (name, value)
                for name, typed in sharing_values(sharing, headings).items()
                for value in typed
            ),
        )
        for since, sharing in before
    )


def _in_order(headings: Sequence[BuildHeading], sharing: Sharing) -> tuple[SharingLine, ...]:
    place = {slug: number for number, slug in enumerate(sharing.slugs)}
    inside = sorted(headings, key=lambda each: place.get(each.slug, len(place)))
    return tuple(SharingLine(slug=each.slug, name=each.name) for each in inside)


def _ahead(page: PageContext, given: tuple[GivenAway, ...]) -> tuple[GivenAway, ...]:
    """What came with the document of a build and is still ahead, whatever the rule says."""
    return tuple(one for one in given if one.last_on is None or one.last_on > page.today)


def _given_words(page: PageContext, one: GivenAway) -> str:
    first = amounts.day(one.first_on, today=page.today)
    if one.last_on is None:
        return f"every week from {first} on: {one.belongs_to}"
    last = amounts.day(one.last_on, today=page.today)
    return f"{first}: {one.belongs_to}" if first == last else f"{first} to {last}: {one.belongs_to}"


def _coming(page: PageContext) -> tuple[HandLine, ...]:
    shared = page.shared
    if shared is None:
        return ()
    return tuple(_hand_line(shared, session, page) for session in shared.coming(SESSIONS_SHOWN))


def _hand_line(shared: SharedHours, session: SharedSession, page: PageContext) -> HandLine:
    owner = shared.owner(session)
    return HandLine(
        when=words.session_words(session, page.now),
        owner=shared.name(owner) if owner else "whoever begins",
        date=session.date.isoformat(),
        opens=session.opens_minute,
        closes=session.closes_minute,
        to=tuple(
            SharingLine(slug=slug, name=shared.name(slug))
            for slug in shared.sharing.slugs
            if slug != owner
        ),
    )


def after_line(page: PageContext) -> str:
    """In an order, whose date this build's hangs on; "" where on nobody's."""
    shared = page.shared
    if shared is None or shared.sharing.way != "order":
        return ""
    before = []
    for slug, planned in shared.planned.items():
        if slug == page.slug:
            break
        plan = planned.plan()
        if plan is not None and plan.first_start_at is not None:
            day = amounts.day(plan.first_start_at, today=page.today)
            before.append((planned.build.name, day))
    return words.after_words(before) if before else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoseLine:
    """Whose the session is that is open or comes next, with the way there."""

    text: str
    owner: str
    address: str
    is_here: bool
    hand: HandLine | None = None
    after: str = ""


def whose_line(page: PageContext) -> WhoseLine | None:
    """For the Bench of a build that shares."""
    line = whose_next(page.shared, page.slug)
    if line is None or page.shared is None:
        return None
    session = page.shared.next_session()
    assert session is not None
    return WhoseLine(
        text=line.text,
        owner=line.owner,
        address=line.address,
        is_here=line.is_here,
        hand=_hand_line(page.shared, session, page),
        after=after_line(page),
    )


def whose_next(shared: SharedHours | None, slug: str = "") -> WhoseLine | None:
    """The same for the list of builds."""
    session = shared.next_session() if shared is not None else None
    if shared is None or session is None:
        return None
    owner = shared.owner(session)
    return WhoseLine(
        text=words.session_words(session, shared.now),
        owner=shared.name(owner) if owner else "whichever build is begun",
        address=addresses.bench(owner) if owner else addresses.builds(),
        is_here=owner == slug,
    )


def date_words(planned: PlannedBuild) -> str:
    """First start of a build as a page says it, or why it has none."""
    if planned.faults:
        return f"no date ({said(planned.faults[0])})"
    return first_start_words(planned.build, planned.plan(), planned.build.now.date())

"""Forms of one check: sign it, type its figures, set it aside, take it back, take it in or out."""

import datetime as dt
from collections.abc import Callable

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited
from webapp.build.first_start import LicensedPaper
from webapp.first_start import list_changes, signing
from webapp.first_start.check_list import Check
from webapp.first_start.own_list import list_of_build
from webapp.first_start.signing import Signing
from webapp.first_start.typed_readings import TypedReading
from webapp.pages.first_start.check_view import OPENED
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.forms.typed_values import parse_decimal
from webapp.pages.frame.form_change import FormEdit
from webapp.services.seed_builds import check_list_of

Clock = Callable[[], dt.datetime]
NOTHING = "nothing"
MOST_NAME = 80
MOST_SEEN = 300


def check_of(build: BuildInput, key: str) -> Check | None:
    """A check of the list of a build, the person's own among them."""
    found = list_of_build(build, check_list_of(build)).checks
    return find_by_key(found, key)


def edit_sign(key: str, clock: Clock) -> FormEdit[str]:
    """The edit that signs one check."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        check = check_of(build, key)
        typed = _signing(form, check) if check else Signing(signer="")
        checks, version = check_list_of(build), form.typed("version")
        return signing.sign(build, checks, key, typed, at=clock(), version=version)

    return edit


def _signing(form: TypedForm, check: Check) -> Signing:
    return Signing(
        signer=form.text("signer", "Your name", limit=MOST_NAME),
        helper=form.text("helper", "The helper", limit=MOST_NAME),
        seen=form.text("seen", "What was seen", limit=MOST_SEEN),
        readings=_readings(form, check),
        paper=_paper(form) if check.who == "licensed" else None,
        saw_paper=form.ticked("saw_paper"),
        opened=_opened(form) if check.key == OPENED else None,
    )


def _readings(form: TypedForm, check: Check) -> tuple[TypedReading, ...]:
    found = []
    for number, wanted in enumerate(check.readings):
        text = form.typed(f"reading-{number}").strip()
        value: float | str | None = text or None
        if text and not wanted.is_words:
            parsed = parse_decimal(text)
            value = text if parsed is None else parsed
        makers = form.text(f"makers-{number}", "The maker's figure", limit=MOST_NAME)
        is_sure = form.ticked(f"sure-{number}")
        one = TypedReading(name=wanted.name, value=value, makers=makers, is_sure=is_sure)
        found.append(one)
    return tuple(found)


def _paper(form: TypedForm) -> LicensedPaper | None:
    on = form.date("paper_on", "The date of the paper", needed=True)
    if on is None:
        return None
    return LicensedPaper(
        name=form.text("paper_name", "The name on the paper", limit=MOST_NAME),
        firm=form.text("paper_firm", "Firm or licence", limit=MOST_NAME),
        number=form.text("paper_number", "The number of the paper", limit=MOST_NAME),
        on=on,
    )


def _opened(form: TypedForm) -> tuple[str, ...] | None:
    """What was named; () for "nothing"; None where neither was said, or both."""
    named = tuple(one for one in form.chosen("opened") if one and one != NOTHING)
    said_nothing = NOTHING in form.chosen("opened")
    if named and said_nothing:
        form.fault("opened", "Either something was opened or nothing was: both are ticked.")
        return None
    return named if named or said_nothing else None


def edit_figures(key: str, clock: Clock) -> FormEdit[str]:
    """The edit that types the figures of a check that was tapped while it ran."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        check, checks = check_of(build, key), check_list_of(build)
        return signing.type_figures(
            build,
            checks,
            key,
            _readings(form, check) if check else (),
            at=clock(),
            version=form.typed("version"),
            seen=form.text("seen", "What was seen", limit=MOST_SEEN),
        )

    return edit


def edit_set_aside(key: str, clock: Clock) -> FormEdit[str]:
    """The edit that sets a check aside, with a reason."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        return signing.set_aside(
            build,
            check_list_of(build),
            key,
            name=form.text("name", "Your name", limit=MOST_NAME),
            reason=form.text("reason", "The reason"),
            at=clock(),
            version=form.typed("version"),
        )

    return edit


def edit_take_back(clock: Clock) -> FormEdit[str]:
    """The edit that takes a signature back, within five seconds of it."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        return signing.take_back(build, form.typed("signature"), at=clock())

    return edit


def edit_words(key: str, clock: Clock) -> FormEdit[str]:
    """The edit that gives a check other words; caution and needs stay with it."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        name = form.text("words_name", "Your name", limit=MOST_NAME)
        said = form.text("words", "The words", limit=MOST_SEEN)
        if not said and not form.ticked("own_again"):
            form.fault("words", "Type the words, or tick that it has its own again.")
        text = "" if form.ticked("own_again") else said
        checks = check_list_of(build)
        return list_changes.change_words(build, checks, key, text, name=name, at=clock())

    return edit


def edit_choice(key: str, clock: Clock, *, is_in: bool) -> FormEdit[str]:
    """The edit that takes a check in, or leaves it out."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        name = form.text("choice_name", "Your name", limit=MOST_NAME)
        verb = list_changes.take_in if is_in else list_changes.leave_out
        return verb(build, check_list_of(build), key, name=name, at=clock())

    return edit


def place_in(check: Check | None, names: dict[str, str] | None = None) -> Callable[..., str]:
    """Which field of the form a fault of a verb belongs to; "" for the whole of it."""
    renamed = names or {}
    readings = {
        f"reading:{wanted.name}": f"reading-{number}"
        for number, wanted in enumerate(check.readings if check else ())
    }

    def place(_made: object, fault: Fault) -> str:
        if fault.kind not in ("check", "first start") or fault.field in ("version", "at"):
            return ""
        return readings.get(fault.field, renamed.get(fault.field, fault.field))

    return place

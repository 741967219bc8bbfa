"""The presses of the day: begin, fired, over, stopped, cause, a tap, it ran."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.first_start import RUN_KINDS, RunKind
from webapp.first_start import engine_runs, signing
from webapp.first_start.evaluation import start_standing
from webapp.first_start.list_facts import facts_of
from webapp.first_start.signing import Signing
from webapp.pages.first_start.check_forms import Clock, check_of
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.services.seed_builds import check_list_of


def edit_begin(clock: Clock) -> FormEdit[str]:
    """A crank or a run begins."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        kind: RunKind = next((one for one in RUN_KINDS if one == form.typed("kind")), "start")
        checks, version = check_list_of(build), form.typed("version")
        return engine_runs.begin_run(build, checks, kind, at=clock(), version=version)

    return edit


def edit_fired(clock: Clock) -> FormEdit[str]:
    """It fires; that tap is the one of the check that it was cranked."""

    def edit(_form: TypedForm, build: BuildInput) -> Edited[str]:
        at, checks = clock(), check_list_of(build)
        fired = engine_runs.fired(build, at=at)
        key = facts_of(checks).gates.get("start")
        if fired.faults or fired.lost or fired.is_refused or key is None:
            return fired
        tapped = _tapped(fired.build, key, clock)
        return fired if tapped.is_refused or tapped.lost else replace(fired, build=tapped.build)

    return edit


def edit_tap(clock: Clock) -> FormEdit[str]:
    """It stands: one tap while it runs, in the name of who signs today."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        return _tapped(build, form.typed("check"), clock, version=form.typed("version"))

    return edit


def _tapped(build: BuildInput, key: str, clock: Clock, version: str | None = None) -> Edited[str]:
    at, checks = clock(), check_list_of(build)
    signer, helper = who_is_here(build, key)
    if version is None:
        version = start_standing(build, checks, at=at).version
    said = Signing(signer=signer, helper=helper)
    return signing.sign(build, checks, key, said, at=at, version=version)


def who_is_here(build: BuildInput, key: str) -> tuple[str, str]:
    """Who signed last with a helper, and who that is: nothing is typed while it runs."""
    signed = [one for one in build.start.signatures if one.helper and one.taken_back_at is None]
    if not signed:
        signed = [one for one in build.start.signatures if one.taken_back_at is None]
    last = max(signed, key=lambda one: one.at, default=None)
    check = check_of(build, key)
    helper = last.helper if last and check is not None and check.who == "helper" else ""
    return (last.signer if last else ""), helper


def edit_over(clock: Clock) -> FormEdit[str]:
    """The crank is over, or it was stopped the normal way; which of the two, its screen said."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        was_firing = form.typed("was") != "cranking"
        return engine_runs.end_run(build, at=clock(), was_firing=was_firing)

    return edit


def edit_stopped(clock: Clock) -> FormEdit[str]:
    """Stopped: never refused."""

    def edit(_form: TypedForm, build: BuildInput) -> Edited[str]:
        return engine_runs.abort(build, check_list_of(build), at=clock())

    return edit


def edit_cause(clock: Clock) -> FormEdit[str]:
    """What it was and what was done, after a stop."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        return engine_runs.write_cause(
            build,
            check_list_of(build),
            form.typed("run"),
            why=form.typed("abort"),
            cause=form.text("cause", "What it was, and what was done"),
            at=clock(),
        )

    return edit


def edit_it_ran(clock: Clock) -> FormEdit[str]:
    """It ran."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        checks, version = check_list_of(build), form.typed("version")
        return engine_runs.it_ran(build, checks, at=clock(), version=version)

    return edit

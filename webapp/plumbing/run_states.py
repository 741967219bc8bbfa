"""How far a run is, as a person marks it: cut, fitted, clamped, off again; its circuit tested.

Each answers with the build after it, or with what stands against it: dates out of order or to
come, a run that is not there.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from webapp.build.build_input import BuildInput, Moment
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited
from webapp.build.verbs.plumbing_edits import checked_edit, fault_of, lost, refused
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.run_work import clamped_run, cut_run, fitted_run, run_taken_off

Work = Callable[[BuildInput], BuildInput]


def mark_cut(build: BuildInput, key: str, *, on: Moment) -> Edited[str]:
    """Every piece of a run is made; what the shelf has for it goes from there."""
    return _done(build, key, "cut_on", partial(cut_run, key=key, on=on), "cut")


def mark_fitted(build: BuildInput, key: str, *, on: Moment) -> Edited[str]:
    """A run is on, perhaps dry."""
    return _done(build, key, "fitted_on", partial(fitted_run, key=key, on=on), "fitted")


def mark_clamped(build: BuildInput, key: str, *, on: Moment) -> Edited[str]:
    """A run is on for good; clamps and seals that the shelf has for it go from there."""
    return _done(build, key, "clamped_on", partial(clamped_run, key=key, on=on), "clamped")


def take_off(build: BuildInput, key: str) -> Edited[str]:
    """A run is off again, as it was cut: its clamps lie on the shelf, seals never do."""
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    if run.fitted_on is None and run.clamped_on is None:
        text = "it is not fitted, so there is nothing to take off."
        return refused(build, key, fault_of("run", run, "fitted_on", text))
    return _worked(build, key, partial(run_taken_off, key=key))


def not_cut(build: BuildInput, key: str) -> Edited[str]:
    """A run was not cut after all. What it took from the shelf stays gone: put it back by hand."""
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    if run.fitted_on is not None:
        text = "it is fitted. Take it off first."
        return refused(build, key, fault_of("run", run, "cut_on", text))
    runs = replaced_by_key(build.plumbing.runs, replace(run, cut_on=None))
    return checked_edit(build, replace(build, plumbing=replace(build.plumbing, runs=runs)), key)


def mark_tested(build: BuildInput, key: str, *, on: Moment) -> Edited[str]:
    """A circuit was tested; refused while something of it is open."""
    circuit = find_by_key(build.plumbing.circuits, key)
    if circuit is None:
        return lost(build, "circuit", key, key)
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, key, *standing)
    is_open = next(one.open for one in plumbed(build).circuits if one.circuit.key == key)
    if is_open:
        count = "one thing is" if len(is_open) == 1 else f"{len(is_open)} things are"
        text = f"{count} open in it: {is_open[0].what} {is_open[0].why}. Close it first."
        if len(is_open) > 1:
            text = text.replace("open in it:", "open in it, the first:")
        return refused(build, key, fault_of("circuit", circuit, "tested_on", text))
    return _tested(build, key, on)


def not_tested(build: BuildInput, key: str) -> Edited[str]:
    """A circuit was not tested after all."""
    if find_by_key(build.plumbing.circuits, key) is None:
        return lost(build, "circuit", key, key)
    return _tested(build, key, None)


def _tested(build: BuildInput, key: str, on: Moment | None) -> Edited[str]:
    circuits = tuple(
        replace(one, tested_on=on) if one.key == key else one for one in build.plumbing.circuits
    )
    plumbing = replace(build.plumbing, circuits=circuits)
    return checked_edit(build, replace(build, plumbing=plumbing), key)


def _done(build: BuildInput, key: str, field: str, work: Work, done: str) -> Edited[str]:
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    if getattr(run, field) is not None:
        text = f"it is {done} already."
        return refused(build, key, fault_of("run", run, field, text))
    return _worked(build, key, work)


def _worked(build: BuildInput, key: str, work: Work) -> Edited[str]:
    """What the work makes of a build; a drawing with faults is to be mended first."""
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, key, *standing)
    return checked_edit(build, work(build), key)

"""A cut list was cut: its pieces and what is left of the bars lie on the shelf."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.build.verbs.plumbing_edits import plumbed_edit, refused
from webapp.build.verbs.shelf import gathered
from webapp.plumbing.buy_list import CutGroup, cut_groups
from webapp.plumbing.cutting.cut_list import CutJob, CutList
from webapp.plumbing.cutting.faults import THE_LIST
from webapp.plumbing.cutting.of_plumbing import cut_job_of, is_leftover, shelf_after
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.named_things import things_named
from webapp.plumbing.shelf import given_out


def group_named(build: BuildInput, what: str) -> CutGroup | None:
    """What is to be cut of one kind of hose or tube, in a build without faults."""
    groups = cut_groups(given_out(Drawing(build)))
    return next((group for group in groups if group.what == what), None)


def is_as_drawn(build: BuildInput, group: CutGroup | None, job: CutJob) -> bool:
    """Whether a job still cuts what is drawn, from the lengths that lie there."""
    if group is None:
        return not job.pieces
    there = [stock for stock in job.stock if is_leftover(stock)]
    now = cut_job_of(group, build.plumbing, ())
    return now.pieces == job.pieces and list(now.stock) == there


def laid_on_shelf(build: BuildInput, what: str, job: CutJob, answer: CutList) -> Edited[str]:
    """With the pieces as lengths on the shelf, and what is left of the bars they were cut from.

    Refused where something else is to be cut by now, or other lengths lie there: so nothing is laid
    there twice.
    """
    group = group_named(build, what)
    like = things_named(Drawing(build), what, count=None, metres=1.0)
    if group is None or not like or not is_as_drawn(build, group, job):
        return refused(build, what, _changed())
    shelf = gathered(shelf_after(build.plumbing.shelf, answer, like[0]))
    return plumbed_edit(build, replace(build.plumbing, shelf=shelf), what)


def _changed() -> Fault:
    return THE_LIST.fault(
        "",
        "what is to be cut, or what lies on the shelf, is not what this list was worked out for: "
        "perhaps it lies there already. Work it out again.",
    )

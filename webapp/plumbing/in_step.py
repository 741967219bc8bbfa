"""Parts that nobody ordered yet, following what a change made of what is drawn and mixed."""

from webapp.build.build_input import BuildInput
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.plumbing.coolant_to_buy import with_coolant_in_step
from webapp.plumbing.lacking import Lacking
from webapp.plumbing.parts_to_buy import is_loose, with_parts_in_step


def with_parts_following(before: BuildInput, after: BuildInput) -> BuildInput:
    """The build after a change, its parts of the buy list and of coolant in step with it.

    What is drawn is looked at once for both. A build with faults in its plumbing stays as it is.
    """
    is_drawn_anew = before.plumbing != after.plumbing
    if not is_drawn_anew and before.data_sheet == after.data_sheet:
        return after
    if not any(is_loose(part) for part in after.parts) or any(plumbing_faults(after)):
        return after
    lacking, followed = Lacking(after), after
    if is_drawn_anew and not any(plumbing_faults(before)):
        followed = with_parts_in_step(before, lacking)
    return with_coolant_in_step(before, followed, lacking.drawing)

"""The three hours of an estimate: if all goes well, likely, if it fights you."""

from webapp.build.build_input import ThreePoint
from webapp.pages.forms.typed_form import TypedForm

WELL, LIKELY, FIGHTS = "if all goes well", "likely", "if it fights you"


def read_estimate(form: TypedForm, name: str, suffix: str = "") -> ThreePoint:
    """Read the fields `well`, `likely` and `fights` (with `suffix`) of the task called `name`.

    The likely hours alone will do: a point left empty is taken as equal to them. Where the
    likely hours can not be read, one hour stands in so that the other faults are found too.
    """
    likely = form.hours(f"likely{suffix}", f"{name}, {LIKELY}", needed=True)
    well = form.hours(f"well{suffix}", f"{name}, {WELL}")
    fights = form.hours(f"fights{suffix}", f"{name}, {FIGHTS}")
    if likely is None:
        return ThreePoint.certain(1.0)
    return ThreePoint(
        optimistic=likely if well is None else well,
        most_likely=likely,
        pessimistic=likely if fights is None else fights,
    )

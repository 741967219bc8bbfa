"""The form of how builds share their hours: typed text to a rule."""

from collections.abc import Sequence

from webapp.build.sharing import Sharing, SharingBuild
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words import sharing as words
from webapp.storage.builds import BuildHeading

ALONE = "alone"
MOST_SESSIONS = 50
"""Of one build in a week."""


def sharing_values(sharing: Sharing, headings: Sequence[BuildHeading]) -> dict[str, list[str]]:
    """The form as the rule stands; a build that does not share yet stands behind those that do."""
    values: dict[str, list[str]] = {"way": [sharing.way if sharing.builds else ALONE]}
    shares = {one.slug: one.sessions for one in sharing.builds}
    slugs = list(shares)
    behind = [each.slug for each in headings if each.slug not in shares]
    for place, slug in enumerate((*slugs, *behind), 1):
        if slug in shares or not shares:
            values[f"in-{slug}"] = ["on"]
        values[f"place-{slug}"] = [str(place)]
        values[f"share-{slug}"] = [str(shares.get(slug, 1))]
    return values


def read_sharing(form: TypedForm, stored: Sharing, headings: Sequence[BuildHeading]) -> Sharing:
    """The rule that was typed; every fault of it in the form."""
    way = form.typed("way")
    if way not in ("order", "week"):
        return Sharing(handed_over=())
    ticked = [each for each in headings if form.ticked(f"in-{each.slug}")]
    if len(ticked) < 2:
        form.fault("way", words.TOO_FEW)
    found = []
    for each in ticked:
        place = _whole(form, f"place-{each.slug}", len(headings))
        share = _whole(form, f"share-{each.slug}", MOST_SESSIONS) if way == "week" else 1
        found.append((place, SharingBuild(slug=each.slug, sessions=share)))
    places = [place for place, _ in found]
    if not form.faults and len(set(places)) < len(places):
        form.fault("way", words.SAME_PLACE)
    found.sort(key=lambda one: one[0])
    slugs = {one.slug for _, one in found}
    return Sharing(
        way="order" if way == "order" else "week",
        builds=tuple(one for _, one in found),
        handed_over=tuple(one for one in stored.handed_over if one.slug in slugs),
    )


def _whole(form: TypedForm, field: str, most: int) -> int:
    text = form.typed(field).strip()
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= most:
        return int(text)
    form.fault(field, f"Write a whole number from 1 to {most}.")
    return 1

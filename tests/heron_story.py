"""Write what follows from the demo's story: what was said of its wishes, and the present build.

`python -m tests.heron_story` puts the figures that were on the table at each decision into
`seed_data/heron/story.json`, and the present build into `seed_data/heron.json`. Run it after a
change of the story, or of the computation behind the figures.
"""

import datetime as dt
import json
from dataclasses import replace
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.wish import WayFigures, Wish
from webapp.exchange.build_document import write_document
from webapp.planning.chances.wish_prices import price_wish
from webapp.planning.record.calibration import factors_of
from webapp.services.demo_story import IDEAS_AT, lived
from webapp.services.forecast_figures import forecast_figures
from webapp.settings import resource_root

SEED_DATA = resource_root() / "seed_data"
BASELINE, STORY = SEED_DATA / "heron" / "baseline.json", SEED_DATA / "heron" / "story.json"
PLUMBING = SEED_DATA / "heron" / "plumbing.json"
PRESENT = SEED_DATA / "heron.json"


def build_at(moment: dt.datetime) -> BuildInput:
    """The demo build at a moment of its story, before what happens at that very moment.

    Without what is plumbed: no figure hangs on it, the work of its runs is linked anyway.
    """
    told = json.loads(STORY.read_bytes())
    wishes = [_known_by(moment.date(), wish) for wish in told["wishes"]]
    until = {**told, "now": moment.isoformat(timespec="minutes"), "wishes": wishes}
    for name, day in (("wishes", "logged_on"), ("log", "on"), ("happened", "on")):
        until[name] = [one for one in until[name] if one[day] <= str(moment.date())]
    return lived(BASELINE.read_bytes(), json.dumps(until).encode()).present


def _known_by(day: dt.date, wish: dict[str, Any]) -> dict[str, Any]:
    """A wish as its document told it before the decisions of a day."""
    decision = wish.get("decision")
    is_later = decision is not None and decision["decided_on"] >= str(day)
    return {**wish, "decision": None} if is_later else wish


def figures_on_the_table(key: str, decided_on: dt.date) -> tuple[WayFigures, ...]:
    """What the program says of a wish in the evening on which it was decided."""
    build = build_at(dt.datetime.combine(decided_on, IDEAS_AT))
    figures = forecast_figures(build)
    assert figures is not None
    wish, factors = get_by_key(build.wishes, key), factors_of(build)
    return price_wish(build, wish, factors=factors, factor=figures.factor).ways


def main() -> None:
    """Write the figures into the story, then the present build."""
    told = json.loads(STORY.read_bytes())
    present = lived(BASELINE.read_bytes(), STORY.read_bytes(), PLUMBING.read_bytes()).present
    for wish in present.wishes:
        if wish.decision is not None:
            present = _with_figures(present, wish)
    document = write_document(present)
    told["wishes"] = json.loads(document)["wishes"]
    STORY.write_text(_story_text(told), encoding="utf-8")
    PRESENT.write_text(document, encoding="utf-8")


def _with_figures(build: BuildInput, wish: Wish) -> BuildInput:
    assert wish.decision is not None
    figures = figures_on_the_table(wish.key, wish.decision.decided_on)
    decided = replace(wish, decision=replace(wish.decision, figures=figures))
    return replace(build, wishes=replaced_by_key(build.wishes, decided))


def _story_text(told: dict[str, Any]) -> str:
    lists = (
        f' "{name}": [\n' + ",\n".join(f"  {_line(one)}" for one in told[name]) + "]"
        for name in ("log", "happened", "wishes")
    )
    return f'{{"now": {_line(told["now"])},\n' + ",\n".join(lists) + "}\n"


def _line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


if __name__ == "__main__":
    main()

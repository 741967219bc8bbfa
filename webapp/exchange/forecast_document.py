"""The chances of first start, put into the fields of a plan."""

from collections.abc import Mapping

from webapp.planning.chances.forecast import Forecast

SHARES = {"p10": 0.1, "p50": 0.5, "p80": 0.8, "p90": 0.9}


def with_chances(
    plan: Mapping[str, object], forecast: Forecast | None, on_path: Mapping[str, float]
) -> dict[str, object]:
    """A plan document with p10 to p90 of first start and the criticality of every task.

    `plan` is what `plan_document` gives, `on_path` the criticality by key. Without a forecast
    (first start has no date) nothing is on the way to it: every criticality is 0, as it is for
    tasks first start does not need.
    """
    first_start, tasks = plan["first_start"], plan["tasks"]
    assert isinstance(tasks, list)
    if isinstance(first_start, dict) and forecast is not None:
        first_start = first_start | {
            name: forecast.at(share).isoformat(timespec="minutes") for name, share in SHARES.items()
        }
    return {
        **plan,
        "first_start": first_start,
        "tasks": [task | {"criticality": on_path.get(task["key"], 0.0)} for task in tasks],
    }

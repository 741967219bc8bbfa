"""What every test shares: the order in which they run, who runs which, and no stop-watch."""

import pytest
from hypothesis import HealthCheck, settings

# By itself hypothesis fails a test whose examples take long by the clock, to make or to try: on a
# machine that does something else beside, or runs two tests at once, that says nothing.
settings.register_profile(
    "unhurried",
    parent=settings(),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("unhurried")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Put the browser's tests last, else in the order found; let one process have them all.

    They are the slowest, and one Chromium is enough for a small machine. Where several processes
    share the tests (`-n 2 --dist loadgroup`), the largest group goes first, so the browser's
    tests, the only group, begin at once and the rest is done beside them.
    """
    items.sort(key=lambda item: item.get_closest_marker("browser") is not None)
    if config.pluginmanager.hasplugin("xdist"):
        for item in items:
            if item.get_closest_marker("browser") is not None:
                item.add_marker(pytest.mark.xdist_group("browser"))

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
    """Put the browser's tests last, or first where processes share the tests.

    They are the slowest, so one process alone has the quick failures first. Of several
    (`-n 2 --dist loadgroup`) one has all of them, for one Chromium is enough for a small machine;
    it begins with them, and the rest is done beside.
    """

    def in_the_browser(item: pytest.Item) -> bool:
        return item.get_closest_marker("browser") is not None

    shared = hasattr(config, "workerinput")  # this is one of several processes
    items.sort(key=in_the_browser, reverse=shared)
    if shared:
        for item in filter(in_the_browser, items):
            item.add_marker(pytest.mark.xdist_group("browser"))

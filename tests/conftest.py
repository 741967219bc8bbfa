"""What every test shares: the order in which they run, and who runs which."""

import pytest


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

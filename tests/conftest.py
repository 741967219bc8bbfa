"""What every test shares: the order in which they run."""

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the browser's tests last, else in the order found.

    They are the slowest, and the browser's driver keeps an event loop running in this thread
    to the end, in which no other test can start one of its own.
    """
    items.sort(key=lambda item: item.get_closest_marker("browser") is not None)

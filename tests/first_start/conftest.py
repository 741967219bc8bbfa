"""What stands is worked out once for a build and a moment: walks ask for it at every step twice."""

import pytest

from tests.first_start.walker import remembered_standing
from webapp.first_start import desk


@pytest.fixture(autouse=True)
def what_stands_is_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    """The verbs get the answer that the walker got: of one frozen build at one moment, the same."""
    monkeypatch.setattr(desk, "start_standing", remembered_standing)

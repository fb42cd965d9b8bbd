"""Settings that hold for every test."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

# A loaded machine is no fault of the rule under test; what is slow is found by the benchmark.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.fixture(autouse=True, scope="session")
def _own_state(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep what the tests keep as a person's own out of the home of whoever runs them."""
    before = os.environ.get("XDG_STATE_HOME")
    os.environ["XDG_STATE_HOME"] = str(tmp_path_factory.mktemp("state"))
    yield
    if before is None:
        del os.environ["XDG_STATE_HOME"]
    else:
        os.environ["XDG_STATE_HOME"] = before

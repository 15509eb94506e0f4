"""`pytest --bless` writes anew what is kept as a picture or drawing; look at what it wrote before committing it."""

import os

import pytest
from hypothesis import settings

# The same examples on every run where a change is judged; new ones each time at the desk, where somebody can look.
settings.register_profile("judged", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("judged")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--bless", action="store_true", help="accept what the planner draws now as right")


@pytest.fixture
def bless(request: pytest.FixtureRequest) -> bool:
    return request.config.getoption("--bless")

"""`pytest --bless` writes anew what is kept as a picture or drawing; look at what it wrote before committing it."""

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--bless", action="store_true", help="accept what the planner draws now as right")


@pytest.fixture
def bless(request: pytest.FixtureRequest) -> bool:
    return request.config.getoption("--bless")

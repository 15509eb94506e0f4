"""The browser of the page's tests, opened once for all of them."""

from collections.abc import Iterator
from typing import Any

import pytest


@pytest.fixture(scope="package")
def browser() -> Iterator[Any]:
    from page.browsing import CHROMIUM, playwright

    with playwright.sync_playwright() as running:
        made = running.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()

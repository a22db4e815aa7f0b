"""A browser that is driven as a person drives it, for the tests that press and type."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from tests.browser.chromium import CHROMIUM

SLOW_MS = 20_000
"""A busy machine may take long; nothing is measured here."""


@pytest.fixture(scope="session")
def driven() -> Iterator[Browser]:
    """One browser for all such tests; it finds nobody but this machine."""
    expect.set_options(timeout=SLOW_MS)
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(
            executable_path=CHROMIUM,
            args=["--no-sandbox", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
        )
        yield found
        found.close()

"""A browser that is driven as a person drives it, for the tests that press and type."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.browser.chromium import CHROMIUM
from tests.browser.served import Served

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


@pytest.fixture(scope="session")
def served(driven: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    found = Served(tmp_path_factory.mktemp("page"))
    kept = driven.new_page()  # as long as it is open the server stays
    kept.goto(found.address)
    yield found
    assert found.stop() == 130


@pytest.fixture
def page(driven: Browser, served: Served) -> Iterator[Page]:
    """A page that says nothing on the console, and asks nobody but its own server."""
    context = driven.new_context(viewport={"width": 1400, "height": 1000})
    context.set_default_timeout(SLOW_MS)
    found = context.new_page()
    said: list[str] = []
    own = served.address.partition("/jobs/")[0].rsplit("/", 2)[0]
    found.on("pageerror", lambda error: said.append(str(error)))
    # Software that stands in for a graphics card remarks on screenshots.
    found.on("console", lambda m: None if "GL Driver Message" in m.text else said.append(m.text))
    found.on(
        "request",
        lambda r: None if r.url.startswith((own, "data:")) else said.append(f"asked {r.url}"),
    )
    yield found
    context.close()
    assert said == []

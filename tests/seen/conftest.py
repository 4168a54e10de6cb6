"""Pages as a browser shows them and labels as a scanner reads them; see ``PACKAGES`` one folder up for the programs."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from typing import Final

import pytest
from playwright.sync_api import Browser, sync_playwright

FLAGS: Final = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Have one process alone run what needs the browser, where there are several."""
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.xdist_group("chromium"))


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """Debian's browser, started in half a second; a test asks it for ``new_page`` and closes that.

    It is not kept from one file to the next: as long as it runs, tests of others in this process would find
    themselves inside its event loop.
    """
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        yield browser
        browser.close()

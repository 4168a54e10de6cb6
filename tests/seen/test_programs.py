"""The programs themselves: a page drawn by one, a code read by the other."""

from __future__ import annotations

import subprocess
from pathlib import Path

import segno
from playwright.sync_api import Browser


def test_the_browser_draws_a_page_from_a_file(chromium: Browser, tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text("<p style='width: 2in'>6 blocks</p>", encoding="utf-8")
    with chromium.new_page() as page:
        page.goto((tmp_path / "page.html").as_uri())
        assert page.inner_text("p") == "6 blocks"
        assert page.locator("p").bounding_box()["width"] == 192


def test_the_scanner_reads_what_a_code_says(tmp_path: Path) -> None:
    segno.make("gang-4/03 course 7").save(tmp_path / "code.png", scale=4)
    read = subprocess.run(["zbarimg", "--quiet", "--raw", tmp_path / "code.png"], capture_output=True, check=True)
    assert read.stdout == b"gang-4/03 course 7\n"

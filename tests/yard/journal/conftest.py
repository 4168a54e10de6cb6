from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from blockrun.yard.journal import FILE, Journal, create_journal, open_journal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """An empty journal."""
    create_journal(tmp_path / FILE)
    return tmp_path / FILE


@pytest.fixture
def journal(path: Path) -> Iterator[Journal]:
    """The same, open."""
    with open_journal(path) as journal:
        yield journal

from __future__ import annotations

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode


class TextFile(SingleFileSnapshotExtension):
    """One plain text file a test; after an intended change: pytest --snapshot-update."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"


@pytest.fixture
def golden(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    return snapshot.use_extension(TextFile)

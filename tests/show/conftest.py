from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan


class TextFile(SingleFileSnapshotExtension):
    """One plain text file a test; after an intended change: pytest --snapshot-update."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"


@pytest.fixture
def golden(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    return snapshot.use_extension(TextFile)


@pytest.fixture(scope="session")
def demo_plan() -> Plan:
    """A plan of the demo yard as it was saved one day: 392 blocks, moulds without bases and with, cold days."""
    return load_plan(Path(__file__).parents[1] / "plans" / "demo")


@pytest.fixture(scope="session")
def slabs_plan() -> Plan:
    """A plan of examples/slabs as it was saved one day: slabs sawn by five saw plans, and a filler mould."""
    return load_plan(Path(__file__).parents[1] / "plans" / "slabs")

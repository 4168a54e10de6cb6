from __future__ import annotations

import contextlib
import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Final

import pytest
from hypothesis import settings

from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan

settings.register_profile("blockrun", deadline=None)  # the machines that run these tests have other work too
settings.load_profile("blockrun")

PLANS: Final = Path(__file__).parent / "plans"

PACKAGES: Final = {"chromium": "chromium", "zbarimg": "zbar-tools"}
"""Programs that tests/seen/ looks at pages with, and the Debian packages they come in."""

MISSING: Final = [program for program in PACKAGES if shutil.which(program) is None]

collect_ignore = ["seen"] if MISSING else []


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the gate ask for what a machine with only pip goes without."""
    parser.addoption("--seen", action="store_true", help="fail where the programs that tests/seen/ needs are missing")


def pytest_configure(config: pytest.Config) -> None:
    """Refuse to leave out what was asked for, and versions that put no tests in groups."""
    if MISSING and config.getoption("--seen"):
        raise pytest.UsageError(_left_out())
    # pytest-xdist 3.8 writes the group of a test where pytest looks no more from 9.2 on: each process would then work
    # out for itself what is to be worked out once
    if config.getoption("dist", "no") == "loadgroup" and not hasattr(pytest.Item, "_nodeid"):
        raise pytest.UsageError("this pytest-xdist puts no tests of this pytest in groups: install constraints.txt")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Have the tests of each invented yard run in one process: what is worked out of it is worked out once.

    Yards of a kind are the same in all files, others in one; a file that looks at many at once has a group of its own.
    What is in no group is handed out in this order: the page is run first, for one of its tests takes a minute, which
    would be one process's alone at the end.
    """
    items.sort(key=lambda item: item.path.name != "test_readme.py")
    for item in items:
        of_yard = item.callspec.params if isinstance(item, pytest.Function) and hasattr(item, "callspec") else {}
        if "seed" in of_yard and item.get_closest_marker("xdist_group") is None:
            kind = of_yard.get("kind", item.path.name)
            item.add_marker(pytest.mark.xdist_group(f"{kind} {of_yard['seed']}"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say what was left out."""
    if MISSING:
        terminalreporter.write_line(_left_out(), yellow=True, bold=True)


def _left_out() -> str:
    packages = " ".join(PACKAGES[program] for program in MISSING)
    return f"LEFT OUT: tests/seen/, for want of {' and '.join(MISSING)}. On Debian: apt-get install {packages}"


@pytest.fixture(scope="session")
def small_folder() -> Path:
    """A saved plan made by hand: fifteen blocks, four batches, two kinds of mould, one with bases."""
    return PLANS / "small"


@pytest.fixture(scope="session")
def small_plan(small_folder: Path) -> Plan:
    return load_plan(small_folder)


@pytest.fixture(scope="session")
def demo_plan() -> Plan:
    """A plan of the demo yard as it was saved one day: 392 blocks, moulds without bases and with, cold days."""
    return load_plan(PLANS / "demo")


@pytest.fixture(scope="session")
def slabs_plan() -> Plan:
    """A plan of examples/slabs as it was saved one day: slabs sawn by five saw plans, and a filler mould."""
    return load_plan(PLANS / "slabs")


@pytest.fixture
def full_disk() -> Callable[[int], AbstractContextManager[None]]:
    """A disk with room for so many bytes of a file: the system itself breaks a write off when it has taken these."""
    import resource  # not on every system

    @contextlib.contextmanager
    def room_for(n_bytes: int) -> Iterator[None]:
        soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (n_bytes, hard))
        try:
            yield
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))

    return room_for


@pytest.fixture
def inputs(small_folder: Path) -> tuple[Path, Path]:
    return small_folder / "inputs" / "site.yaml", small_folder / "inputs" / "order.yaml"

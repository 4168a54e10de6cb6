"""What is worked out of a tiny yard is worked out once: its tests run in one process where there are several."""

from __future__ import annotations

import pytest


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Group the tests of each yard, whatever file they are in."""
    for item in items:
        of_yard = item.callspec.params if isinstance(item, pytest.Function) and hasattr(item, "callspec") else {}
        if {"seed", "kind"} <= of_yard.keys():
            item.add_marker(pytest.mark.xdist_group(f"{of_yard['kind']} {of_yard['seed']}"))

"""Orders of one drawing in a folder of the test's own."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import Order
from tests.order.drawings.made import order_of


@pytest.fixture
def load(tmp_path: Path) -> Callable[..., Order]:
    """Load an order of one drawing."""
    return partial(order_of, tmp_path)


@pytest.fixture
def refusal(tmp_path: Path) -> Callable[..., str]:
    """Load an order that must be refused; gives what is said."""

    def refuse(*given: object) -> str:
        with pytest.raises(BadInput) as caught:
            order_of(tmp_path, *given)
        return str(caught.value)

    return refuse

"""The clock on the wall of a yard, set by a test."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest


def stands_at(monkeypatch: pytest.MonkeyPatch, at: str) -> None:
    """Have every command take it for that moment."""

    class Clock(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> Clock:
            return cls.fromisoformat(at)

    monkeypatch.setattr("blockrun.cli.clock.datetime", Clock)

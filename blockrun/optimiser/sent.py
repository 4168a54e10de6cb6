"""Values that one process sends another."""

from __future__ import annotations

from dataclasses import fields
from typing import Any


class Sent:
    """A dataclass that is sent as what it was made with, and made anew where it comes.

    What is compiled has no other way to be sent.
    """

    def __reduce__(self) -> tuple[Any, ...]:
        """What makes it anew."""
        made: Any = self
        return type(self), tuple(getattr(self, each.name) for each in fields(made) if each.init)

    def _derive(self, name: str, value: object) -> None:
        """Set what follows from the rest, where nothing else may be set any more."""
        object.__setattr__(self, name, value)

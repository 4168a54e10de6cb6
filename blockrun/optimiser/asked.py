"""What a day is asked to do, in batches and turns; the day does as much of it as goes into its minutes."""

from __future__ import annotations

from dataclasses import dataclass, field

from blockrun.optimiser.pack import Filling


@dataclass(frozen=True)
class Asked:
    """What a day is asked to do.

    ``blocks`` are castings by (mould, casting), ``turns`` by mould, ``batches`` as packed, ``strips`` how many
    turns of each mould to strip if it can be (``None``: all that are ripe), ``early`` how many turns
    of a mould had better be poured by a minute: (mould, minute, turns), ``chores`` whether the chores
    are done today; ``worth`` weighs each casting, 1 where it is not named.
    """

    blocks: dict[tuple[int, int], int] = field(default_factory=dict)
    turns: dict[int, int] = field(default_factory=dict)
    batches: tuple[Filling, ...] = ()
    strips: dict[int, int] | None = None
    early: tuple[tuple[int, int, int], ...] = ()
    chores: bool = True
    worth: dict[int, int] = field(default_factory=dict)

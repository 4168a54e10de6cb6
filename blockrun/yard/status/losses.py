"""How many blocks broke and were rejected, beside what was assumed."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from blockrun.planner.progress import LEAST_TOLD, Losses, Seen
from blockrun.yard.journal.events import Poured, Stripped
from blockrun.yard.losses import by_pour, cast_of, of_pours

if TYPE_CHECKING:
    from blockrun.planner.risk.rates import Rates
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import Pour, State

CHANCE: Final = 0.05
"""A mould is named whose blocks break so often that in fewer than one job in twenty any mould would by chance."""


def losses_of(state: State, entries: Iterable[Entry], rates: Rates) -> Losses:
    """Shares of what went wrong.

    Parameters
    ----------
    state : where blocks are.
    entries : those that stand and happened by then.
    rates : what was assumed.
    """
    told = list(entries)
    cast, rejected = cast_of(state), by_pour([state.rejected])
    in_moulds = _thrown_out(state)
    good = {pour: count for pour, count in cast.items() if in_moulds[pour] < count}
    thrown = sum(isinstance(entry.event, Poured) and not entry.event.filled for entry in told)
    batches = (*((int(pour not in good), 1) for pour in cast), *[(1, 1)] * thrown)
    return Losses(
        _broken(told, rates.broken.at_strip),
        Seen(batches, rates.flat_batches) if batches else None,
        of_pours(rejected, good, rates.broken.when_moved),
    )


def _thrown_out(state: State) -> Counter[Pour]:
    """Blocks of each pour that were thrown out of their moulds: a batch of which that is all was no good.

    What is rejected on a rack, be it all of a batch, was cast well enough to be stripped.
    """
    return by_pour(turn.lost for turn in state.turns) - by_pour([state.broken])


def _broken(entries: Iterable[Entry], assumed: float) -> Seen | None:
    """Blocks that broke at the strip, mould by mould as it was stripped."""
    strips: list[tuple[str, int, int]] = []
    for entry in entries:
        if isinstance(event := entry.event, Stripped):
            broken, whole = (sum(blocks.count for blocks in some) for some in (event.broken, event.whole))
            strips += [(event.mould, broken, broken + whole)] if broken + whole else []
    groups = tuple((broken, count) for _, broken, count in strips)
    return Seen(groups, assumed, _most(strips)) if groups else None


def _most(strips: Iterable[tuple[str, int, int]]) -> tuple[str, int, int] | None:
    """The mould out of which more blocks broke than chance makes, of however many moulds there are."""
    by_mould: dict[str, tuple[int, int]] = {}
    for mould, broken, count in strips:
        before = by_mould.get(mould, (0, 0))
        by_mould[mould] = (before[0] + broken, before[1] + count)
    mould = max(by_mould, key=lambda name: (by_mould[name][0], name))
    bad, of = by_mould[mould]
    all_bad, all_of = map(sum, zip(*by_mould.values(), strict=True))
    if bad < LEAST_TOLD or of == all_of or len(by_mould) * _at_least(bad, all_bad, of / all_of) >= CHANCE:
        return None
    return mould, bad, of


def _at_least(held: int, n: int, share: float) -> float:
    """The chance that of n things so many or more fall to what has a share of them, 0 < share < 1."""

    def just(k: int) -> float:  # by logarithms: of a thousand things there are more ways than a float can hold
        ways = math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)
        return math.exp(ways + k * math.log(share) + (n - k) * math.log1p(-share))

    return math.fsum(just(k) for k in range(held, n + 1))

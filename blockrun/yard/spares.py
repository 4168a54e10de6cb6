"""How many spares are worth having, for blocks that break."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from blockrun.planner.risk.counted import SparesWorth
from blockrun.yard.luck import SPARES, stream

if TYPE_CHECKING:
    from blockrun.planner.risk.rates import Rates
    from blockrun.yard.run import Outcome
    from blockrun.yard.setting import Setting
    from blockrun.yard.sweep import Played

SELDOM: Final = 0.05
"""Broken blocks alone are to make a course late in fewer runs than this share, one in twenty."""

_MOST: Final = 60
"""Spares of one mark that are looked at."""

Counts = npt.NDArray[np.int64]


def spares_worth(setting: Setting, rates: Rates, calm: Outcome, played: Sequence[Played], seed: int) -> SparesWorth:
    """Count how many spares would have been of use.

    Parameters
    ----------
    calm : the plan with nothing going wrong: blocks that are late in it are not missed for want of spares.
    played : runs 0, 1, 2, ... of a seed.
    """
    late = np.array([run.no_spares.late_blocks for run in played], dtype=np.int64)
    missing = np.maximum(late - np.array(calm.late_blocks, dtype=np.int64), 0)
    names = [(mark, setting.mixes[setting.casts[nth][0][1].mix]) for nth, mark in enumerate(setting.marks)]
    wanted = fewest(needed(missing, _good_spares(setting, rates, len(played), seed)))
    return SparesWorth(
        None if wanted is None else {names[mark]: count for mark, count in sorted(wanted.items())},
        {names[mark]: len(days) for mark, days in sorted(setting.days_of_spares.items())},
        _share(any(more > less for more, less in zip(r.broken.late, calm.late, strict=True)) for r in played),
        float((missing > 0).any(axis=1).mean()),
    )


def _good_spares(setting: Setting, rates: Rates, runs: int, seed: int) -> npt.NDArray[np.bool_]:
    """Which spares would be whole, were there so many of each mark: shape (n_runs, n_marks, most)."""
    shape = (len(setting.marks), _MOST)
    drawn = np.stack([stream(seed, run, SPARES).random(shape) for run in range(runs)])
    return drawn >= rates.broken.share


def needed(missing: Counts, good: npt.NDArray[np.bool_]) -> Counts:
    """Spares to be cast so that as many are whole as are missing: shape (n_runs, n_marks); too many where none do."""
    whole = np.cumsum(good, axis=2)
    enough = (whole < missing[:, :, np.newaxis]).sum(axis=2) + 1
    return np.where(missing == 0, 0, enough)


def fewest(asked: Counts, seldom: float = SELDOM) -> Counter[int] | None:
    """Few spares by mark, so that in all but a few runs there are as many as are asked for of every mark.

    One more of the mark that helps most runs, until it is enough; then those that are not needed are taken out again.
    That is nearly the fewest, not proven so.

    Parameters
    ----------
    asked : shape (n_runs, n_marks).
    seldom : runs that may lack some are fewer than this share.

    Returns
    -------
    None where not even the most looked at are enough.
    """
    spares = np.zeros(asked.shape[1], dtype=np.int64)
    if not _enough(asked, np.full_like(spares, _MOST), seldom):
        return None
    while not _enough(asked, spares, seldom):
        short = np.maximum(asked - spares, 0)
        lacking = short[short.any(axis=1)]
        # a run that lacks one block of one mark is helped by that at once; others by as much less as they lack
        helps = ((lacking > 0) / lacking.sum(axis=1, keepdims=True) ** 2).sum(axis=0)
        spares[int(np.argmax(helps))] += 1
    for mark in np.argsort(-spares, kind="stable"):
        while spares[mark]:
            spares[mark] -= 1
            if not _enough(asked, spares, seldom):
                spares[mark] += 1
                break
    return Counter({mark: count for mark, count in enumerate(spares.tolist()) if count})


def _enough(asked: Counts, spares: Counts, seldom: float) -> bool:
    return bool((asked > spares).any(axis=1).mean() < seldom)


def _share(which: Iterable[bool]) -> float:
    found = list(which)
    return sum(found) / len(found)

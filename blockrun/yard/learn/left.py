"""A volume of which each batch tells but bounds, none of them sharp: which is likeliest, and which nearly as likely."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

STEP_L: Final = 0.5
"""Volumes are told in such steps."""

LIKELY: Final = 3.841459 / 2
"""How far the logarithm of the likelihood falls to the ends of an interval of 95 %: half of the quantile of
chi-squared with one degree of freedom."""


@dataclass(frozen=True)
class Bounds:
    """What one batch tells of the volume left behind, in litres.

    Attributes
    ----------
    least : it is more than that; minus infinity for a batch that was not short.
    most : it is no more than that.
    sigma : one deviation of either.
    """

    least: float
    most: float
    sigma: float

    @property
    def short(self) -> bool:
        """Whether it had no mix for a cavity."""
        return self.least > -math.inf

    def log_likelihood(self, left_l: float) -> float:
        """Of a volume left behind."""
        share = _below((self.most - left_l) / self.sigma) - _below((self.least - left_l) / self.sigma)
        return math.log(max(share, 1e-12))


def _below(deviations: float) -> float:
    return (1 + math.erf(deviations / math.sqrt(2))) / 2


@dataclass(frozen=True)
class Left:
    """The volume left behind that is likeliest, and those nearly as likely, in litres."""

    likeliest: float
    low: float
    high: float


def left_of(batches: Sequence[Bounds], most_l: float) -> Left:
    """What batches tell together of the volume left behind.

    Parameters
    ----------
    batches : one or more.
    most_l : what it can be at the most.

    Source
    ------
    Likelihood of values of which only bounds are known, normal about them, and its ratio.
    """
    volumes = [STEP_L * step for step in range(int(most_l / STEP_L) + 1)]
    logs = [math.fsum(one.log_likelihood(volume) for one in batches) for volume in volumes]
    best = max(logs)
    likely = [volume for volume, log in zip(volumes, logs, strict=True) if best - log <= LIKELY]
    return Left(volumes[logs.index(best)], likely[0], likely[-1])

"""A volume of which each batch tells but bounds, none of them sharp: which is likeliest, and which nearly as likely."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

STEP_L: Final = 0.5
"""Volumes are told in such steps."""

SCATTERS: Final = (0.02, 0.1, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0)
"""How rough a yard may be against what is usual. Each volume is tried with the one that suits it best, else a yard
that works to the litre would look as if nothing at all stayed behind: its batches are short less often than usual."""

LIKELY: Final = 5.991465 / 2
"""How far the logarithm of the likelihood falls to the ends of the interval: half of the quantile for 95 % of
chi-squared with two degrees of freedom, for volume and scatter together; by one alone it held in 92 of 100 trials."""


@dataclass(frozen=True)
class Bounds:
    """What one batch tells of the volume left behind, in litres.

    Attributes
    ----------
    least : it is more than that; minus infinity for a batch that was not short.
    most : it is no more than that.
    sigma : one deviation of either, as is usual.
    """

    least: float
    most: float
    sigma: float

    @property
    def short(self) -> bool:
        """Whether it had no mix for a cavity."""
        return self.least > -math.inf

    def log_likelihood(self, left_l: float, scatter: float) -> float:
        """Of a volume left behind, in a yard so many times as rough as is usual."""
        sigma = self.sigma * scatter
        half = STEP_L / 2  # a volume stands for those half a step about it
        share = _below((self.most + half - left_l) / sigma)
        if self.short:
            share -= _below((self.least - half - left_l) / sigma)
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

    Returns
    -------
    Of volumes that are as likely the greatest, and where no batch was short of those nearly as likely, too: such
    batches tell no more than how much it is at the most, and to plan with too little leaves cavities empty.

    Source
    ------
    Likelihood of values of which only bounds are known, normal about them, and its ratio, the scatter profiled out.
    """
    volumes = [STEP_L * step for step in range(int(most_l / STEP_L) + 1)]
    logs = [
        max(math.fsum(one.log_likelihood(volume, scatter) for one in batches) for scatter in SCATTERS)
        for volume in volumes
    ]
    best = max(logs)
    likely = [volume for volume, log in zip(volumes, logs, strict=True) if best - log <= LIKELY]
    best_of = [volume for volume, log in zip(volumes, logs, strict=True) if best - log <= 1e-9]
    return Left(best_of[-1] if any(one.short for one in batches) else likely[-1], likely[0], likely[-1])

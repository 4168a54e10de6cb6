"""Batches with so little foam that nobody can time it by the generator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import LEAST_S
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site

_SECONDS_A_MINUTE = 60


def untimed_said(site: Site, tables: PlanTables) -> Iterator[str]:
    """Say which batches they are, and what to do; nothing where there is none."""
    seconds = tables.batches["foam_l"] / site.foam_generator.rate_l_min * _SECONDS_A_MINUTE
    numbers = [str(number) for number in tables.batches.loc[seconds < LEAST_S, "batch"]]
    if numbers:
        batches = f"batch{'es' if len(numbers) > 1 else ''} {listed(numbers)}"
        yield (
            f"The foam of {batches} takes the generator less than {LEAST_S} s, too little to time: measure it by the "
            "mark of a bucket, or write a larger least_volume of the mixer."
        )

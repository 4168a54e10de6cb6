"""What goes into a batch: cement, water and foam by the cubic metre and by the mixer load."""

from blockrun.mix.asked import DensityFor, proportions_of, solids_of
from blockrun.mix.batches import BatchSize, batch_sizes, why_no_batch
from blockrun.mix.notes import notes
from blockrun.mix.proportions import Proportions, proportions
from blockrun.mix.solids import Solids

__all__ = [
    "BatchSize",
    "DensityFor",
    "Proportions",
    "Solids",
    "batch_sizes",
    "notes",
    "proportions",
    "proportions_of",
    "solids_of",
    "why_no_batch",
]

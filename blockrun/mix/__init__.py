"""What goes into a batch: cement, water and foam by the cubic metre and by the mixer load."""

from blockrun.mix.batches import BatchSize, batch_sizes, why_no_batch
from blockrun.mix.notes import notes
from blockrun.mix.proportions import Proportions, proportions, proportions_of

__all__ = ["BatchSize", "Proportions", "batch_sizes", "notes", "proportions", "proportions_of", "why_no_batch"]

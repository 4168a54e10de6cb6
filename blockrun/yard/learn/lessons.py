"""All that the yard can learn of itself by what was recorded."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from blockrun.files.rewriting import value_at
from blockrun.order.mixes_alone import load_mixes
from blockrun.planner.learned import Finding, Lessons
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.plan_files import plan_files
from blockrun.units import alike
from blockrun.yard.learn.ages import StripAge
from blockrun.yard.learn.batches import batch_times
from blockrun.yard.learn.crushed import CubesCrushed
from blockrun.yard.learn.drum import Drums
from blockrun.yard.learn.foam import foam_weight, mix_weights
from blockrun.yard.learn.past import Past
from blockrun.yard.learn.spares import spares_worth
from blockrun.yard.learn.strips import strip_times
from blockrun.yard.ready.air import site_as_it_went

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry


def lessons_of(plan: AsPlanned, entries: Iterable[Entry], before: Sequence[AsPlanned] = ()) -> Lessons:
    """What the journal of a plan tells of the values of its site.

    Parameters
    ----------
    plan : as saved.
    entries : of its journal, in any order.
    before : plans of the same job before it, by which some of them were made.

    Raises
    ------
    BadPlan, BadInput : a table of the plan, or the copy of its order, cannot be read.
    """
    past = Past(plan, tuple(entries), tuple(before))
    mixes = mix_proportions(plan.site, load_mixes(plan.order[""], files=plan.order))
    went = site_as_it_went(plan.site, past.state.air, frozenset(past.state.lost))
    cubes = CubesCrushed(past, mixes, went)
    findings: tuple[Finding, ...] = (
        StripAge(past, went).found(),
        *cubes.found(),
        *batch_times(past),
        *strip_times(past),
        foam_weight(past),
        *mix_weights(past, mixes),
        *Drums(past, mixes).found(),
        spares_worth(past),
    )
    return Lessons(len(past.entries), tuple(_in_words(finding, plan) for finding in findings), cubes.rows)


def _in_words(finding: Finding, plan: AsPlanned) -> Finding:
    """A finding whose change is told as the site of the plan writes it."""
    change = finding.change
    if change is None:
        return finding
    written = value_at(plan_files(plan.directory)[0][""], change.where)
    words = (written, alike(change.new, change.dimension, written))
    return replace(finding, change=replace(change, words=words))

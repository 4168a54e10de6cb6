"""What is cast, until it is stripped: poured, thrown, sides."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from blockrun import units
from blockrun.errors import BadInput
from blockrun.planner.folder import earlier_plans
from blockrun.yard.journal.events import AnyEvent, Fill, Poured, SidesOff
from blockrun.yard.now import Standing
from blockrun.yard.off_card import wet_by_plan_kg_m3
from blockrun.yard.record.extra import EXTRA, OF_NO_PLAN, filled_extra, next_extra
from blockrun.yard.record.fills import fills_typed, planned_fills
from blockrun.yard.record.known import Known
from blockrun.yard.record.said import entry_said
from blockrun.yard.record.weights import weights_of
from blockrun.yard.record.words import Words

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned


def poured(words: Words, known: Known) -> list[AnyEvent]:
    """``7``, ``7 gang-4/1 gang-4/2``, ``7 without gang-4/3``, ``7 gang-4/3=gang-4/5``, ``7 again``, ``extra ...``."""
    if words.take_if(EXTRA):
        mix, fills = filled_extra(words, known)
        return [_poured(known, OF_NO_PLAN, next_extra(known), mix, fills)]
    number = _made(words, known, "poured", "extra MOULD MARK ... mix NAME")
    mix = known.plan.batches[number][0].mix
    plan, was = known.plan.recorded_as(number)
    return [_poured(known, plan, was, mix, fills_typed(words, known, number))]


def thrown(words: Words, known: Known) -> list[AnyEvent]:
    """``7``, ``7 flat``: a batch that was mixed, and thrown away before any of it was in a mould; then why."""
    if words.peek.lower() == EXTRA:
        todo = "No plan knows what it took: count what is left, such as blockrun record DIR counted cement 12"
        raise BadInput("one that no plan has is not recorded as thrown away", todo)
    number = _made(words, known, "thrown")
    batch = known.plan.batches[number]
    empty = [fill.model_copy(update={"marks": ("",) * len(fill.marks)}) for fill in planned_fills(batch)]
    plan, was = known.plan.recorded_as(number)
    event = _poured(known, plan, was, batch[0].mix, empty)
    return [event.model_copy(update={"remark": ", ".join(filter(None, (words.rest(), event.remark)))})]


def _made(words: Words, known: Known, how: str, extra: str = "") -> int:
    """The number of a batch of the plan that was made, and was not before, unless that is told."""
    number = words.number(f"the number of a batch{', or extra' * bool(extra)}")
    batches = known.plan.batches
    if number not in batches:
        todo = f" One that no plan has: blockrun record DIR {how} {extra}" * bool(extra)
        raise BadInput(f"the plan has no batch {number}", f"{_batches(number, known)}{todo}")
    again = words.take_if("again") or known.again
    if (before := known.poured(number)) and not again:
        todo = f"If it was made a second time: blockrun record DIR {how} {number} again"
        became, by = _recorded(number, known)
        raise BadInput(f"batch {number} was {became} already, {before[-1]:%Y-%m-%d %H:%M}{by}", todo)
    return number


def _batches(number: int, known: Known) -> str:
    """Which batches the plan has, and how to record one of the plan before, which this one was made without."""
    plan = known.plan
    said = f"It has the batches {units.runs_listed(plan.batches)}." if plan.batches else "It has none."
    if plan.begun is None:
        return said
    if number in plan.begun.poured:
        return f"It was poured before this plan was made, and no good block is left of it. {said}"
    times = _plans_back(number, plan)
    if not times:
        return said
    which, again = ("the plan before", "") if times == 1 else (f"{times} plans before", f", {times} times")
    todo = f"One of {which} that nobody recorded: go back to that plan, record it there and plan anew"
    return f"{said} {todo}: blockrun replan DIR --undo" + again


def _plans_back(number: int, plan: AsPlanned) -> int:
    """How many plans before the one in hand the last was that had a batch of a number; 0 where none had."""
    from blockrun.planner.earlier import begun_of
    from blockrun.planner.saved_rows import planned_batches

    folders, begun, times = earlier_plans(plan.directory), plan.begun, 0
    while begun is not None and begun.after in folders:
        folder, times = folders[begun.after], times + 1
        if any(one.batch == number for one in planned_batches(folder)):
            return times
        begun = begun_of(folder)
    return 0


def _recorded(number: int, known: Known) -> tuple[str, str]:
    """What became of a batch by the entry that came in last; and which that is, and by whom, where that is told."""
    batch = known.plan.recorded_as(number)
    of = (
        (one.number, one.event)
        for one in known.entries
        if isinstance(one.event, Poured) and batch == (one.event.plan, one.event.batch)
    )
    entry, event = max(of, key=lambda one: one[0], default=(0, None))
    if event is None:
        return "poured", ""
    became = "poured" if event.filled else "thrown away"
    return became, f", {entry_said(entry)}{f', by {event.who}' * bool(event.who)}"


def _poured(known: Known, plan: str, number: int, mix: str, fills: Iterable[Fill]) -> Poured:
    taken = known.measured
    weights = weights_of(taken, known.plan.site)
    return Poured(
        batch=number,
        plan=plan,
        mix=mix,
        fills=tuple(fills),
        foam_g_l=weights.foam,
        wet_density_kg_m3=weights.wet,
        foam_due_g_l=None if weights.foam is None else known.plan.site.foam_generator.density_kg_m3,
        wet_due_kg_m3=None if weights.wet is None else wet_by_plan_kg_m3(mix, known.plan),
        mix_degc=_degrees(taken.temperature),
        remark=weights.said,
    )


def _degrees(typed: str | None) -> float | None:
    return None if typed is None else units.read(units.with_point(typed), "temperature").value


def sides(words: Words, known: Known) -> list[AnyEvent]:
    """``tray-3/2``, ``tray-3/1-2``: the sides come off the base they are on."""
    return [_sides(known.standing(name), known) for name in known.moulds(words)]


def _sides(here: Standing, known: Known) -> SidesOff:
    if not here.base:
        raise BadInput(
            f"{here.mould} has no base: its sides come off with the strip",
            f"Record the strip: {known.strip_typed(here.mould, here.batches)}",
        )
    if not here.sides_on:
        raise BadInput(
            f"the sides are off {here.base} already",
            f"If its blocks are out of it: {known.strip_typed(here.base, here.batches)}",
        )
    return SidesOff(mould=here.mould, base=here.base)

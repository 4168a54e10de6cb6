"""What becomes of blocks off the rack, and of bad ones: stacked, laid, rejected; and of those in doubt, passed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from typing import Final, Literal

from blockrun.errors import BadInput
from blockrun.yard.called import batch_name
from blockrun.yard.journal.events import AnyEvent, Laid, Passed, Rejected, Stacked
from blockrun.yard.now import BatchNo, Kind, Pile, Standing, State
from blockrun.yard.record.blocks import blocks_of, blocks_typed, is_mark, without
from blockrun.yard.record.crushing import batch_meant
from blockrun.yard.record.extra import EXTRA
from blockrun.yard.record.known import Known
from blockrun.yard.record.mingled import OTHERS, Lots, apart_now, check_which, of_typed
from blockrun.yard.record.moves import where_it_went
from blockrun.yard.record.named import one_meant
from blockrun.yard.record.words import Words, is_number


def stacked(words: Words, known: Known) -> list[AnyEvent]:
    """``east``, ``east 12 full of 7``, ``... to the gate``: all that has been on the rack long enough, unless told."""
    racks = known.plan.site.racks
    only = len(racks) == 1 and not known.is_rack(words.peek)
    rack = racks[0].name if only else known.rack(words.take("a rack"))
    pile = known.state.racks.get(rack, Pile())
    blocks = blocks_typed(words, pile.counts.keys() or known.kinds)
    of = of_typed(words, known, pile.lots()) if blocks else ()
    where = words.rest() if words.take_if("to") else ""
    if not blocks:
        blocks = blocks_of(known.due(pile))
    if not blocks:
        first = min((known.off_rack(lot.since) for _, lot in pile.lots()), default=None)
        todo = (
            f"The first leave it {first:%Y-%m-%d %H:%M}; if some were taken all the same, say how many."
            if first
            else None
        )
        raise BadInput(f"nothing on rack {rack} is to leave it yet" if first else f"rack {rack} is empty", todo)
    return [Stacked(rack=rack, where=where, blocks=blocks, of=of)]


def laid(words: Words, known: Known) -> list[AnyEvent]:
    """``north 4``, ``north 4 22 full``, ``4``: the whole of the course, unless told."""
    part = _part(words, known)
    course = None
    if words.is_number and not is_mark(words.second, known.kinds):
        course = words.number("the number of a course")
    due = _due(known, part, course)
    if course is not None and not due:
        courses = sorted(one for of, one in known.plan.courses if of == part and one is not None)
        raise BadInput(f"{part} has no course {course}", f"It has {', '.join(map(str, courses)) or 'none'}.")
    blocks = blocks_typed(words, due.keys() or known.kinds)
    of = of_typed(words, known, _lots(known.state)) if blocks else ()
    if not blocks:
        before = known.state.laid.get((part, course or 0), Pile())
        blocks = blocks_of(without(due, before.counts)) if course is not None else ()
    if not blocks:
        all_there = course is not None
        raise BadInput(f"all of {part} course {course} is laid already" if all_there else "how many of which mark?")
    return [Laid(part=part, course=course, blocks=blocks, apart=apart_now(known), of=of)]


def _lots(state: State) -> Lots:
    """All that may be laid."""
    return (lot for pile in (*state.stacks.values(), *state.racks.values(), *state.out.values()) for lot in pile.lots())


def _part(words: Words, known: Known) -> str:
    parts = sorted(known.plan.parts)
    if len(parts) == 1 and (not words.peek or is_number(words.peek)):
        return parts[0]
    return one_meant(words.take("a part"), parts, "part")


def _due(known: Known, part: str, course: int | None) -> Mapping[Kind, int]:
    """What a course is of."""
    return known.plan.courses.get((part, course), Counter())


def rejected(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3 flat``, ``gang-4/1-2 flat``, ``east 2 full cracked``, ``west frost``, ``stack 1 C chipped``.

    All of a mould or of a rack, unless told; then why.
    """
    return [event.model_copy(update={"apart": apart_now(known)}) for event in _rejected(words, known)]


def _rejected(words: Words, known: Known) -> list[Rejected]:
    place, state = words.peek, known.state
    if place.lower() == "stack":
        words.take("a place")
        return [_thrown(words, "stack", "", list(state.stacks.values()), known)]
    if known.is_rack(place):
        name = known.rack(words.take("a place"))
        return [_thrown(words, "rack", name, [state.racks.get(name, Pile())], known)]
    if place.lower() == "batch":
        words.take("a place")
        raise BadInput("blocks are rejected, not a batch", _of_batch(words.peek, known))
    words.check("a mould, a rack or stack")
    names = known.moulds(words)
    if len(names) == 1 and state.standing_in(names[0]) is None and (beside := state.out.get(names[0])):
        return [_thrown(words, "mould", names[0], [beside], known)]
    here = [_in_mould(name, known) for name in names]
    if len(here) == 1:
        return [_thrown(words, "mould", here[0].place, [here[0].blocks], known)]
    if words.is_number:
        todo = f"One alone, such as: blockrun record DIR rejected {here[0].place} {words.peek} MARK WHY"
        raise BadInput("of which of these moulds?", todo)
    why = _why(words)
    return [Rejected(place="mould", name=one.place, blocks=blocks_of(one.blocks.counts), why=why) for one in here]


def _in_mould(name: str, known: Known) -> Standing:
    """What stands in a mould; where it is out of it, how to throw it out from where it went."""
    try:
        return known.standing(name)
    except BadInput as fault:
        rack, blocks = where_it_went(name, known)
        if rack:
            how = f"blockrun record DIR rejected {rack} {blocks} WHY"
            fault.todo = f"{fault.todo} If it is what came out of it: {how}"
        raise


def passed(words: Words, known: Known) -> list[AnyEvent]:
    """``7 cubes gave 0.7 MPa``, ``extra 1 scales were wet``: a batch outside its card may be used; and why."""
    plan, number = _apart_of_another_plan(words, known) or batch_meant(words, known)[0]
    if not known.state.poured.get((plan, number)):
        batch = batch_name((plan, number), known.plan).whole
        raise BadInput(f"nobody recorded that {batch} was poured", "Record its pour first.")
    return [Passed(batch=number, plan=plan, why=_why(words))]


def _apart_of_another_plan(words: Words, known: Known) -> BatchNo | None:
    """The batch that is named next, where this plan poured none of that number, but another plan one that is off."""
    if not words.is_number or known.poured(int(words.peek)):
        return None
    of_others = [batch for batch, _ in known.apart if batch[0] and known.plan.number_of(batch) is None]
    found = next((batch for batch in reversed(of_others) if batch[1] == int(words.peek)), None)
    if found is not None:
        words.number("the number of its batch")
    return found


def _of_batch(number: str, known: Known) -> str:
    """What to type where a batch is bad: before it was poured, or in its moulds."""
    batch = int(number) if is_number(number) else 0
    of = known.plan.recorded_as(batch)
    moulds = [name for name, here in known.state.moulds.items() if of in here.batches] or ["MOULD ..."]
    in_moulds = f"blockrun record DIR rejected {' '.join(moulds)} WHY"
    return f"In its moulds: {in_moulds}. Before it was in any: blockrun record DIR thrown {batch or 'BATCH'} WHY"


def _thrown(
    words: Words, place: Literal["mould", "rack", "stack"], name: str, piles: Collection[Pile], known: Known
) -> Rejected:
    there: Counter[Kind] = sum((Counter(pile.counts) for pile in piles), Counter())
    blocks = blocks_typed(words, there.keys())
    if not blocks and (place == "stack" or is_mark(words.peek, there.keys())):
        where = name or place
        mark = words.peek if is_mark(words.peek, there.keys()) else "MARK"
        todo = f"Write it as: blockrun record DIR rejected {where} N {mark} WHY"
        raise BadInput(f"how many of which mark on {'the stack' if place == 'stack' else name}?", todo)
    if not there:
        raise BadInput(f"{place} {name} is empty" if name else f"the {place} is empty", "See: blockrun ready DIR")
    told = blocks and words.peek.lower() == "of" and (is_number(words.second) or words.second.lower() in _BATCHES)
    of = of_typed(words, known, (lot for pile in piles for lot in pile.lots())) if told else ()
    if not of:
        lots = (lot for pile in piles for lot in pile.lots())
        check_which(blocks, known, lots, f"blockrun record DIR rejected {name or place} {{}} WHY")
    return Rejected(place=place, name=name, blocks=blocks or blocks_of(there), why=_why(words), of=of)


_BATCHES: Final = frozenset({"batch", EXTRA, OTHERS})
"""Words behind ``of`` that tell a batch, and not why."""


def _why(words: Words) -> str:
    why = words.rest()
    if not why:
        raise BadInput("why? That is missing", "Write it last, in a word or some, such as cracked.")
    return why

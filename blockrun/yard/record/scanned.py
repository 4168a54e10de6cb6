"""Labels that were scanned among the words: each stands for the mould it is on, or for the batch in that."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.planner.as_planned import load_as_planned
from blockrun.planner.folder import earlier_plans
from blockrun.planner.label_code import FORMAT, IDS, LabelCode, read_label_code
from blockrun.units import listed
from blockrun.yard.record.extra import EXTRA
from blockrun.yard.record.off_label import OF_BLOCKS, of_blocks
from blockrun.yard.record.words import is_number

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.now import BatchNo
    from blockrun.yard.record.known import Known

_OF_A_BATCH: Final = frozenset({"poured", "thrown", "passed", "test"})
"""What is told of a batch: a label there is of that, until its number is told."""

_NOTE: Final = "note"
"""Its words are free, whatever they look like."""

_BEFORE_THE_IDS: Final = 3
_RACK: Final = 2
"""Place of the rack among the ids of a label that is on one."""
_TO: Final = "to"
_OF_A_RACK: Final = "counted"
_STACKED: Final = "stacked"
"""No block of a mould is, before it was stripped."""
_BY_NAME: Final = "Take an old label off, and type the name of the mould or the number of the batch."


@dataclass(frozen=True)
class _OnRack:
    """A label on a rack whose mould holds its blocks no more: where that was, of which batches, and the rack."""

    place: str
    batches: frozenset[BatchNo]
    rack: str


def without_labels(typed: Iterable[str], known: Known) -> list[list[str]]:
    """The words with what each label stands for in its place; its text may be one word, or several as a scanner types.

    Returns
    -------
    One list of words; or several that are to be recorded one after the other, where labels stand for blocks on a rack.

    Raises
    ------
    BadInput : a label is of another plan, or stands for nothing here.
    """
    typed = [*typed]
    if typed[:1] == [_NOTE]:
        return [typed]
    left = [word for words in typed for word in (words.split(" ") if words.startswith(FORMAT) else [words])]
    found: list[str | _OnRack] = []
    while left:
        if left[0] != FORMAT:
            found.append(left.pop(0))
            continue
        n_words = _BEFORE_THE_IDS + len(IDS.get("".join(left[1:2]), ()))
        before = [word if isinstance(word, str) else word.place for word in found]
        found.append(_meant(read_label_code(" ".join(left[:n_words]).rstrip(",;")), before, known))
        del left[:n_words]
    return list(_said(found, known))


def _said(found: Sequence[str | _OnRack], known: Known) -> Iterator[list[str]]:
    """What is recorded, with words in the place of labels on racks."""
    words = [word for word in found if isinstance(word, str)]
    labels = [word for word in found if not isinstance(word, str)]
    if labels and words[0].lower() in OF_BLOCKS and [*found[1 : 1 + len(labels)]] == labels:
        for label in labels:
            yield from of_blocks(words[0], (label.place, label.batches, label.rack), words[1:], known)
        return
    named = [_rack_named(found, number, word) for number, word in enumerate(found)]
    yield named


def _rack_named(found: Sequence[str | _OnRack], number: int, word: str | _OnRack) -> str:
    """The word, or the rack of a label where a rack may be named.

    Raises
    ------
    BadInput : none may be.
    """
    if isinstance(word, str):
        return word
    if found[number - 1] == _TO or found[0] == _OF_A_RACK:
        return word.rack
    what = f"this label is on a rack, and its blocks stand in {word.place} no more"
    raise BadInput(what, f"Of such a label can be told: {', '.join(OF_BLOCKS)}. Else type what is meant.")


def _meant(label: LabelCode, before: Sequence[str], known: Known) -> str | _OnRack:
    if not before:
        raise BadInput("a label does not tell what happened", "Say it first: blockrun record DIR stripped, then scan.")
    if label.on == "stack":
        raise BadInput("this label is on a stack, and not on a mould", "Write: blockrun record DIR laid PART COURSE")
    mould, turn = label.ids[:2]
    plan = _printed_by(label, known.plan)
    casts = [cast for cast in plan.casts if (cast.mould, str(cast.turn)) == (mould, turn)] if plan else []
    if plan is None or not casts:
        raise BadInput(f"this label is of another plan ({label.plan}; this one is {known.plan.id})", _BY_NAME)
    batches_of = {plan.recorded_as(cast.batch) for cast in casts}
    if plan is not known.plan:  # what was not poured by it is planned anew, and may be anything
        batches_of &= known.state.poured.keys()
    batches = sorted(filter(None, map(known.plan.number_of, batches_of)))
    if not batches:
        what = f"this label is of the plan before ({label.plan}), by which nothing was poured into it"
        raise BadInput(what, _BY_NAME)
    is_of_batch = before[0].lower() in _OF_A_BATCH
    if is_of_batch and not any(is_number(word) or word.lower() == EXTRA for word in before):
        return _only(batches, f"turn {turn} of {mould}")
    here = known.state.moulds.get(casts[0].place)
    stands = here is not None and bool(batches_of & {*here.batches})
    if stands:
        _check_out(casts[0].place, before)
    if label.on == "rack" and not is_of_batch and not stands:
        return _OnRack(casts[0].place, frozenset(batches_of), label.ids[_RACK])
    if here is not None and not is_of_batch and not stands:
        raise BadInput(f"this label is of turn {turn} of {mould}, and another stands in it", _BY_NAME)
    return casts[0].place


def _only(batches: Sequence[int], where: str) -> str:
    """The one batch that is somewhere, as it is typed.

    Raises
    ------
    BadInput : there are several.
    """
    if len(batches) > 1:
        said = f"batches {listed([str(batch) for batch in batches])} go into {where}"
        raise BadInput(said, "Type the number of the batch that is meant.")
    return str(batches[0])


def _check_out(place: str, before: Sequence[str]) -> None:
    """Refuse that blocks are stacked that stand in their mould still.

    Raises
    ------
    BadInput : they are.
    """
    if before[0].lower() == _STACKED and _TO not in before:
        what = f"what this label stands for is in {place} by what is recorded"
        raise BadInput(what, f"First: blockrun record DIR stripped {place}")


def _printed_by(label: LabelCode, plan: AsPlanned) -> AsPlanned | None:
    """The plan that a label is of: the one in hand, or one of the same job before it; None where it is of neither."""
    if label.plan == plan.id:
        return plan
    folders = [folder for _, folder in sorted(earlier_plans(plan.directory).items(), reverse=True)]
    return next((one for one in map(load_as_planned, folders) if one.id == label.plan), None)

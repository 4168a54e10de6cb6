"""The answer of the optimiser written out as the plan's tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import timedelta

from blockrun.mix import BatchSize
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.state import Batch, Span, State
from blockrun.planner.assign import Block, Placed, place_turns, rack_blocks, ready_at, share_blocks
from blockrun.planner.begun.books import besides
from blockrun.planner.begun.written import gone_on, slabs_before_l
from blockrun.planner.brief import Brief
from blockrun.planner.cubes import cube_rows, set_l
from blockrun.planner.minutes import days_of
from blockrun.planner.tables import PlanTables, table
from blockrun.planner.uses import AGENT, CEMENT
from blockrun.site.calendar import moment_at
from blockrun.site.mould_names import base_name, mould_name

_DIGITS = 6
Row = dict[str, object]


def write_tables(brief: Brief, state: State) -> PlanTables:
    """Tables of a finished plan, with what had happened before it was made anew."""
    numbers: Mapping[int, int]
    if brief.history is None:
        numbers = {id(batch): number for number, batch in enumerate(_in_order(state), start=1)}
        placed = place_turns(brief, state.turns)
    else:
        whole = gone_on(brief.history, state)
        state, numbers = whole.state, whole.numbers
        placed = place_turns(brief, state.turns[len(whole.before) :], whole.before)
    blocks = share_blocks(brief, placed)
    return PlanTables(
        casts=table("casts", _casts(brief, placed, blocks, numbers)),
        batches=table("batches", _batches(brief, state, placed, numbers)),
        tasks=table("tasks", _tasks(brief, state, placed, numbers)),
        materials=table("materials", _materials(brief, state)),
        sawing=table("sawing", _sawing(brief, blocks)),
        cubes=table("cubes", _cubes(brief, state, numbers)),
    )


def _in_order(state: State) -> list[Batch]:
    return sorted(state.batches, key=lambda batch: (batch.start, batch.load.mixer, batch.load.mix))


def _by_clock(state: State, numbers: Mapping[int, int]) -> list[Batch]:
    """As the audit has them: of those that begin in one minute the least number first."""
    return sorted(state.batches, key=lambda batch: (batch.start, numbers[id(batch)]))


def size_of(brief: Brief, batch: Batch) -> BatchSize:
    """What goes into a batch."""
    return brief.loads[brief.problem.loads.index(batch.load)][2]


# blocks


def _casts(brief: Brief, placed: list[Placed], blocks: list[Block], numbers: Mapping[int, int]) -> list[Row]:
    racks = rack_blocks(brief, placed)
    rows = []
    for block in blocks:
        turn, kind = block.placed.turn, brief.moulds[block.placed.turn.mould].kind
        stripped = _end(turn.strip)
        leaves, ready = (
            brief.problem.leaves_rack(stripped),
            ready_at(brief, block.placed, block.position, block.batch),
        )
        rows.append(
            {
                "part": block.line.part,
                "course": block.line.course,
                "mark": block.line.mark,
                "mix": block.line.mix,
                "spare": not block.line.part,
                "mould": _mould(brief, block.placed),
                "base": base_name(kind, block.placed.base) if block.placed.base else "",
                "turn": block.placed.number,
                "cavity": _cavity(block),
                "batch": numbers[id(block.batch)],
                "poured": brief.moment(block.batch.pour_to),
                "sides_off": brief.moment(turn.sides.end) if turn.sides else None,
                "strip": brief.moment(stripped),
                "rack": racks[id(turn), block.position],
                "rack_from": brief.moment(stripped),
                "rack_to": brief.moment(leaves),
                "ready": brief.moment(ready),
                "needed": None if block.line.needed is None else moment_at(block.line.needed),
            }
        )
    rows.sort(key=lambda row: (row["poured"], row["mould"], row["turn"], row["cavity"]))
    return [{"cast": number, **row} for number, row in enumerate(rows, start=1)]


def _cavity(block: Block) -> int:
    """The cavity a block is cast in; of one that is there already, as it was."""
    begun = block.placed.begun
    return begun.blocks[block.position].cavity if begun else block.position + 1


def _end(span: Span | None) -> int:
    assert span is not None
    return span.end


def _mould(brief: Brief, item: Placed) -> str:
    return mould_name(brief.moulds[item.turn.mould].kind, item.mould)


def _sawing(brief: Brief, blocks: list[Block]) -> list[Row]:
    """A row for each block sawn out of a slab, in the order of the turns and of their saw plans."""
    rows: list[Row] = [
        {
            "mould": _mould(brief, block.placed),
            "turn": block.placed.number,
            "cavity": _cavity(block),
            "from_left_mm": block.sawn.from_left_mm,
            "from_bottom_mm": block.sawn.from_bottom_mm,
            "length_mm": block.sawn.length_mm,
            "height_mm": block.sawn.height_mm,
        }
        for block in blocks
        if block.sawn
    ]
    return sorted(rows, key=lambda row: (row["mould"], row["turn"], row["cavity"]))


# batches


def _batches(brief: Brief, state: State, placed: list[Placed], numbers: Mapping[int, int]) -> list[Row]:
    slabs_l, lost_l = slabs_before_l(brief, placed), brief.begun.lost_l if brief.begun else {}
    rows = []
    for batch in _by_clock(state, numbers):
        mixer, mix, size = brief.loads[brief.problem.loads.index(batch.load)]
        volume = sum(brief.casting_l(number) * count for number, count in batch.content.items())
        volume += slabs_l.get(id(batch), 0.0) + lost_l.get(numbers[id(batch)], 0.0)
        rows.append(
            {
                "batch": numbers[id(batch)],
                "mixer": mixer.name,
                "mix": mix,
                "start": brief.moment(batch.start),
                "foam_at": brief.moment(batch.foam_at),
                "pour_from": brief.moment(batch.pour_from),
                "pour_to": brief.moment(batch.pour_to),
                "end": brief.moment(batch.end),
                "bags": float(size.bags),
                "cement_kg": round(size.cement_kg, _DIGITS),
                "slurry_water_kg": round(size.slurry_water_kg, _DIGITS),
                "foam_l": round(size.foam_l, _DIGITS),
                "foam_kg": round(size.foam_kg, _DIGITS),
                "agent_l": round(size.agent_l, _DIGITS),
                "yield_l": round(size.yield_l, _DIGITS),
                "poured_l": round(volume * (1 + brief.site.overfill) + batch.cubes * set_l(brief.site), _DIGITS),
            }
        )
    return rows


def _cubes(brief: Brief, state: State, numbers: Mapping[int, int]) -> list[Row]:
    batches = _by_clock(state, numbers)
    giving = [(numbers[id(batch)], brief.moment(batch.start).date(), batch.cubes) for batch in batches]
    return list(cube_rows(brief.site, giving, brief.begun.sets if brief.begun else {}))


# tasks


def _tasks(brief: Brief, state: State, placed: list[Placed], numbers: Mapping[int, int]) -> list[Row]:
    rows = [_batch_row(brief, batch, numbers[id(batch)]) for batch in state.batches]
    for item in placed:
        rows += _turn_rows(brief, item)
    rows += _chore_rows(brief, state)
    order = ("batch", "sides", "strip", "move", "clean", "chore")
    rows.sort(
        key=lambda row: (row["start"], order.index(str(row["task"])), row["mould"], row["base"], row["batch"] or 0)
    )
    return rows


def _row(brief: Brief, task: str, start: int, end: int, **cells: object) -> Row:
    empty: Row = {"people": 1, "mould": "", "base": "", "batch": None, "blocks": None}
    return {"start": brief.moment(start), "end": brief.moment(end), "task": task} | empty | cells


def _batch_row(brief: Brief, batch: Batch, number: int) -> Row:
    blocks = sum(brief.problem.castings[casting].blocks * count for casting, count in batch.content.items())
    return _row(brief, "batch", batch.start, batch.end, people=batch.load.crew, batch=number, blocks=blocks)


def _turn_rows(brief: Brief, item: Placed) -> list[Row]:
    turn, kind = item.turn, brief.moulds[item.turn.mould].kind
    assert turn.strip is not None
    assert turn.clean is not None
    names = {"mould": _mould(brief, item), "base": base_name(kind, item.base) if item.base else ""}
    moved = turn.strip.end + brief.problem.move[turn.blocks]
    cleaned = _row(brief, "clean", turn.clean.start, turn.clean.end, **names)
    if item.begun is not None and not item.begun.blocks:  # thrown out of the mould, by whoever it was
        return [cleaned]
    rows = [
        _row(brief, "strip", turn.strip.start, turn.strip.end, blocks=turn.blocks, **names),
        _row(brief, "move", turn.strip.end, moved, blocks=turn.blocks, **names),
        cleaned,
    ]
    if turn.sides is not None:
        rows.append(_row(brief, "sides", turn.sides.start, turn.sides.end, blocks=turn.blocks, **names))
    return rows


def _chore_rows(brief: Brief, state: State) -> list[Row]:
    """Chores of each working day from the first batch's to the last's."""
    days = [batch.start // MINUTES_A_DAY for batch in state.batches]
    return [
        _row(brief, "chore", chore.start, chore.end, people=chore.people)
        for day in days_of(brief.site, brief.problem.horizon)
        if min(days) <= day.number <= max(days)
        for chore in day.chores
    ]


# materials


def _materials(brief: Brief, state: State) -> list[Row]:
    """A row for each day on which something is used or delivered, up to the last pour."""
    used: dict[int, list[float]] = defaultdict(lambda: [0.0, 0.0, 0.0])
    foam = brief.site.foam_generator
    water_share = foam.water_parts / (foam.agent_parts + foam.water_parts)
    for batch in state.batches:
        size, sums = size_of(brief, batch), used[batch.start // MINUTES_A_DAY]
        sums[0] += size.cement_kg
        sums[1] += size.slurry_water_kg + size.foam_kg * water_share
        sums[2] += size.agent_l
    stock, start = brief.site.stock, brief.site.calendar.start
    last = max(used)
    cement = _delivered(((d.day - start).days, d.amount * stock.cement.bag_kg) for d in stock.cement.deliveries)
    agent = _delivered(((d.day - start).days, d.amount) for d in stock.foaming_agent.deliveries)
    cement_left = stock.cement.on_hand_bags * stock.cement.bag_kg + sum(n for day, n in cement.items() if day < 0)
    agent_left = stock.foaming_agent.on_hand_l + sum(n for day, n in agent.items() if day < 0)
    more_bags, more_l = (
        {(day - start).days: amount for day, amount in besides(brief.site, brief.begun, name).items()}
        for name in (CEMENT, AGENT)
    )
    rows, days = [], {*used, *cement, *agent}
    for day in sorted(one for one in days | more_bags.keys() | more_l.keys() if 0 <= one <= last):
        cement_left += cement.get(day, 0.0) + more_bags.get(day, 0.0) * stock.cement.bag_kg - used[day][0]
        agent_left += agent.get(day, 0.0) + more_l.get(day, 0.0) - used[day][2]
        if day in days:
            figures = (*used[day], cement.get(day, 0.0), agent.get(day, 0.0), cement_left, agent_left)
            names = ("cement_used_kg", "water_used_kg", "agent_used_l", "cement_delivered_kg", "agent_delivered_l")
            rounded = [round(figure, _DIGITS) for figure in figures]
            row: Row = {"day": moment_at(start) + timedelta(days=day)}
            rows.append(row | dict(zip((*names, "cement_left_kg", "agent_left_l"), rounded, strict=True)))
    return rows


def _delivered(deliveries: Iterable[tuple[int, float]]) -> dict[int, float]:
    total: dict[int, float] = defaultdict(float)
    for day, amount in deliveries:
        total[day] += amount
    return dict(total)

"""The foreman's plan as the tables of a plan, so that the audit can read it, and how good it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any

from blockrun.order import OrderLine
from blockrun.planner.tables import PlanTables, Stage, table
from tests.bench.ledger import MINUTES_A_DAY
from tests.bench.rule import Batch, Size, Turn, Worked, lines_of, ready_of, size_of
from tests.bench.rule.things import leaves_rack
from tests.bench.rule.wants import grid

Row = dict[str, Any]


def tables_of(worked: Worked) -> PlanTables:
    """The four tables."""
    numbers = {id(batch): n for n, batch in enumerate(sorted(worked.batches, key=lambda b: (b.start, b.mixer.name)), 1)}
    return PlanTables(
        casts=table("casts", _casts(worked, numbers)),
        batches=table("batches", [_batch(worked, batch, numbers[id(batch)]) for batch in worked.batches]),
        tasks=table("tasks", list(_tasks(worked, numbers))),
        materials=table("materials", _materials(worked)),
        sawing=table("sawing", list(_sawing(worked))),
        cubes=table("cubes", _cubes(worked, numbers)),
    )


def stages_of(worked: Worked, tables: PlanTables) -> tuple[Stage, ...]:
    """What he reaches; he knows nothing of what is best possible but that nothing is done in no time."""
    casts = tables.casts[tables.casts["needed"].notna()]
    late = (casts["ready"].dt.normalize() - casts["needed"]).dt.days.clip(lower=0)
    finish = max(batch.at("pour_to") for batch in worked.batches) // MINUTES_A_DAY
    values: tuple[int | float | date, ...] = (
        int(late.sum()),
        worked.site.calendar.start + timedelta(days=finish),
        len(worked.batches),
        sum(batch.size.cement_kg for batch in worked.batches),
    )
    least: tuple[int | float | date, ...] = (0, worked.site.calendar.start, 0, 0.0)
    names = ("block_days_late", "finish", "batches", "cement")
    return tuple(
        Stage(name, value, bound, proven=value == bound)
        for name, value, bound in zip(names, values, least, strict=True)
    )


def _moment(worked: Worked, minute: int | None) -> datetime | None:
    return None if minute is None else datetime.combine(worked.site.calendar.start, time()) + timedelta(minutes=minute)


def _casts(worked: Worked, numbers: dict[int, int]) -> list[Row]:
    """A row a block; what is ready first goes where it is needed first."""
    lines: dict[Size, list[OrderLine]] = defaultdict(list)
    for line in lines_of(worked.site, worked.order):
        lines[size_of(line)] += [line] * line.count
    turns = _turn_numbers(worked)
    racks = _racks(worked)
    cavities = [
        (ready_of(worked, turn, batch) // MINUTES_A_DAY, number, cavity, turn, size, batch)
        for number, turn in enumerate(worked.turns)
        for cavity, (size, batch) in enumerate(turn.fills, 1)
    ]
    rows = []
    for _, number, cavity, turn, size, batch in sorted(cavities, key=lambda c: c[:3]):
        line = lines[size].pop(0)
        rows.append(
            {
                "part": line.part,
                "course": line.course,
                "mark": line.mark,
                "mix": line.mix,
                "spare": line.part == "",
                "turn": turns[number],
                "cavity": cavity,
                "batch": numbers[id(batch)],
                "rack": racks[number, cavity],
                "needed": line.needed and datetime.combine(line.needed, time()),
                **_names(turn),
                **_times(worked, turn, batch),
            }
        )
    return [{"cast": number, **row} for number, row in enumerate(rows, 1)]


def _names(turn: Turn) -> Row:
    kind = turn.kind.kind
    return {"mould": f"{kind}/{turn.unit:02d}", "base": f"{kind}/b{turn.base:02d}" if turn.base else ""}


def _times(worked: Worked, turn: Turn, batch: Batch) -> Row:
    minutes = {
        "poured": batch.at("pour_to"),
        "sides_off": turn.sides_off,
        "strip": turn.stripped,
        "rack_from": turn.stripped,
        "rack_to": _leaves(worked, turn),
        "ready": ready_of(worked, turn, batch),
    }
    return {name: _moment(worked, minute) for name, minute in minutes.items()}


def _leaves(worked: Worked, turn: Turn) -> int:
    assert turn.stripped is not None
    return leaves_rack(worked.site, turn.stripped)


def _turn_numbers(worked: Worked) -> dict[int, int]:
    """Number of each turn among those of its mould."""
    count: dict[tuple[str, int], int] = defaultdict(int)
    numbers = {}
    for nth, turn in sorted(enumerate(worked.turns), key=lambda item: item[1].begun):
        count[turn.kind.kind, turn.unit] += 1
        numbers[nth] = count[turn.kind.kind, turn.unit]
    return numbers


def _racks(worked: Worked) -> dict[tuple[int, int], str]:
    """Rack of each block: the first with a free place when it comes."""
    free = {rack.name: [0] * rack.places for rack in worked.site.racks}
    racks = {}
    for nth, turn in sorted(enumerate(worked.turns), key=lambda item: item[1].stripped or 0):
        stripped, leaves = turn.stripped or 0, _leaves(worked, turn)
        for cavity in range(1, len(turn.fills) + 1):
            name, place = next(
                (name, place) for name, until in free.items() for place, at in enumerate(until) if at <= stripped
            )
            free[name][place] = leaves
            racks[nth, cavity] = name
    return racks


def _batch(worked: Worked, batch: Batch, number: int) -> Row:
    size = batch.size
    poured_l = batch.filled_l * (1 + worked.site.overfill) + batch.cubes_l
    return {
        "batch": number,
        "mixer": batch.mixer.name,
        "mix": batch.mix,
        "start": _moment(worked, batch.start),
        **{step: _moment(worked, batch.at(step)) for step in ("foam_at", "pour_from", "pour_to", "end")},
        "bags": float(size.bags),
        **{name: getattr(size, name) for name in ("cement_kg", "slurry_water_kg", "foam_l", "foam_kg", "agent_l")},
        "yield_l": size.yield_l,
        "poured_l": poured_l,
    }


def _sawing(worked: Worked) -> Iterator[Row]:
    """Blocks of a slab lie in rows, from its lower left corner on."""
    turns = _turn_numbers(worked)
    for number, turn in enumerate(worked.turns):
        if turn.kind.saw:
            kerf = turn.kind.saw.kerf_mm
            across, _, length, height = grid(turn.kind, turn.fills[0][0])
            for nth in range(len(turn.fills)):
                yield {
                    "mould": _names(turn)["mould"],
                    "turn": turns[number],
                    "cavity": nth + 1,
                    "from_left_mm": nth % across * (length + kerf),
                    "from_bottom_mm": nth // across * (height + kerf),
                    "length_mm": length,
                    "height_mm": height,
                }


def _cubes(worked: Worked, numbers: dict[int, int]) -> list[Row]:
    """Sets are numbered in the order of their batches, and so are cubes in each."""
    sets = worked.site.test_cubes
    giving = sorted(numbers[id(batch)] for batch in worked.batches for _ in range(batch.sets))
    litres = {numbers[id(batch)]: batch.cubes_l / batch.sets for batch in worked.batches if batch.sets}
    return [
        {
            "batch": batch,
            "cubes": sets.count,
            "volume_l": litres[batch],
            "set": number,
            "marked": f"{number}-1 to {number}-{sets.count}",
            "crush": None,
        }
        for number, batch in enumerate(giving, 1)
        if sets
    ]


def _tasks(worked: Worked, numbers: dict[int, int]) -> list[Row]:
    rows = [
        _task(worked, "batch", b.start, b.at("end"), people=b.mixer.crew, batch=numbers[id(b)], blocks=len(b.blocks))
        for b in worked.batches
    ]
    for turn in worked.turns:
        blocks, stripped = len(turn.fills), turn.stripped
        assert stripped is not None
        moved = stripped - (-(blocks * worked.site.move_time_min) // 1)
        rows.append(_task(worked, "strip", turn.strip, stripped, blocks=blocks, **_names(turn)))
        rows.append(_task(worked, "move", stripped, int(moved), blocks=blocks, **_names(turn)))
        rows.append(_task(worked, "clean", turn.clean, turn.cleaned, **_names(turn)))
        if turn.sides is not None:
            rows.append(_task(worked, "sides", turn.sides, turn.sides_off, blocks=blocks, **_names(turn)))
    days = [(batch.start or 0) // MINUTES_A_DAY for batch in worked.batches]
    for day in range(min(days), max(days) + 1):
        if worked.site.calendar.is_working(worked.site.calendar.start + timedelta(days=day)):
            for chore in worked.site.chores:
                starts = [day * MINUTES_A_DAY + at for at in chore.at]
                rows += [_task(worked, "chore", at, at + chore.time_min, people=chore.people) for at in starts]
    return rows


def _task(worked: Worked, task: str, start: int | None, end: int | None, **cells: Any) -> Row:
    empty = {"people": 1, "mould": "", "base": "", "batch": None, "blocks": None}
    return {"start": _moment(worked, start), "end": _moment(worked, end), "task": task, **empty, **cells}


def _materials(worked: Worked) -> list[Row]:
    stock, generator, start = worked.site.stock, worked.site.foam_generator, worked.site.calendar.start
    dilution = generator.water_parts / (generator.agent_parts + generator.water_parts)
    days: dict[date, Row] = defaultdict(lambda: dict.fromkeys(_AMOUNTS, 0.0))
    for batch in worked.batches:
        day = days[start + timedelta(days=(batch.start or 0) // MINUTES_A_DAY)]
        day["cement_used_kg"] += batch.size.cement_kg
        day["water_used_kg"] += batch.size.slurry_water_kg + batch.size.foam_kg * dilution
        day["agent_used_l"] += batch.size.agent_l
    last = max(days)
    for delivery in stock.cement.deliveries:
        days[delivery.day]["cement_delivered_kg"] += delivery.amount * stock.cement.bag_kg
    for arrival in stock.foaming_agent.deliveries:
        days[arrival.day]["agent_delivered_l"] += arrival.amount
    cement_kg, agent_l = stock.cement.on_hand_bags * stock.cement.bag_kg, stock.foaming_agent.on_hand_l
    rows = []
    for on, amounts in sorted(days.items()):
        cement_kg += amounts["cement_delivered_kg"] - amounts["cement_used_kg"]
        agent_l += amounts["agent_delivered_l"] - amounts["agent_used_l"]
        if start <= on <= last:
            left = {"cement_left_kg": cement_kg, "agent_left_l": agent_l}
            rows.append({"day": datetime.combine(on, time()), **amounts, **left})
    return rows


_AMOUNTS = ("cement_used_kg", "water_used_kg", "agent_used_l", "cement_delivered_kg", "agent_delivered_l")

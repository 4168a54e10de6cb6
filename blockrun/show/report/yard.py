"""The yard over time: moulds, bases, mixers, racks, the stack, people, and what is left of the stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, Final

from blockrun.files.day_names import clock, day_name, moment_name
from blockrun.planner.full import Full, full_of
from blockrun.planner.on_rack import OnRacks
from blockrun.planner.on_stack import places_taken
from blockrun.planner.rows import rows_of
from blockrun.planner.uses import UNITS
from blockrun.show.measures import FROM_HERE_WHOLE
from blockrun.show.report.charts import Amounts, Chart, Span, Table, amounts, lanes
from blockrun.show.report.days import Days
from blockrun.show.words import days_said
from blockrun.units import counted, digits, in_unit

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.why.held import Held
    from blockrun.show.materials_said import MaterialsSaid
    from blockrun.show.report.lives import Lives

_HOUR: Final = timedelta(hours=1)


class Yard:
    """Charts of what a plan takes of a yard."""

    def __init__(self, plan: Plan, lives: Lives, held: Held) -> None:
        self.plan, self.site, self.lives = plan, plan.site, lives
        casts, tasks = plan.tables.casts, plan.tables.tasks
        last = max(casts["rack_to"].max(), tasks["end"].max()).date()
        self.days = Days(lives.first, (last - lives.first).days + 1, plan.site.calendar)
        self._out: dict[str, set[date]] = defaultdict(set)
        for day in held.days:
            for thing in day.held_by:
                self._out[thing].add(day.day)

    def charts(self) -> Iterator[Chart]:
        """All of them; those of what the yard has not are left out."""
        full = full_of(self.plan.tables)
        yield self._turns("Moulds", "mould", self._names(full, bases=False))
        bases = self._names(full, bases=True)
        if any(bases.values()):
            yield self._turns("Bases", "base", bases)
        yield from self._mixers()
        yield from self._racks()
        yield from self._stack()
        yield self._people()

    # moulds and bases

    def _names(self, full: Mapping[str, list[Full]], *, bases: bool) -> dict[str, list[Full]]:
        """Turns of all moulds or bases of the site, used or not; those of fillers are in no table."""
        kinds = [kind for kind in self.site.moulds if not kind.filler]
        names = [name for kind in kinds for name in (kind.base_names if bases else kind.mould_names)]
        return {name: sorted(full.get(name, [])) for name in names}

    def _turns(self, title: str, thing: str, turns: Mapping[str, list[Full]]) -> Chart:
        spans = ((name, [self._turn(name, one) for one in of_name]) for name, of_name in turns.items())
        rows = tuple(
            (name, str(len(of_name)), str(sum(one.blocks for one in of_name)), "; ".join(map(_days_said, of_name)))
            for name, of_name in turns.items()
        )
        freed = "until it is stripped and clean again"
        if thing == "mould" and any(kind.bases for kind in self.site.moulds):
            freed += ", or its sides are off the base"
        said = f"A bar is one {thing} full: from its first pour {freed}."
        table = Table(f"{title}, when each is full", (thing, "times", "blocks", "full"), rows, numbers=False)
        return lanes(title, said, self.days, spans, table)

    def _turn(self, name: str, turn: Full) -> Span:
        until = f"{moment_name(turn.since)} to {moment_name(turn.free)}"
        return Span(turn.since, turn.free, f"{name}: {until}, {counted(turn.blocks, 'block')}")

    # what is counted a day

    def _mixers(self) -> Iterator[Chart]:
        for mixer in self.site.mixers:
            batches: dict[date, list[Any]] = defaultdict(list)
            for row in rows_of(self.plan.tables.batches):
                if row.mixer == mixer.name:
                    batches[row.start.date()].append(row)
            table = Table(
                f"Mixer {mixer.name}, batches by day",
                ("day", "batches", "bags", "hours busy", "last wash ends"),
                tuple((day_name(day), *_mixed(of_day)) for day, of_day in sorted(batches.items())),
            )
            out = frozenset(self._out[mixer.name])
            a_day = Amounts({day: len(of_day) for day, of_day in sorted(batches.items())}, "batch", None, out)
            said = "Batches a day; a marked day has no time left in this mixer for one more."
            yield amounts(f"Mixer {mixer.name}", said, self.days, a_day, table)

    def _racks(self) -> Iterator[Chart]:
        casts = self.plan.tables.casts
        for rack in self.site.racks:
            on = OnRacks(casts[casts["rack"] == rack.name])
            held: dict[date, float] = {day: on.most_on(day) for day in self.days.each()}
            if not any(held.values()):
                continue
            full = frozenset(day for day, blocks in held.items() if blocks >= rack.places)
            table = Table(
                f"Rack {rack.name}, blocks at its fullest by day",
                ("day", "blocks", "places free"),
                tuple((day_name(day), digits(n), digits(rack.places - n)) for day, n in held.items()),
            )
            places = counted(rack.places, "place")
            said = f"Blocks on the rack at the fullest moment of each day, of {places}; a marked day fills it."
            yield amounts(f"Rack {rack.name}", said, self.days, Amounts(held, "place", rack.places, full), table)

    def _stack(self) -> Iterator[Chart]:
        stack, changes = self.site.stack, places_taken(self.plan)
        if stack is None:
            return
        days = Days(self.lives.first, self.lives.n_days, self.site.calendar)
        taken, there = dict[date, float](), 0
        for day in days.each():
            there = changes.get(day, there)
            taken[day] = there
        table = Table(
            "Stack, places taken by day",
            ("day", "places taken", "places free"),
            tuple((day_name(day), digits(n), digits(stack.places - n)) for day, n in taken.items()),
        )
        full = frozenset(day for day, n in taken.items() if n >= stack.places)
        places = counted(stack.places, "place")
        said = f"Columns of blocks that stand until they are laid, of {places}; a marked day fills it."
        yield amounts("Stack", said, days, Amounts(taken, "place", stack.places, full), table)

    def _people(self) -> Chart:
        hours: dict[date, float] = defaultdict(float)
        for row in rows_of(self.plan.tables.tasks):
            hours[row.start.date()] += row.people * ((row.end - row.start) / _HOUR)
        a_day = sum(end - start for start, end in self.site.calendar.windows) / 60
        there = {day: self.site.crew.on(day) for day in sorted(hours)}
        table = Table(
            "People, work by day",
            ("day", "people", "hours of work", "hours there"),
            tuple((day_name(day), str(n), digits(hours[day]), digits(n * a_day)) for day, n in there.items()),
        )
        said = "Hours of work a day, all people together; a marked day has nobody free for one batch more."
        most = max(n * a_day for n in there.values())
        out = frozenset(self._out["people"])
        return amounts("People", said, self.days, Amounts({day: hours[day] for day in there}, "h", most, out), table)

    # the stock

    def stocks(self, said: MaterialsSaid) -> Iterator[Chart]:
        """What is left of each material whose stock is counted, evening by evening."""
        first, last = said.days[0], said.days[-1]
        days = Days(first, (last - first).days + 1, self.site.calendar)
        for material in said.counted:
            unit, share = _counted_in(UNITS[material.name], self.site.units)
            left = {day: max(0.0, material.left_on(day)) * share for day in days.each()}
            rows = tuple(
                (
                    day_name(day),
                    said.come(material, day).lstrip("+") or "-",
                    said.used(material, day),
                    said.left(material, day),
                )
                for day in said.days
            )
            table = Table(f"{material.name.capitalize()} by day", ("day", "comes", "used", "left"), rows)
            title = f"{material.name.capitalize()} left"
            shown = {day: round(amount, 0 if amount >= FROM_HERE_WHOLE else 1) for day, amount in left.items()}
            yield amounts(title, "Left in the evening.", days, Amounts(shown, unit, None), table)


def _mixed(batches: list[Any]) -> tuple[str, ...]:
    """Batches of a day, their bags, the hours they take, and when the last one ends."""
    busy = sum((batch.end - batch.start) / _HOUR for batch in batches)
    bags = sum(batch.bags for batch in batches)
    return str(len(batches)), digits(bags), digits(busy), clock(max(batch.end for batch in batches))


def _days_said(turn: Full) -> str:
    return days_said(turn.since.date(), turn.free.date())


def _counted_in(unit: str, units: str) -> tuple[str, float]:
    """What a material is shown in, and how much of that one of its own unit is."""
    if unit == "bag":
        return "bag", 1.0
    dimension, us = ("mass", "lb") if unit == "kg" else ("volume", "gal")
    return (us, in_unit(1.0, dimension, us)) if units == "US" else (unit, 1.0)

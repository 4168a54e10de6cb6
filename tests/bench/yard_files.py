"""The files of a bench yard as text, laid out as a builder would write them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import Any, Final

_SITE: Final = """\
# An invented yard, for comparing ways to plan.
site: {name}
calendar:
  start: {start}
  workdays: [mon, tue, wed, thu, fri, sat]
  hours: 07:30-16:30
  breaks: [12:00-12:30]
  closed: [{closed}]
  set_up: 15 min
  close_down: 15 min
  last_foam: 15:30
mixers:
{mixers}
foam_generator: {{rate: 60 L/min, foam_density: 95 g/L, agent_dilution: 1:40}}
pour_life: 25 min
overfill: 3 %
moulds:
{moulds}
racks:
{racks}
move_time: 1 min
curing: {{strip_at: {strip_at} h, rack_for: 7 d, lay_at: 28 d, least_air: 5 degC}}
crew: {{people: {people}, away: [{away}]}}
stock:
  cement: {{bag: 25 kg, on_hand: {bags}, deliveries: [{deliveries}], price: 6.10}}
  foaming_agent: {{on_hand: {agent_l} L, price: 9.50}}
weather: weather.csv
"""
_CHORES: Final = "chores:\n  - {chore: wet the rack, at: [08:30, 15:00], time: 10 min, people: 1}\n"
_CUBES: Final = "test_cubes: {every: 2 m3, count: 3, size: 100 mm}\n"
_MIXES: Final = {
    "wall": "{name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}",
    "heavy": "{name: heavy, oven_dry_density: 900 kg/m3, slurry_water_cement: 0.45}",
}


def site_text(site: Mapping[str, Any]) -> str:
    """The site file."""
    text = _SITE.format(
        **{key: site[key] for key in ("name", "start", "strip_at", "people", "bags", "agent_l")},
        closed=", ".join(site["closed"]),
        mixers=_items(site["mixers"]),
        moulds=_items(site["moulds"]),
        racks="\n".join(f"  - {{name: {name}, places: {places}}}" for name, places in site["racks"]),
        away=", ".join(f"{{day: {day}, people: 1}}" for day in site["away"]),
        deliveries=", ".join(f"{{day: {day}, bags: {bags}}}" for day, bags in site["deliveries"]),
    )
    return text + (_CHORES if site["chores"] else "") + (_CUBES if site["test_cubes"] else "")


def order_text(name: str, mixes: Iterable[str], spares: int) -> str:
    """The order file, which names the list of blocks beside it."""
    listed = "\n".join(f"  - {_MIXES[mix]}" for mix in mixes)
    return f"order: {name}\nmixes:\n{listed}\nspares: {spares} %\nparts:\n  - list: blocks.csv\n"


def blocks_text(rows: Iterable[Sequence[object]]) -> str:
    """The list of blocks."""
    head = "mark,length_mm,height_mm,thickness_mm,count,mix,course,needed"
    return "\n".join([head, *(",".join(map(str, row)) for row in rows)]) + "\n"


def weather_text(start: date, air: Iterable[tuple[float, float]]) -> str:
    """A row a day: its lowest and highest."""
    rows = (f"{start + timedelta(days=day)},{low:g},{high:g}" for day, (low, high) in enumerate(air))
    return "\n".join(["date,min_degC,max_degC", *rows]) + "\n"


def _items(items: Iterable[Mapping[str, object]]) -> str:
    return "\n".join(_item(item) for item in items)


def _item(item: Mapping[str, object]) -> str:
    lines = [f"    {key}: {value}" for key, value in item.items()]
    return "\n".join(["  - " + lines[0].strip(), *lines[1:]])

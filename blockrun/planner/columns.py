"""The columns of a plan's tables, exactly as they are saved, and the type of each.

Times are ``datetime64[s]``, local to the minute; numbers that may be empty are ``Int64``; text is ``str``, empty where
there is none.
"""

from __future__ import annotations

from typing import Final

TIME: Final = "datetime64[s]"

CASTS: Final = {
    "cast": "int64",
    "part": "str",
    "course": "Int64",
    "mark": "str",
    "mix": "str",
    "spare": "bool",
    "mould": "str",
    "base": "str",
    "turn": "int64",
    "cavity": "int64",
    "batch": "int64",
    "poured": TIME,
    "sides_off": TIME,
    "strip": TIME,
    "rack": "str",
    "rack_from": TIME,
    "rack_to": TIME,
    "ready": TIME,
    "needed": TIME,
}
BATCHES: Final = {
    "batch": "int64",
    "mixer": "str",
    "mix": "str",
    "start": TIME,
    "foam_at": TIME,
    "pour_from": TIME,
    "pour_to": TIME,
    "end": TIME,
    "bags": "float64",
    "cement_kg": "float64",
    "slurry_water_kg": "float64",
    "foam_l": "float64",
    "foam_kg": "float64",
    "agent_l": "float64",
    "yield_l": "float64",
    "poured_l": "float64",
}
TASKS: Final = {
    "start": TIME,
    "end": TIME,
    "task": "str",
    "people": "int64",
    "mould": "str",
    "base": "str",
    "batch": "Int64",
    "blocks": "Int64",
}
MATERIALS: Final = {
    "day": TIME,
    "cement_used_kg": "float64",
    "water_used_kg": "float64",
    "agent_used_l": "float64",
    "cement_delivered_kg": "float64",
    "agent_delivered_l": "float64",
    "cement_left_kg": "float64",
    "agent_left_l": "float64",
}
SAWING: Final = {
    "mould": "str",
    "turn": "int64",
    "cavity": "int64",
    "from_left_mm": "float64",
    "from_bottom_mm": "float64",
    "length_mm": "float64",
    "height_mm": "float64",
}
CUBES: Final = {
    "batch": "int64",
    "cubes": "int64",
    "volume_l": "float64",
    "set": "int64",
    "marked": "str",
    "crush": TIME,
}
COLUMNS: Final = {
    "casts": CASTS,
    "batches": BATCHES,
    "tasks": TASKS,
    "materials": MATERIALS,
    "sawing": SAWING,
    "cubes": CUBES,
}
MAY_BE_EMPTY: Final = frozenset({"sawing", "cubes"})
"""Tables of plans that may have no row."""

DATES: Final = frozenset({"needed", "day", "crush"})
"""Columns of times that are whole days."""

TIMES_THAT_MAY_BE_EMPTY: Final = frozenset({"needed", "sides_off", "crush"})
"""Columns of times that may have none."""

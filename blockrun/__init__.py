"""Plans the casting of foamed-concrete blocks: what to pour, strip, move and stack on each day.

Everything below is imported when it is first used, so that ``import blockrun`` itself costs nothing::

    site, order = blockrun.load_site("site.yaml"), blockrun.load_order("order.yaml")
    plan = blockrun.make_plan(site, order)
    plan.tables.casts  # a data frame, a row a block
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from blockrun.order import load_order as load_order
    from blockrun.order import takeoff as takeoff
    from blockrun.planner import make_plan as make_plan
    from blockrun.planner.audit import audit as audit
    from blockrun.planner.saved import load_plan as load_plan
    from blockrun.planner.sound import save_sound_plan as save_plan
    from blockrun.site import load_site as load_site

__version__ = "0.1.0"

_HOMES: Final = {
    "audit": ("blockrun.planner.audit", "audit"),
    "load_order": ("blockrun.order", "load_order"),
    "load_plan": ("blockrun.planner.saved", "load_plan"),
    "load_site": ("blockrun.site", "load_site"),
    "make_plan": ("blockrun.planner", "make_plan"),
    "save_plan": ("blockrun.planner.sound", "save_sound_plan"),
    "takeoff": ("blockrun.order", "takeoff"),
}

__all__ = ["audit", "load_order", "load_plan", "load_site", "make_plan", "save_plan", "takeoff"]


def __getattr__(name: str) -> Any:
    """Import a name when it is first asked for (PEP 562)."""
    if name not in _HOMES:
        raise AttributeError(f"blockrun has no {name!r}")
    module, there = _HOMES[name]
    return getattr(importlib.import_module(module), there)


def __dir__() -> list[str]:
    """Names of the package, those not yet imported included."""
    return sorted({*globals(), *__all__})

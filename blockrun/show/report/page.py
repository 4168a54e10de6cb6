"""The page of the report, put together."""

from __future__ import annotations

import json
from collections.abc import Container, Iterator
from typing import TYPE_CHECKING, Any, Final

from blockrun.files.day_names import day_name, full_day_name
from blockrun.order.parts import notes_of_parts
from blockrun.planner.why.held import held
from blockrun.show.apart import apart_in
from blockrun.show.cautions import CAUTIONS
from blockrun.show.held import days_before_said, late_said, things_said
from blockrun.show.materials_said import MaterialsSaid
from blockrun.show.page import GLUE, fractions_whole, plain
from blockrun.show.pictures.paper import templates
from blockrun.show.report.charts import Table, bands
from blockrun.show.report.days import Days
from blockrun.show.report.dealt import DEALT_SAID
from blockrun.show.report.drawing import pattern_for
from blockrun.show.report.holding import holding
from blockrun.show.report.lives import LAID_SAID, STATES, Lives
from blockrun.show.report.parts import parts_shown, patterns_of
from blockrun.show.report.solid import MOST_TILT_DEG, TILT_DEG, TURN_DEG
from blockrun.show.report.yard import Yard
from blockrun.show.site_words import as_the_site_writes
from blockrun.show.summary import NAMES, blocks_said, figures_said, stage_said
from blockrun.show.tape import note_on_tape
from blockrun.show.words import capital
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.why.held import Held

SOLIDS: Final = {"turn": TURN_DEG, "tilt": TILT_DEG, "most_tilt": MOST_TILT_DEG}
_MEANS: Final = {
    "block_days_late": "One block that is ready three days after it is needed counts three.",
    "finish": "The day of the last batch, that of spares included.",
    "batches": "How often the mixer is loaded.",
    "cement": "All that the batches take.",
}


def report_page(plan: Plan, *, solid: bool = False, apart: Container[int] = (), which: str = "") -> str:
    """The report of a plan as one HTML page.

    Parameters
    ----------
    solid : whether domes and buildings are shown as solids, too.

    Returns
    -------
    A page that asks for nothing outside itself; the same bytes for the same plan.
    """
    lives = Lives(plan.tables.casts, apart)
    parts = list(parts_shown(plan, lives, solid=solid))
    values = {
        "parts": parts,
        "scales": (1, *sorted(patterns_of(parts))),
        "pattern_for": pattern_for,
        "solids": SOLIDS,
        "which": which,
        "apart": [plain(one.not_to_lay) for one in apart_in(plan, apart)],
    }
    page = templates(__package__).get_template("page.html.jinja").render(values | _sections(plan, lives))
    return fractions_whole(as_the_site_writes(page, plan.site.units))


def _sections(plan: Plan, lives: Lives) -> dict[str, Any]:
    """What the sections of the page say, but for the parts of the order."""
    back, said, calendar = held(plan), MaterialsSaid(plan), plan.site.calendar
    yard = Yard(plan, lives, back)
    return {
        "plan": plan,
        "blocks": blocks_said(plan),
        "first": full_day_name(lives.first),
        "until": full_day_name(lives.date(lives.n_days - 1)),
        "stages": list(_stages(plan)),
        "figures": list(figures_said(plan)),
        "lives": lives,
        "shown": full_day_name(lives.date(lives.shown)),
        "states": list(zip(STATES, lives.counts[lives.shown], strict=True)),
        "bands": bands(lives, Days(lives.first, lives.n_days, calendar)),
        "dates": _dates(lives),
        "on_laid": LAID_SAID,
        "on_dealt": DEALT_SAID,
        "yard": list(yard.charts()),
        "held": _held(back),
        "holding": holding(back, calendar),
        "materials": _materials(said) | {"charts": list(yard.stocks(said))},
        "warnings": [note_on_tape(warning) for warning in plan.warnings],
        "notes": list(_notes(plan)),
        "cautions": CAUTIONS,
        "told": _told(lives, plan.site.units),
    }


def _stages(plan: Plan) -> Iterator[dict[str, Any]]:
    """What the plan is judged by: each value, and the best possible in words."""
    for stage in plan.stages:
        value, rest = (plain([part]) for part in stage_said(stage, plan.site.units))
        best = rest.removeprefix(", ").replace(GLUE, " ")  # glued it is wider than its box, and parts before a colon
        yield {
            "name": NAMES[stage.stage].capitalize(),
            "value": value.replace(GLUE, " "),
            "best": capital(best),
            "proven": stage.proven,
            "means": _MEANS[stage.stage],
        }


def _dates(lives: Lives) -> Table:
    """Blocks in each state in the evening of every day."""
    rows = tuple((day_name(lives.date(day)), *map(str, count)) for day, count in enumerate(lives.counts))
    return Table("Blocks in each state, in the evening", ("day", *(state.name for state in STATES)), rows)


def _notes(plan: Plan) -> Iterator[tuple[str, list[str]]]:
    """What is to be known of each wall and dome, beside what the warnings say of it."""
    for name, notes in notes_of_parts(plan.order, plan.site.moulds):
        more = [note_on_tape(note) for note in notes if f"{name}: {note}" not in plan.warnings]
        if more:
            yield name, more


def _held(back: Held) -> dict[str, Any]:
    """What ran out on how many days, and what is late."""
    words = things_said(back)
    return {
        "last": full_day_name(back.days[-1].day),
        "before": days_before_said(back) if back.by else "",
        "by": [(words[thing], counted(days, "day")) for thing, days in back.by],
        "late": [late_said(course) for course in back.courses],
    }


def _materials(said: MaterialsSaid) -> dict[str, Any]:
    """What to order, and what there is, takes and costs in sentences."""
    heads, *rows = said.table()
    return {
        "next": said.order_next(),
        "no_order": said.no_order(),
        "short": list(said.short()),
        "sums": list(said.sums()),
        "stock": [(material.name, list(said.stock(material))) for material in said.counted],
        "cost": list(said.cost()),
        "marks": list(said.cost_by_mark()),
        "table": Table("Used by day, and left in the evening", ("day", *heads[1:]), tuple(map(tuple, rows))),
    }


def _told(lives: Lives, units: str) -> str:
    """What the script needs to know: days of each life, how many blocks have it, and how dates are written."""
    told = {
        "first": lives.first.isoformat(),
        "days": lives.n_days,
        "shown": lives.shown,
        "lives": lives.each,
        "blocks": lives.blocks,
        "month_first": units == "US",
    }
    return json.dumps(told, separators=(",", ":"))

"""The rules of the audit, by what they look at. To add one, write it beside its like and name it in its tuple."""

from blockrun.planner.audit.rules.batches import BATCHES
from blockrun.planner.audit.rules.cavities import CAVITIES
from blockrun.planner.audit.rules.crew import CREW
from blockrun.planner.audit.rules.cubes import CUBES
from blockrun.planner.audit.rules.happened import HAPPENED
from blockrun.planner.audit.rules.jobs import JOB_RULES
from blockrun.planner.audit.rules.mixers import MIXERS
from blockrun.planner.audit.rules.names import NAMES
from blockrun.planner.audit.rules.ordered import ORDERED
from blockrun.planner.audit.rules.racks import RACKS
from blockrun.planner.audit.rules.slabs import SLABS
from blockrun.planner.audit.rules.stages import STAGES
from blockrun.planner.audit.rules.stock import STOCK
from blockrun.planner.audit.rules.totals import TOTALS
from blockrun.planner.audit.rules.turns import TURNS
from blockrun.planner.audit.rules.weather import WEATHER

RULES = (
    *ORDERED,
    *CAVITIES,
    *SLABS,
    *BATCHES,
    *CUBES,
    *MIXERS,
    *TURNS,
    *JOB_RULES,
    *CREW,
    *RACKS,
    *WEATHER,
    *STOCK,
    *STAGES,
    *TOTALS,
)
"""Every rule that a plan with readable cells and known names is judged by, in the order findings are given."""

__all__ = ["HAPPENED", "NAMES", "RULES"]

"""The foreman's rule, played well.

Tuned so: he plays it in all his ways, sixteen or with two mixers thirty-two (what is needed first, of that bigger
blocks first; batches filled biggest first or in the order of the moulds; the rack looked ahead to or not; pours or
strips first in the morning; a half-empty last batch left for tomorrow or not; the biggest mixer always or each in
turn) and keeps the best plan by the four stages. Stopped after ``seconds``, with the ways played by then. He knows
nothing of bounds.
"""

from __future__ import annotations

import time
from datetime import timedelta
from pathlib import Path

from blockrun.order import load_order
from blockrun.site import load_site
from tests.bench.answer import Answer, Number
from tests.bench.rivals.judged import findings
from tests.bench.rule import NoWayError, well_played
from tests.bench.rule.played import reached
from tests.bench.written import tables_of


def answer(site_file: Path, order_file: Path, seconds: float) -> Answer:
    """Play a yard."""
    until = time.monotonic() + seconds
    site, order = load_site(site_file), load_order(order_file)
    try:
        worked = well_played(site, order, stop=lambda: time.monotonic() > until)
    except NoWayError:
        return Answer(note="no way came to an end in the time given")
    late, finish, batches, cement_kg = reached(worked)
    last = site.calendar.start + timedelta(days=finish)
    values: tuple[Number, ...] = (late, f"{last}", batches, cement_kg)
    return Answer(values, findings=findings(site, order, tables_of(worked), values))

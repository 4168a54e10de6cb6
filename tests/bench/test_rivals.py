"""Every rival plans a tiny yard: what it says can be worked, and bounds are bounds."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest

from blockrun.order import load_order
from blockrun.site import load_site
from tests.bench.answer import Answer
from tests.bench.child import run
from tests.bench.report import less
from tests.bench.rivals import foreman, textbook
from tests.bench.rivals.day_counts import ENGINES
from tests.bench.rivals.judged import findings
from tests.bench.rule import WAYS, Way, work
from tests.bench.rule.played import reached
from tests.bench.written import tables_of
from tests.bench.yard_drawn import Extent
from tests.bench.yards import bench_yard

TINY = Extent(blocks=24, formats=3, days=3)
SEEDS = (1, 4, 6, 8)
"""Easy, tight, cold and full."""
LONG_S = 20.0
PLAYS = {"foreman": foreman.answer, "textbook": textbook.answer} | ENGINES


@cache
def files_of(seed: int) -> tuple[Path, Path]:
    return bench_yard("week", seed, TINY).write(Path(mkdtemp()))


@cache
def answered(rival: str, seed: int) -> Answer:
    return PLAYS[rival](*files_of(seed), LONG_S)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("rival", ["foreman", "textbook"])
def test_what_a_rival_plans_can_be_worked(rival: str, seed: int) -> None:
    found = answered(rival, seed)
    assert found.findings == ()
    assert found.stands


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("engine", ENGINES)
def test_counts_are_no_plan_and_their_bounds_are_passed_by_no_plan(engine: str, seed: int) -> None:
    counts = answered(engine, seed)
    assert not counts.stands
    for plan in (answered("foreman", seed), answered("textbook", seed)):
        for value, bound in zip(plan.values, counts.bounds, strict=True):
            assert not less(value, bound)
            if value != bound:
                break


@pytest.mark.parametrize("seed", SEEDS)
def test_both_engines_count_the_same(seed: int) -> None:
    highs, scip = (answered(engine, seed) for engine in ENGINES)
    assert all(highs.proven)
    assert highs.values == scip.values


@pytest.mark.parametrize("way", WAYS)
def test_whatever_his_way_the_foreman_keeps_every_rule(way: Way) -> None:
    site_file, order_file = files_of(8)
    site, order = load_site(site_file), load_order(order_file)
    worked = work(site, order, way=way)
    late, finish, batches, cement_kg = reached(worked)
    last = max(batch.start or 0 for batch in worked.batches) // 1440
    assert finish == last
    values = (late, f"{site.calendar.start.fromordinal(site.calendar.start.toordinal() + last)}", batches, cement_kg)
    assert findings(site, order, tables_of(worked), values) == ()


def test_a_rival_answers_from_a_process_of_its_own(tmp_path: Path) -> None:
    out = tmp_path / "answer.json"
    command = [sys.executable, "-m", "tests.bench.rivals", "foreman", *map(str, files_of(1)), f"{LONG_S}", str(out)]
    ran = run(command, tmp_path / "log", 10 * LONG_S)
    assert (ran.code, ran.said) == (0, "")
    assert Answer.read(out) == answered("foreman", 1)
    assert ran.peak_mb > 20


def test_a_process_that_takes_too_long_is_ended(tmp_path: Path) -> None:
    ran = run([sys.executable, "-c", "import time; time.sleep(600)"], tmp_path / "log", 0.1)
    assert ran.stopped
    assert ran.code != 0

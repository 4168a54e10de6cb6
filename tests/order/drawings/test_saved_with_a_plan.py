"""A plan of a drawing keeps a copy of it, and stands alone."""

from __future__ import annotations

import shutil
from pathlib import Path

from blockrun.order import load_order, takeoff
from blockrun.planner import make_plan
from blockrun.planner.audit import audit
from blockrun.planner.saved import load_plan, save_plan
from blockrun.site import load_site
from tests.order.drawings.made import new_drawing, rectangle


def test_a_saved_plan_of_a_drawing_stands_alone(small_folder: Path, tmp_path: Path) -> None:
    inputs = tmp_path / "inputs"
    shutil.copytree(small_folder / "inputs", inputs)
    new_drawing(rectangle(0, 0, 1210, 200)).saveas(inputs / "low.dxf")
    low = "  - {drawing: low.dxf, layer: walls, height: 0.3 m, block: 600 x 300 x 200 mm, joint: 10 mm, mix: light}\n"
    with (inputs / "order.yaml").open("a", encoding="utf-8") as order:
        order.write(low)
    made = make_plan(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), rounds=0)
    save_plan(made, tmp_path / "plan")
    shutil.rmtree(inputs)
    saved = load_plan(tmp_path / "plan")
    assert takeoff(saved.order) == takeoff(made.order)
    assert sum(line.count for line in takeoff(saved.order) if line.part == "low") == 2
    assert audit(saved.site, saved.order, saved.tables, list(saved.stages), saved.totals) == []

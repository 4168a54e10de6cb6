"""Plans the same yard and order written in another order: rows, keys and lists in which the order has no meaning."""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from random import Random
from typing import Any, Final

from ruamel.yaml import YAML

from blockrun.order import load_order
from blockrun.planner.beside import SOLVES, Beside
from blockrun.planner.guard import Guard, TimeAllowed
from blockrun.planner.saved import save_plan
from blockrun.site import load_site

FREE: Final = {"moulds", "mixers", "racks", "mixes", "parts", "chores", "deliveries", "away", "openings"}


def reorder(source: Path, target: Path, seed: int) -> None:
    """Write the files of a folder as somebody else would have."""
    dice = Random(seed)
    target.mkdir()
    for file in source.iterdir():
        if file.suffix == ".csv":
            header, *rows = csv.reader(file.read_text(encoding="utf-8").splitlines())
            dice.shuffle(rows)
            with (target / file.name).open("w", encoding="utf-8", newline="") as written:
                csv.writer(written).writerows([header, *rows])
        else:
            content = YAML(typ="safe").load(file)
            with (target / file.name).open("w", encoding="utf-8") as written:
                yaml = YAML()
                yaml.dump(_reordered(content, dice), written)


def _reordered(content: Any, dice: Random, key: str = "") -> Any:
    if isinstance(content, dict):
        keys = list(content)
        dice.shuffle(keys)
        return {name: _reordered(content[name], dice, name) for name in keys}
    if isinstance(content, list):
        items = [_reordered(item, dice) for item in content]
        if key in FREE:
            dice.shuffle(items)
        return items
    return content


def plan(folder: Path, out: Path, rounds: int) -> None:
    """As ``blockrun plan --repeatable`` does."""
    with Beside(SOLVES) as beside:
        site, order = load_site(folder / "site.yaml"), load_order(folder / "order.yaml")
        made = Guard(TimeAllowed(), rounds=rounds, repeatable=True).plan(site, order, beside)
    save_plan(made, out)


if __name__ == "__main__":
    plan(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]))

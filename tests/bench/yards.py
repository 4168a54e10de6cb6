"""Thirty yards with their orders, as the files a builder would write: three sizes, four kinds, fixed seeds.

Every number is invented; all are such as small yards have. A yard has so many moulds, places and bags that its
order can be poured in about the days its size says:

easy   moulds and places to spare, mild air, needs far off
tight  few moulds, a small rack, needs close on each other, part of the cement comes later
cold   weeks in which moulds stand for days, and days of frost before which every mould must be stripped
full   all at once: bases, two mixers, stop-ends, two mixes, a slab to saw, test cubes, people away, chores,
       closed days, cement by delivery
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Final

from tests.bench.yard_drawn import Drawn, Extent

SIZES: Final = {"week": Extent(300, 3, 7), "house": Extent(1500, 6, 40), "season": Extent(10_000, 12, 200)}
KINDS: Final = {1: "easy", 2: "easy", 3: "tight", 4: "tight", 5: "tight", 6: "cold", 7: "cold"} | dict.fromkeys(
    (8, 9, 10), "full"
)
"""What the yard of each seed is like."""


@dataclass(frozen=True)
class BenchYard:
    """One yard: its name, and the text of each of its files."""

    size: str
    kind: str
    seed: int
    files: dict[str, str]

    @property
    def name(self) -> str:
        """Such as ``house-cold-6``."""
        return f"{self.size}-{self.kind}-{self.seed}"

    def write(self, folder: Path) -> tuple[Path, Path]:
        """Write its files; where the site and the order lie."""
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in self.files.items():
            (folder / name).write_text(text, encoding="utf-8")
        return folder / "site.yaml", folder / "order.yaml"


def bench_yards(sizes: Sequence[str] = tuple(SIZES), seeds: Sequence[int] = tuple(KINDS)) -> Iterator[BenchYard]:
    """The yards of these sizes and seeds: all thirty unless told."""
    return (bench_yard(size, seed) for size in sizes for seed in seeds)


def bench_yard(size: str, seed: int, extent: Extent | None = None) -> BenchYard:
    """One yard; with ``extent``, of the size that says in place of its own."""
    kind = KINDS[seed]
    drawn = Drawn(Random(f"{size} {seed}"), extent or SIZES[size], kind, f"{size} {kind} {seed}")
    return BenchYard(size, kind, seed, drawn.files())

"""One rival on one yard, in this process: ``python -m tests.bench.rivals NAME SITE ORDER SECONDS OUT``."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from tests.bench.answer import Answer
from tests.bench.rivals.names import RIVALS
from tests.bench.rule import NoWayError

Rival = Callable[[Path, Path, float], Answer]


def main(name: str, site: str, order: str, seconds: str, out: str) -> None:
    """Run it and save its answer."""
    try:
        found = _rival(name)(Path(site), Path(order), float(seconds))
    except NoWayError:
        found = Answer(note="no plan to begin from in the time given")
    found.write(Path(out))


def _rival(name: str) -> Rival:
    """Loaded by itself, so that memory of one is not counted for another."""
    if name == "foreman":
        from tests.bench.rivals.foreman import answer

        return answer
    if name == "textbook":
        from tests.bench.rivals.textbook import answer as textbook

        return textbook
    if name in RIVALS:
        from tests.bench.rivals.day_counts import ENGINES

        return ENGINES[name]
    raise SystemExit(f"no rival is called {name}; there are {', '.join(RIVALS)}")


if __name__ == "__main__":
    main(*sys.argv[1:])

"""What broke and what was rejected, as people say it: how many of how many, what it may be, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.show.page import ALARM, HEADING, Part, glued

if TYPE_CHECKING:
    from blockrun.planner.progress import Blocks, Progress, Seen, Verdict

_HUNDRED: Final = 100
_WHOLE_FROM: Final = 9.95
"""From so many per cent on they are said without decimals."""

_VERDICTS: Final[dict[Verdict, str]] = {
    "more": "more than assumed",
    "fewer": "fewer than assumed",
    "as assumed": "as assumed",
    "too few": "too few to tell",
}


def losses_said(progress: Progress) -> Iterator[Sequence[Part]]:
    """Say how much was lost, a line for each way, and what is to be expected of the rest."""
    losses = progress.losses
    for what, of, seen in (
        ("broken", "stripped", losses.broken),
        ("batches thrown away", "poured", losses.flat),
        ("rejected since", "cast", losses.rejected),
    ):
        if seen is not None:
            yield [(f"{what}: ", HEADING), *seen_said(seen, of)]
            yield from _most(seen)
    if progress.lost_blocks is not None and progress.lost_blocks.held:
        yield [*_to_expect(progress.lost_blocks, progress.blocks)]


def _most(seen: Seen) -> Iterator[Sequence[Part]]:
    if seen.most is not None:
        place, held, of = seen.most
        yield [(f"most of them out of {place}: {held} of {of}", ALARM)]


def seen_said(seen: Seen, of: str) -> list[Part]:
    """``3 of 120 stripped: 2.5 %, likely 0.9 to 7.1 %; assumed 1 %: too few to tell``."""
    low, high = seen.ends
    said = f"{seen.held or 'none'} of {seen.of} {of}: "
    likely = f"{percent(seen.share)}, likely {_bare(low)} to {percent(high)}"
    if not seen.held:
        likely = f"likely under {percent(high)}"
    verdict = _VERDICTS[seen.verdict]
    return [
        said,
        f"{likely}; assumed {percent(seen.assumed)}: ",
        (verdict, ALARM) if seen.verdict == "more" else verdict,
    ]


def _to_expect(lost: Seen, blocks: Blocks) -> Iterator[Part]:
    """How many blocks are lost in all, if it goes on so, beside the spares of the plan."""
    low, high = (round(end * blocks.in_all) for end in lost.ends)
    low = max(low, lost.held)
    yield f"lost in all: {lost.held} of {lost.of} cast. If it goes on so, "
    likely = f" (likely {low} to {high})" if high > low else ""
    yield glued(f"about {max(lost.held, round(lost.share * blocks.in_all))}") + f" of {blocks.in_all}{likely}; "
    few = lost.verdict == "more"
    yield (f"the plan has {blocks.spares} spare", ALARM) if few else f"the plan has {blocks.spares} spare"


def percent(share: float) -> str:
    """``2.5 %``, ``12 %``."""
    return glued(f"{_bare(share)} %")


def _bare(share: float) -> str:
    number = share * _HUNDRED
    return f"{number:.0f}" if number >= _WHOLE_FROM else f"{number:.1f}".removesuffix(".0")

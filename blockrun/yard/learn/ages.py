"""How old blocks were at the strip, in the air as it went, and whether young ones break more.

The age at which to strip goes up where young blocks broke more than old ones, or thumbs tell a slower pace. It goes
down only within what was really stripped: so many moulds at that age or younger that came out whole, none of them
broken, each with a thumb that left no mark before, none after frost; and never under the share of its age before which
no thumb lets a mould be stripped, of the longest that a plan of the job waited.
"""

from __future__ import annotations

from datetime import timedelta
from functools import cached_property
from math import ceil
from typing import TYPE_CHECKING, Final

from blockrun.cure.thumb import SOONEST
from blockrun.planner.learned import Change, Finding
from blockrun.planner.thumbs.paces import Paces, paces, strip_at_proposed
from blockrun.site import Strength
from blockrun.units import counted, digits, show
from blockrun.yard.aging import Aging
from blockrun.yard.learn.spread import LEAST
from blockrun.yard.learn.step import Aged, Step, step_of
from blockrun.yard.thumbs import thumbs_in

if TYPE_CHECKING:
    from blockrun.planner.thumbs.pressed import ThumbTest
    from blockrun.site import Site
    from blockrun.yard.learn.past import Past, Turn

SEVERAL: Final = 3
"""Days on which young blocks that broke were poured, before the strip is put off for them: those of one day may be of
one bad batch (our choice)."""

CAUTION: Final = (
    "An earlier strip breaks blocks, and a weak block falls on feet. Strip one mould and look before the rest, press a "
    "thumb first, and go back at the first that breaks. Strength is not promised."
)
LATER: Final = "Moulds wait longer, so the plan made with it may be longer too."


class StripAge:
    """What strips tell of the age at which to strip.

    Parameters
    ----------
    past : what was recorded.
    site : of the plan, in the air as it went.
    """

    def __init__(self, past: Past, site: Site) -> None:
        self._past, self._site = past, site
        self._aging = Aging(past.plan, site)

    @cached_property
    def aged(self) -> list[Aged]:
        """All moulds that were stripped, the youngest first; what was poured before the plan began is left out."""
        start = self._site.calendar.start
        turns = (turn for turn in self._past.turns if turn.poured.date() >= start and turn.began > turn.poured)
        aged = (Aged(turn, self._aging.age_h(turn.kind, turn.poured, turn.began)) for turn in turns)
        return sorted(aged, key=lambda one: one.age_h)

    def found(self) -> Finding:
        """What is learnt."""
        about, says, strip_h = "Strip age", _rule_said(self._site), self._site.curing.strip_at_h
        step = step_of(self.aged) if len(self.aged) >= LEAST else None
        thumbs = None if isinstance(strip_h, Strength) else strip_at_proposed(paces(self._pressed, strip_h), strip_h)
        seen = "; ".join(filter(None, (self._seen(), self._broke_said(step), _thumbs_said(thumbs))))
        if isinstance(strip_h, Strength):
            return Finding(about, says, seen, "it follows a strength: see cubes", notes=self._by_forecast)
        new = self._proposed(strip_h, step, thumbs[0] if thumbs else 0)
        if new is None:
            return Finding(about, says, seen, self._verdict(strip_h, step), notes=self._by_forecast)
        sooner = new < strip_h
        change = Change("strip_at", ("curing", "strip_at"), "time", strip_h * 60, new * 60, by_name=sooner)
        return Finding(about, says, seen, "", change, (CAUTION if sooner else LATER, *self._by_forecast))

    @cached_property
    def _pressed(self) -> list[ThumbTest]:
        return thumbs_in(self._past.entries)

    def _proposed(self, strip_h: float, step: Step | None, by_thumbs: int) -> int | None:
        """Whole hours to strip at; None where the site's are right, or nothing speaks against them."""
        by_step = ceil(step.age_h - 1e-6) if step and self._n_days(step) >= SEVERAL else 0
        later = max(by_thumbs, by_step)
        if later > strip_h:
            return later
        return None if later or step else self._sooner(strip_h)

    def _verdict(self, strip_h: float, step: Step | None) -> str:
        """Why nothing is proposed."""
        if len(self.aged) < LEAST:
            return f"too few to tell ({len(self.aged)} of {LEAST})"
        if step is not None and step.age_h > strip_h:
            days = "one day" if self._n_days(step) == 1 else f"{self._n_days(step)} days"
            return f"too few to tell: the young ones that broke were poured on {days}, by one bad batch perhaps"
        return "as the site says"

    def _n_days(self, step: Step) -> int:
        """Days on which those were poured that broke under an age."""
        return len({one.turn.poured.date() for one in self.aged if one.broke and one.age_h < step.age_h})

    def _sooner(self, strip_h: float) -> int | None:
        """The age of the youngest that came out whole, as many as it takes to tell."""
        young = [one for one in self.aged if one.age_h < strip_h]
        if len(young) < LEAST or any(one.broke for one in young) or not all(map(self._felt_firm, young)):
            return None
        if self._site.curing.move_at_h is not None:  # they must be strong enough to be moved as well
            return None
        sooner = max(ceil(young[LEAST - 1].age_h), ceil(SOONEST * self._longest_h(strip_h) - 1e-6))
        return sooner if sooner < strip_h else None

    def _longest_h(self, strip_h: float) -> float:
        """The longest that a plan of this job waited, so that an age taken down once is not taken down again."""
        waits = (plan.site.curing.strip_at_h for plan in self._past.before)
        return max([strip_h, *(wait for wait in waits if not isinstance(wait, Strength))])

    def _felt_firm(self, one: Aged) -> bool:
        """Whether a thumb left no mark, last of all and before the strip, in a mould that never froze."""
        turn = one.turn
        before = [shows for at, shows in sorted(turn.thumbs) if turn.poured < at <= turn.entry.happened]
        return bool(before) and before[-1] == "firm" and not self._froze(turn)

    def _froze(self, turn: Turn) -> bool:
        days = (turn.entry.happened.date() - turn.poured.date()).days
        dates = (turn.poured.date() + timedelta(days=day) for day in range(days + 1))
        return any(self._site.weather.day(date).min_c < 0 for date in dates)

    def _seen(self) -> str:
        ages = self.aged
        if not ages:
            return "no strip is recorded"
        blocks, broken = (sum(getattr(one.turn, name) for one in ages) for name in ("blocks", "broken"))
        youngest, oldest = (digits(round(one.age_h, 1)) for one in (ages[0], ages[-1]))
        span = youngest if youngest == oldest else f"{youngest} to {oldest}"
        moulds = counted(len(ages), "mould")
        return f"{moulds} stripped at {span} h, {broken or 'none'} of {blocks} blocks broken"

    def _broke_said(self, step: Step | None) -> str:
        if step is not None:
            return _step_said(step)
        some = any(one.broke for one in self.aged)
        return "no sign that the young ones break more" if some and len(self.aged) >= LEAST else ""

    @property
    def _by_forecast(self) -> tuple[str, ...]:
        """How far ages are by the air that was seen."""
        if not self.aged:
            return ()
        first = min(one.turn.poured for one in self.aged).date()
        last = max(one.turn.entry.happened for one in self.aged).date()
        days = (last - first).days + 1
        told = sum(first <= day <= last for day in self._past.state.air)
        if told == days:
            return ()
        return (f"The air was told for {told} of {days} days; ages on the others are by the forecast.",)


def _step_said(step: Step) -> str:
    low, high = (digits(round(age, 1)) for age in (step.low_h, step.high_h))
    return (
        f"under {digits(round(step.age_h, 1))} h {step.young.held} of {step.young.runs} moulds had broken ones, older "
        f"{step.old.held} of {step.old.runs}; the change lies likely between {low} and {high} h"
    )


def _thumbs_said(told: tuple[int, Paces] | None) -> str:
    if told is None:
        return ""
    slowest = told[1]
    of = f" of {slowest.mix}" if slowest.mix else ""
    return f"{slowest.n_tests} thumbs{of} tell {digits(slowest.told.factor)} of the pace reckoned"


def _rule_said(site: Site) -> str:
    strip = site.curing.strip_at_h
    if isinstance(strip, Strength):
        return f"strip_at {show(strip.mpa, 'strength', site.units)}"
    return f"strip_at {digits(strip)} h at 20 degC"

"""What changes of a yard would save, in words, best first."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import full_day_name
from blockrun.planner.whatif.changes import in_words
from blockrun.planner.whatif.solved import Refused
from blockrun.show.measures import bags_of, by_bags
from blockrun.show.page import HEADING, INDENT, QUIET, Page, glued
from blockrun.units import counted

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rich.text import Text

    from blockrun.planner.whatif.gains import Saved
    from blockrun.planner.whatif.tried import Trial, Tried


def whatif_text(tried: Tried, width: int, units: str = "SI") -> Text:
    """Write what each change saves, how sure that is, and what it takes of cement and batches."""
    page = Page(width, units)
    _now(page, tried)
    if tried.single:
        page.blank()
        _trials(page, tried, tried.single)
    if tried.pairs:
        page.blank()
        page.line(("Two of the best at once:", HEADING))
        _trials(page, tried, tried.pairs)
    if tried.unsolved:
        page.blank()
        page.line("Not solved, for there was no time: ", "; ".join(tried.unsolved), ".")
        page.line("Without --seconds all are solved, however long that takes.")
    if tried.is_quick:
        page.blank()
        page.line("There was time for little work on each: with more, what is found may change; what is proven stays.")
    page.blank()
    page.line((_OF_PRICES, QUIET))
    return page.text()


_OF_PRICES: Final = (
    "Each yard was planned with the same work. Days found, batches, cement and cost are between two plans; what is "
    "proven holds for the best. Costs are of cement and foaming agent: no price given for moulds, racks, mixers, "
    "foam generators, people or warmth."
)


def _now(page: Page, tried: Tried) -> None:
    now = tried.now
    if isinstance(now, Refused):
        page.line(("As the yard is there is no plan", HEADING), f": {now.why}.")
        return
    cost = "no price given" if now.cost is None else f"cost {now.cost:.2f}"
    page.line(
        ("As the yard is: ", HEADING),
        f"{counted(now.late, 'block-day')} late, last pour {glued(full_day_name(now.finish))}, "
        f"{glued(counted(now.batches, 'batch'))}, {by_bags(now.bags)} of cement, {cost}",
    )
    if tried.cut_short:
        page.line("There was no time for all of the work on it: with more, this plan may be better.")


def _trials(page: Page, tried: Tried, trials: Iterable[Trial]) -> None:
    """Write what each comes to; those that come to the same stand together."""
    for (gain, takes), same in groupby(trials, lambda trial: (_gain_said(tried, trial), _takes_said(tried, trial))):
        page.line(("; ".join(trial.said for trial in same), HEADING), f": {gain}")
        if takes:
            page.line(takes, indent=INDENT)


def _gain_said(tried: Tried, trial: Trial) -> str:
    """``four days earlier (proven)``; ``nothing (proven)``."""
    if isinstance(trial.answer, Refused):
        return f"no plan: {trial.answer.why}"
    late, days = tried.late_saved(trial), tried.days_saved(trial)
    if late is None or days is None:
        return f"a plan, last pour {full_day_name(trial.answer.finish)}"
    said = [
        *([f"{counted(abs(late.found), 'block-day')} {_less(late.found)} late {_sure(late)}"] if late.found else []),
        *([f"{_days_said(days.found)} {_sure(days)}"] if days.found else []),
    ]
    return "; ".join(said) or _nothing(late, days)


def _less(saved: int) -> str:
    return "less" if saved > 0 else "more"


def _days_said(found: int) -> str:
    return f"{in_words(abs(found))} day{'s' * (abs(found) != 1)} {'earlier' if found > 0 else 'later'}"


def _nothing(late: Saved, days: Saved) -> str:
    """Say that nothing was found, and whether there may be something all the same."""
    if late.none_possible and days.none_possible:
        return "nothing (proven no gain)"
    if late.most:
        return f"nothing found; between 0 and {counted(late.most, 'block-day')} less late"
    if days.most:
        return f"nothing found; between 0 and {counted(days.most, 'day')} earlier"
    return "nothing found"


def _sure(saved: Saved) -> str:
    if saved.proven:
        return "(proven)"
    if saved.least is None or saved.most is None:
        return "(found)"
    if saved.least > 0:
        return f"(at least {saved.least}, at most {saved.most})"
    return f"(found; between {min(saved.least, saved.found)} and {saved.most})"


def _takes_said(tried: Tried, trial: Trial) -> str:
    """What is more or less used, batches, cement and its cost; empty where all is as now."""
    now, then = tried.now, trial.answer
    if isinstance(now, Refused) or isinstance(then, Refused):
        return ""
    said = []
    if more := then.batches - now.batches:
        said.append(f"{glued(counted(abs(more), 'batch'))} {_more(more)}")
    if more_bags := bags_of(then.bags - now.bags):
        said.append(f"{by_bags(abs(more_bags))} of cement {_more(more_bags)}")
    if now.cost is not None and then.cost is not None and then.cost != now.cost:
        said.append(f"{abs(then.cost - now.cost):.2f} {'dearer' if then.cost > now.cost else 'cheaper'}")
    return ", ".join(said)


def _more(number: float | Fraction) -> str:
    return "more" if number > 0 else "fewer"

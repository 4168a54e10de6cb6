"""The pour life of a mix that is warmer or colder than usual: as short as its set is fast."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.cure.rates import REFERENCE_C, rule_of

if TYPE_CHECKING:
    from blockrun.site import Site


def pour_life_at(site: Site, celsius: float) -> float:
    """Minutes from the foam going in to the last cavity filled, at a temperature.

    Parameters
    ----------
    site : its ``pour_life`` is taken to be that at 20 degC; its ages are by its own rule.
    celsius : of the mix, -60 to 80.

    Returns
    -------
    The pour life, divided by how much sooner the mix ages than at 20 degC.

    Raises
    ------
    OutOfRange : the temperature is outside the limits above.

    Source
    ------
    Our choice.
    """
    rate = rule_of(site.curing)
    return site.pour_life_min * float(rate(REFERENCE_C)) / float(rate(celsius))

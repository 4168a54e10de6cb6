"""Strength at an age, as a share of the strength at 28 days.

It turns an equivalent age into words a builder can weigh ("about a fifth of its 28-day strength when
stripped") and promises no strength: the curve was fitted to dense concrete, not to foamed.
"""

from __future__ import annotations

import math
from typing import Final

from blockrun.errors import OutOfRange

SLOW, NORMAL, RAPID = 0.38, 0.25, 0.20
"""Coefficient s of EN 1992-1-1 (3.2) for cement of classes S, N and R."""

STRENGTH_DAY: Final = 28
"""Age in days to which strengths are referred."""


def age_factor(t_days: float, s: float = SLOW) -> float:
    """Strength at an age over strength at 28 days, cured at 20 degC.

    Parameters
    ----------
    t_days : equivalent age in days at 20 degC, > 0.
    s : 0.20 to 0.38. The default, 0.38, is the prudent one at early age: open test results of plain-cement
        mixes follow it, while 0.25 runs ahead of them (tests/published/test_strength_with_age.py).

    Returns
    -------
    exp(s (1 - sqrt(28 / t))), between 0 and exp(s).

    Raises
    ------
    OutOfRange : an argument is outside the limits above.

    Source
    ------
    EN 1992-1-1:2004 (3.2), beta_cc.
    """
    if not t_days > 0:
        raise OutOfRange(
            "strength needs an age above zero", name="t_days", value=t_days, limit=0, unit="d",
            todo="Ask for an age of more than 0 days.",
        )  # fmt: skip
    if not RAPID <= s <= SLOW:
        limit = SLOW if s > SLOW else RAPID
        raise OutOfRange(
            "s of the strength curve is outside 0.20 to 0.38", name="s", value=s, limit=limit,
            todo="Use 0.38 for slow, 0.25 for normal or 0.20 for rapid cement; 0.38 when unsure.",
        )  # fmt: skip
    return math.exp(s * (1 - math.sqrt(STRENGTH_DAY / t_days)))


def hyperbola(t_days: float, ultimate: float, k_a_day: float, t_0_days: float = 0.0) -> float:
    """Strength at an age by the hyperbola that nears an ultimate strength.

    Parameters
    ----------
    t_days : equivalent age in days at 20 degC.
    ultimate : strength after endless time, > 0, in any unit.
    k_a_day : how fast, > 0, a day: half the ultimate is there 1/k after ``t_0_days``.
    t_0_days : age at which strength begins, >= 0; before it there is none.

    Returns
    -------
    S_u k (t - t_0) / (1 + k (t - t_0)), in the unit of ``ultimate``.

    Raises
    ------
    OutOfRange : an argument is outside the limits above.

    Source
    ------
    ASTM C1074, appendix (after Carino); from memory. tests/published/test_strength_with_age.py checks it against open
    test results.
    """
    for name, value in (("ultimate", ultimate), ("k", k_a_day)):
        if not value > 0:
            raise OutOfRange(
                f"{name} of the hyperbola must be more than zero", name=name, value=value, limit=0,
                todo="Fit it to tests, or leave it as it is.",
            )  # fmt: skip
    if not (t_0_days >= 0 and t_days >= 0):
        raise OutOfRange(
            "an age must be zero or more", name="t_days", value=min(t_days, t_0_days), limit=0, unit="d",
            todo="Ask for an age of 0 days or more.",
        )  # fmt: skip
    gone = k_a_day * max(0.0, t_days - t_0_days)
    return ultimate if math.isinf(gone) else ultimate * gone / (1 + gone)

"""A plan made anew in the middle of a job: what had happened by then, and what the rest of the plan takes from it.

::

    facts.py     what had happened when a plan was made anew, as it is saved with the plan
    site.py      the yard as it was then: air seen, days lost, people away, moulds out of use, stock left
    books.py     stock by the books: what came, what counts found and missed
    lines.py     what is still wanted: blocks that were found besides, spares for what may yet break
    numbers.py   numbers of batches that were poured, by those under which they are recorded
    courses.py   courses that are ready on another day than by the plan before
    moulds.py    which moulds and bases may still be filled, once some are out of use
    history.py   what had happened, as the optimiser counts it, each thing in its own mould
    old.py       what the plan before still had, as the optimiser counts it
    written.py   the optimiser's answer and what had happened before it, put together
    changes.py   what is done otherwise than by the plan before on the next days: words that show prints
"""

from blockrun.planner.begun.facts import Begun

__all__ = ["Begun"]

"""A plan made anew: what had happened by then, by the journal, as the planner takes it.

::

    kept.py        plans made for a job, this one and those before, each by its digits
    numbers.py     numbers of batches that were poured, which they keep
    batches.py     batches poured, each with what its plan has for it
    turns.py       turns begun, with the good blocks that came of them
    lost.py        what batches filled of which no good block is left
    stock_left.py  what is left of which lot of cement and agent, and what comes
    waiting.py     what thumbs say of turns that stand: which strips wait, and where a thumb goes first
    ordered_still.py  what was made is in the order and the site still, though they may have changed
    cleaned.py     when their moulds were clean again, which nobody records
    spares.py      spares to be had in the end, as many as broke counted
    happened.py    all of it together
    why.py         what speaks for another plan, in words
    forecast.py    the site with a newer forecast
    going_on.py    what is read for a plan made anew, and what is said of it
"""

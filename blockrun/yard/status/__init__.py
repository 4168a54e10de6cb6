"""How a job stands at a moment, by all that was recorded, against its plan.

::

    pours.py       batches poured of those planned, and the day of the last pour at the pace so far
    late.py        courses that will not be there in time, by what is cast and what the plan still has
    reserves.py    what is left of each material, and the day it runs out
    losses.py      how many blocks broke and were rejected, beside what was assumed
    undone.py      strips and sides that the plan has until now and nobody recorded, and those that thumbs put off
    weighed.py     what was weighed of batches, for the charts
    standing.py    all of it together

What is left of each material is `blockrun.yard.stock`'s; where every block is, `blockrun.yard.now`'s.
"""

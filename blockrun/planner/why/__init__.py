"""Why there is no plan, or none on time: the fewest plain facts that clash, and the least change that frees them.

::

    goals.py     what is asked by a day, and by which of these days it cannot be had
    rules.py     the rules of a yard, each with what it would be were there plenty
    shortage.py  how many blocks of a goal cannot be had whatever is done, with some of the rules relaxed
    clash.py     rules are relaxed one after the other; those that cannot be are the clash
    facts.py     a clash in the numbers of the yard
    frees.py     the least change of a yard that frees a clash
    explain.py   all of it for a site and an order
    held.py      of a plan that is there: what held each day back
"""

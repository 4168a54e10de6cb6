"""Why there is no plan, or none on time: the fewest plain facts that clash, and the least change that frees them.

::

    goals.py     what is asked by a day, and by which of these days it cannot be had
    rules.py     the rules of a yard, each with what it would be were there plenty
    shortage.py  how many blocks of a goal cannot be had whatever is done, with some of the rules relaxed
    ground.py    of these by arithmetic, those for which a small stack has no room
    clash.py     rules are relaxed one after the other; those that cannot be are the clash
    facts.py     plain facts of a yard that clash
    told.py      a clash told in such facts
    kinds.py     what there may be more of, by the amount
    reached.py   of how many goals in a row a plan has all in time
    frees.py     the least change of a yard that frees a clash, or some together
    explain.py   all of it for a site and an order
    taken.py     so much of a thing that a day of a plan takes, of so much there is
    planned_days.py  of a plan that is there: what each day takes, and what ran out; mould_days.py, of its moulds, and
                 mixing_days.py, of its mixers and people
    held.py      what held such a plan back, and its late courses
"""

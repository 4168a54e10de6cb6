"""What a change of a yard would save: changes in plain words, each solved for real, best first, then pairs of the best.

::

    changes.py   what may be changed, each a site made anew
    solved.py    what one site reaches and takes, with its bounds
    gains.py     what a change saves, and how sure that is
    side_by_side.py   many sites solved in processes of their own, the same with any number of them
    tried.py     all changes of a site, and pairs of the best
    within.py    the same within a time: with little work first
"""

"""Saw plans: how slabs are sawn into blocks so that the least slab is cast.

Every cut goes from edge to edge of the piece in hand and is as wide as the blade; blocks may be turned. All lengths
are whole numbers of one unit, the caller's choice (blockrun saws by tenths of a millimetre).

::

    plan.py      slabs, pieces and saw plans: what goes in and comes out; it solves nothing, for whoever only asks
    places.py    where a cut can be worth making, along one side
    grid.py      the dearest saw plan of a slab, by the sizes that cuts can leave
    roof.py      what no plan of a slab is worth more than
    rests.py     what a saw plan leaves over, and filling that
    job.py       what is to be sawn out of what; saw plans as columns
    pool.py      saw plans worth having, by the prices of a linear programme, and the least area there can be
    rounding.py  whole slabs out of parts of slabs
    every.py     all saw plans of a slab, where they are few
    whole.py     how many slabs of each saw plan
    solve.py     the parts put together: for one demand
    settle.py    for all that slabs may give

Throughout, pieces and slabs are thought of as one blade longer and higher than they are. Then cuts need no width:
pieces lie side by side, and what fits, fits (a cut at the edge of a slab, or into a strip narrower than the blade,
may lie outside it).
"""

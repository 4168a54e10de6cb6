"""What may go wrong in the yard, and what then becomes of a plan.

::

    setting.py    what a run has to know of a saved plan; given.py works it out, numbered.py its blocks
    underway.py   what had happened before, of a plan made anew in the middle of its job
    ripening.py   when blocks are old enough in the air as it turns out
    luck.py       what befalls one run, drawn from its own numbers
    board.py      the minutes of a day: people, mixers, the generator
    state.py      moulds, racks and stock in the middle of a run; ground.py, a small stack
    pool.py       what was lost, and is to be poured again
    day.py        one day: strips and pours as planned, as far as they go; pouring.py and again.py, its batches
    conditions.py whether a day lets a batch be poured; hot.py, at which minutes heat does not
    run.py        one run from the first day, or from where the job stands, to the last block
    sweep.py      many runs side by side, the same with any number of workers; workers.py finds these
    answers.py    chances, block-days late, slack worth having, what each cause costs; spares.py, spares worth having

Between the journal and what reckons with it:

::

    aging.py      how old blocks are in their moulds, in the air as it went
    thumbs.py     thumb tests out of entries, and into them
    stock.py      what is left of each material; drawn.py, what pours took of it
    older.py      plans before the one in hand, by which some of it was poured
    losses.py     blocks that nobody will lay, of all that were cast
    off_card.py   what was weighed of a batch and is beyond the limits of its card; apart.py, which are so set apart
    absent.py     how many people are away on a day, each name once
    called.py     what batches are called: by their numbers in the plan in hand
    exported.py   all that was recorded as CSV, and where every block is now
"""

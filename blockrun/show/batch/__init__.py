"""One batch at the mixer: what to measure for it, whether it is right, and what batches before it signal.

::

    card.py      batch cards: what to weigh, draw and time for every size of batch of every mix
    load.py      the things to measure for one batch, from the scales to the clock of the foam generator
    buckets.py   words for what is counted and weighed by the bucket
    trial.py     a trial batch: its card in small, then what it really was and what to change
    check.py     the answer to the check of a batch: the verdict first, then what to do, then why
    asked.py     which batch that is: one of a saved plan, or so many bags of a mix
    what_to_do.py  what to add to it, in amounts that can be measured there, and until when
    rejected.py  why it is rejected, each reason with its figures
    causes.py    likely causes of a batch that is off, each with its arithmetic
    chart.py     what was weighed, batch by batch: limits, the last points, and signals in words
    charted.py   the sentences of it that text and picture share
"""

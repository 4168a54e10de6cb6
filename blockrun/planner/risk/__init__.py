"""What may go wrong with a plan, and what many runs of it told: words that the yard and the screen share.

::

    rates.py      how often blocks break, batches go flat, nights are colder, people and days are missing
    counted.py    chances, spreads, spares and slack, what each cause costs
"""

"""What can be done in the yard at a moment: strip, take off the rack, stack, lay; by part and course.

::

    air.py         the air as it was seen, and as forecast where nobody saw it
    ripe.py        since when what stands in a mould may be stripped, and blocks leave a rack and may be laid
    cubes.py       cubes that were crushed, with those of the site; strong.py, what they hold back or let come sooner;
                   cubes_now.py, what they say of blocks that are there
    doubts.py      what asks for a thumb before a strip, whatever is reckoned
    early.py       blocks that came out of their moulds too soon, until they are stacked
    apart.py       batches outside their cards, of which nothing is to be laid until something speaks for them
    supply.py      all blocks there are, by when they may be laid
    courses.py     which of them each course gets, and what of it is missing
    morning.py     all of it together

Blocks serve courses in the order in which these are needed, the soonest ready first, as any cast of a mark and mix may.
"""

"""What the yard can learn of itself: the values of the site held against what was recorded.

::

    spread.py      medians, shares and their intervals, and whether one group broke more than another
    past.py        what is recorded, beside what the plan had: pours and turns
    gaps.py        work that was done one after the other, and how much longer it took than planned
    batches.py     how long a batch takes
    strips.py      how long a strip takes
    drum.py        what is left in the drum, by what batches made and filled
    left.py        a volume of which batches tell but bounds
    foam.py        what foam and mix weigh, and so what a batch makes
    ages.py        how old blocks were at the strip, and what broke
    step.py        the age under which moulds broke more
    crushed.py     cubes, and the strength they tell
    spares.py      how many broke, and the spares that asks for
    lessons.py     all of them
    cube_rows.py   rows below a table of cubes
    written.py     proposals into the file of a site

Few things are known after a week. So each has an interval that holds the truth in 95 of 100 such yards, and a value is
proposed only where the site's own lies outside it. Nothing here loosens a rule by which people stay safe: see `ages`.
"""

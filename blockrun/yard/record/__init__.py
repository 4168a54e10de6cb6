"""What happened, typed short and in words: from ``stripped gang-4/3 1 broken`` to entries of the journal.

::

    words.py       words one after the other, and what is said when one is missing or too many
    when.py        the moment that is meant, never one to come
    known.py       what is known when somebody types: the plan, where every block is, the moment
    blocks.py      blocks as they are typed: so many of a mark
    weights.py     what foam and wet mix weigh: a density, or what the container of the cards weighs
    amounts.py     a number and its unit: 8.5 L, 8,5L
    named.py       moulds as they are typed: b01, ring-5/1-4, several in one line
    scanned.py     labels that were scanned, in the place of a mould or a batch
    off_label.py   blocks that a label on a rack stands for once they are out of their mould
    casting.py     poured, thrown, sides; stripping.py, stripped
    moves.py       moved
    fills.py       what a batch fills, but for what is typed of its moulds
    fitting.py     why a mould cannot cast what is told of it; fillers.py, why nothing is recorded of filler moulds
    extra.py       a batch that no plan has
    mingled.py     of which batch blocks are, where some are set apart; taken.py, which ones an entry takes
    after.py       stacked, laid, rejected, passed
    measured.py    thumb, weather, delivered, counted; crushing.py, test; air.py, degrees that can be
    off_rack.py    blocks that leave a rack before their time
    stood.py       what stood in a mould when a thumb was pressed into it
    people.py      lost, away, mould, note, undo
    grammar.py     the table of them all, each with how it is written
    carried.py     where every block is, one thing after the other; twice.py, what somebody else recorded already
    slips.py       what is kept and is unsafe or surely a slip; doubts.py, measures far from what can be
    absences.py    people who are away already
    courses.py     courses that are hardly meant; dates.py, days and hours that are
    stopped.py     batches poured on a day on which the weather stops every pour
    ripening.py    when blocks are old enough, reckoned once for many rows
    clashed.py     what to type where something cannot have been
    recorder.py    words -> entries, held against all others, and kept
    sheet.py       a sheet of rows typed in at night: all or none
    planned.py     what the plan has for a day, to be asked about one by one
    said.py        an entry in one sentence; figures.py, what was weighed, counted and crushed in it

What nobody types the plan says: which moulds a batch fills and with what, to which rack blocks go, what a course has.
An entry that cannot have been, such as more blocks than are there, is refused by the replay (`blockrun.yard.now`).
"""

"""Plans, orders and mixes as text for a screen of any width; nothing here prints.

`days`, `summary`, `takeoff` and `findings` each make one text; `batch/` says all of one at the mixer. Of the days,
`diary` gathers what happens (in the records of `day`; equal things in `together`), `pauses` and `occupied` why nothing
is poured, `head`, `jobs` and `crew` put it into words. `measures` says what a batch is measured by; `page` wraps lines
and `words` names things.

What functions of this room are given, wherever they do not say otherwise:

::

    plan     one that its audit passes
    width    characters a line
    units    ``SI`` or ``US``, to print in
    moulds   of the site; what they can cast decides how the blocks of a dome are made
    marks    what each kind of block is called, from `blockrun.order.parts.marks_of`
    thumbs   what thumbs pressed into the moulds of a plan say of when these are stripped
    apart    numbers of batches outside their cards, of which nothing is to be laid
    which    which plan of the job it is, in words; may be empty
"""

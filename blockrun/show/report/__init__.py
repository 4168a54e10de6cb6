"""The report of a plan: one page that stands alone, read without script and without a network.

``page`` puts it together. ``lives`` says where each block is by date and ``dealt`` which cast is which block of a wall
or a dome. ``parts`` shows each part of the order: ``courses`` in a table, ``drawing`` block by block, ``solid`` to turn
about, of which ``bare`` finds the faces that are seen. ``yard`` and ``holding`` show what is taken and what ran out,
as ``charts`` over ``days``.
"""

"""Thumbs pressed into blocks: what they say of a plan, and of how fast a yard's blocks set.

::

    pressed.py   thumb tests that were made, each whole without the plan
    turns.py     what they say of the turns of a plan: their pace, and from when a mould may be stripped
    thumbed.py   one such turn, and what they say of it
    follows.py   what follows of a strip that waits for its thumb: fills that come too late, frost
    first.py     turns into which a thumb goes before the strip, whatever is reckoned
    paces.py     how fast blocks set by all thumbs that were kept, and the age at which to strip that they speak for
"""

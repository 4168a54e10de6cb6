"""The report of a plan: one page that stands alone, read without script and without a network.

``page`` puts it together. ``lives`` says where each block is by date and ``dealt`` which cast is which block of a wall
or a dome; ``drawing`` draws those, ``charts`` the yard over time, and ``solid`` domes and walls to turn about.
"""

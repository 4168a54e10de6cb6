"""The days of a plan as a calendar for phones: whole days only, for clock times die by nine in the morning.

``entries`` says what stands on which day, ``ics`` writes the file, and ``kept`` reads the one written before it, so
that what has fallen away is cancelled.
"""

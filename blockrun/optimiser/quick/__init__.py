"""Whole plans by the minute in milliseconds: a list schedule played over and over, each time by another policy.

| file | idea |
| --- | --- |
| `minutes.py` | minutes of a day as bits of a whole number: where a task fits, in a few shifts |
| `shift.py` | people, mixers and foam of one day |
| `rack.py`, `units.py` | places on the rack and the stack; moulds, sides and bases by the minute they come free |
| `ground.py` | what is worked out of a problem once, for all plays |
| `policy.py` | what a play may do one way or another, and the manner of a day |
| `yard.py` | the yard as it stands in a play |
| `promise.py` | strips set down at once, for a frost comes |
| `urgency.py`, `fill.py` | what is wanted first; what goes into one batch |
| `slots.py` | moulds that can be filled on a day |
| `emptying.py`, `pouring.py` | sides, strips and cleans of a day; its batches |
| `play.py` | a play: day after day |
| `follow.py`, `followed_day.py` | an old plan followed by somebody who does not plan again; a day of it |
| `laps.py` | plans put together lap by lap, a lap being the time a block stays on the rack |
| `tries.py` | many plays, and the best of them played on from its middle |
| `fewer.py` | a plan with a batch less: what a small one pours goes into others with room for it |
| `second.py` | a second player, in a process of its own |
"""

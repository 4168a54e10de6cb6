"""Small orders by the minute as a whole, every stage of them proved.

| file | idea |
| --- | --- |
| `clock.py` | minutes at which tasks may begin, over all days at once |
| `people.py` | people and chores |
| `batches.py` | batches: mixer, mix, size and start |
| `turns.py` | turns: what is filled from which batch, and when moulds are emptied |
| `ripe.py` | from which minute on a task may be done, by the minute of the pour |
| `stock.py`, `lots.py` | cement and agent; sets of test cubes |
| `blocks.py`, `lateness.py` | all that is cast, and how late |
| `size.py` | how big a plan may get at the most |
| `whole.py` | all of it as one model, and the plan of an answer |
| `known.py` | a plan that is known in the variables of the model |
| `exact.py` | stage after stage |
"""

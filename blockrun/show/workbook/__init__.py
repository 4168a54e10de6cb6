"""A plan as a workbook for those who sort, filter and add up: ``sheets`` says what stands in it, ``xlsx`` writes it.

``one_sheet`` writes rows alone, such as lists of blocks that are read again.
"""

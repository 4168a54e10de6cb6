"""A plan as a workbook for those who sort, filter and add up: ``sheets`` says what stands in it, ``xlsx`` writes it."""

"""What is printed for the wall of the yard: sheets of plain data, each set by a typst template of its name.

``press`` turns sheets into one PDF, ``sheets`` says which sheets a plan has; every other module has the data of one
kind of sheet, and beside it lies its template. ``base.typ`` is what all templates share.
"""

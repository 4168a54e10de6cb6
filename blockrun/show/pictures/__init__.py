"""Pictures on paper: SVG that prints on A4 and on Letter, every block told apart without colour too.

`walls` draws elevations with `paper` (sheets, scales, kinds of block); `dome_*` draw domes with `drawn`.
"""

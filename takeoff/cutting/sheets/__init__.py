"""Sheets laid course by course on faces, round openings and under rakes, and cut from whole sheets on sale.

`layout.py` says where every piece lies (`pieces.py` how a sheet's place is cut to the face, `starts.py` where courses
start), `packing.py` which sheet it is cut from (`strips.py` fills sheets with strips of nearly the whole width,
`offcuts.py` uses again what is left), `bounds.py` what no cutting of those pieces can go below, and `plan.py` takes
from the ways of laying in `choices.py` the one that costs least.
"""

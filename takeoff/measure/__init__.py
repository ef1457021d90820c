"""Measures quantities: one module a trade or element, each from the model and the sticks to rows.

Net quantities follow the dimensions; required adds laps, cover and whole-width cutting. What is ordered
is decided after this, in `takeoff.cutting`.
"""

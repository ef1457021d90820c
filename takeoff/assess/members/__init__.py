"""Indicative checks of timber members: bending, shear, bearing and sag under uniform loads, and what would do.

`beams`, `sections`, `checks` and `sizing` are plain rules; `house_members` finds the rafters, lintels and floor joists
of a house and what they carry, `without_steel` puts timber in place of steel lintels. None of it is structural design:
the engineer confirms every member.
"""

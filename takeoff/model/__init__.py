"""What a house is: frozen data and plain geometry, in SI units (m, m2, m3, kg; angles in degrees).

Nothing here reads a file, knows a unit object or imports another part of the package.
"""

"""The boundary to spreadsheets: what every sheet and column is, reading it, writing a new workbook.

Units are converted here, once; everything past this point is in SI units.
"""

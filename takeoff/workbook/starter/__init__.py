"""The content of a new workbook as CSV files, one a sheet: `house/` and `factors/`.

The house, its place and people, the prices and the hours of labour in them are invented; each row of the
factors says where its values come from. `takeoff.workbook.starter_content` reads these files.
"""

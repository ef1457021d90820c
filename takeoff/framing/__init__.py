"""Places every stick of walls and roof: which use, which section, how long, where.

Takes the model and returns members; knows nothing of money, carbon or documents.
"""

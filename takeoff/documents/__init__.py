"""Writes what the readers get: tables, results.json, the comparison report with its drawings and charts."""

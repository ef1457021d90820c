"""Monopitch: material take-off, cost and embodied carbon of small single-pitch timber houses."""

__version__ = "0.1.0"

"""Cutting whole lengths: patterns of least length, cost or carbon, with a proven lower bound."""

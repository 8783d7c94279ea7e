"""Formulas of the trade with their sources: plain functions of numbers, nothing of the project."""

"""Clauses: one file for each group, one function for each check, written for arrays.

A clause function takes the standard's symbols as keyword arguments (N, mm, MPa), enforces the limits of validity, and
returns an `Outcome`. The decorator `clause` hangs on it what a record prints: what is checked, the equation, the meaning
and kind of each symbol, the limits and the reference with edition and clause. The docstring holds a published example.
"""

"""Formulas that the program does not use, against which tests hold what it does use; each with its source."""

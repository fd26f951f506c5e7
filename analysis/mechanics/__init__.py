"""Mechanics of the arm for arrays of designs x load cases x positions x stations: no clause, no file."""

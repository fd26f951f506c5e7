"""The mesh: all load cases on it (`cases`), refined until the bores' peaks have settled (`refine`), beside the hand calculation
(`beside`), and the answer for one arm (`summary`). `python -m analysis.proof DIR` meshes, solves and refines.
"""

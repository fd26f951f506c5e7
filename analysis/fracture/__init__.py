"""Fracture: how long found cracks last, what flaw a new arm may keep, when to look. `python -m analysis.fracture DIR` writes
the tables; `loads`, `path` and `driven` lead from the arm's file and the mesh to the formulas, `margins` judges every mesh.
"""

"""Fatigue: years to a crack all over the arm. `python -m analysis.fatigue DIR` writes its tables; `cycles`, `stresses` and
`variants` lead from the arm's file and the mesh to the formulas, `margins` judges every mesh.
"""

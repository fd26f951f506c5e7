"""The hand calculation: `evaluate` for arrays of designs, `screen` for sweeps, its tables and what it hands over to the mesh.

`python -m analysis.hand ARM.yaml DIR` writes all files of one arm.
"""

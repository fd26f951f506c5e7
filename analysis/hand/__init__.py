"""The hand calculation: `evaluate` for arrays of designs, `screen` for sweeps, its tables and what it hands over
to the mesh and the page.

`python -m analysis.hand ARM.yaml DIR` writes all files of one arm.
"""

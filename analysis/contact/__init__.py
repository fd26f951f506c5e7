"""Pins in their bores by unilateral contact on matching meshes.

`python -m analysis.contact DIR` writes its table, fields and picture.
"""

"""Seeded arms over the whole schema, plausible and invented, to run the checks, the solid and the mesh on.

Most keep every rule that the check of a parameter file states, with sizes rounded as a person would; one in eight is
`careless`: one slip, with the field that a refusal should name. The same seed and number give the same arm.
"""

"""The bores of the arm: limits and fits, the rings about a bore, what a fit holds, how a pin bears.

`tolerances` holds the numbers of ISO 286-1 and `limits_fits` turns a class or a fit into limits of size.
`ring` gives the pressures and stresses of concentric rings pressed together (shaft, bush, hub); `holding`
what friction at that pressure carries and what heating or cooling the assembly takes; `bearing` the pressure
of a pin that pushes on one side of its bore, from the half-cosine over conforming contact with clearance to
the line contact of unlike radii. Everything is closed form: the contact solution on the mesh is checked
against it.
"""

"""What goes to the vendor: facts, requirement sheet, package, and its verification.

`facts` gathers in one table what the drawing and the requirement sheet say: sizes with their limits, fits, material, route,
examination, mass. `requirements` prints the sheet from it, `analysis/drawing` the drawing. `package` puts all files into one
zip with a manifest; `verify` takes such a zip apart again and trusts nothing in it, `regenerate` makes near-net solid, pieces,
pattern or plates again from the parameter and route files inside. The CAD room is reached by its commands.
"""

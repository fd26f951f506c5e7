"""As found: from a scan of the old part to its parameter file, with its uncertainty.

reading -> setups in mm; reduce -> one point a cell; segmentation (normals, axis, circles, frame) -> the arm among clutter;
fit -> sizes and pose by one robust least squares on `surface`; covariance -> what each size rests on; bores, deviation,
as_made -> what a look at the part tells; writing, sheet -> files for people and for the later steps.

Everything is in mm and radians, in the arm's frame: pivot at the origin, output arm along +x, input pin counter-clockwise
from it, mid-plane z = 0. A distance is positive outside of the metal.
"""

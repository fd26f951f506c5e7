"""The elastic solver: second-order tetrahedra, isotropic steel, all load cases at once.

The order of reading: `mesh` (arrays and named surfaces) -> `pattern` (nodes sorted along the body, one row of 3 x 3 blocks for
each) -> `assembly` -> `loads` and `supports` -> `solve`, which picks `direct` (sparse Cholesky) or `multigrid` (conjugate
gradients, all cases in lockstep) -> `recovery` and `surface` (nodal stress) -> `invariants`, `error`. `sample` reads fields at
points. `analysis.proof` does all of it for the load cases of an arm.

`analysis.contact` solves the same for bodies that touch.

Six components of a symmetric tensor are always xx, yy, zz, xy, yz, zx; shear strains are engineering strains.
"""

import os as _os

# Threads of the kernels sleep while they wait: spinning cost ten times the processor time beside other programs (measured), and
# gains nothing where the machine is free. Read when the threads' library is loaded, at the first parallel kernel.
_os.environ.setdefault("OMP_WAIT_POLICY", "passive")

from numba import config as _numba

# The kernels' inner loops are eight load cases wide; numba packs such straight-line code into vector registers only when
# asked to. Measured: 3 to 8 times on the products of `kernels`. Set here, before any kernel of this package is compiled.
_numba.SLP_VECTORIZE = 1

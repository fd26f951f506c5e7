"""Speed of the elastic solver beside a general finite-element library: `python -m tests.benchmarks.elastic`.

Mesh in memory to nodal stresses of 8 load cases, on the same mesh in one run, each method in a process of its own so that
its peak memory is its own. Compiling is left out (kernels are cached on disk; a small model runs first). The general
library's figures leave its stress recovery out and integrate with four points only, both in its favour (we take fourteen on
curved elements; energies then differ in the sixth digit). Times are noisy: read the ratios.

    python -m tests.benchmarks.elastic                     the two comparisons
    python -m tests.benchmarks.elastic --per-quarter 18 --only ours     a large model alone
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

ARM = Path("params/arms/linkspan-rocker.yaml")
TIMES_FASTER = {"spsolve": 25.0, "pardiso": 5.0}
PAIRS = ((5, "spsolve"), (8, "pardiso"))  # elements per quarter bore: about 110 000 and 190 000 unknowns


def make(folder: Path, per_quarter: int) -> Path:
    """Solid and mesh of the demo arm."""
    from geometry.mesher import mesh_arm
    from params.files.read import read_arm

    if not (folder / "arm.brep").exists():
        subprocess.run([sys.executable, "-m", "geometry.solid", str(ARM), str(folder)], check=True)
    target = folder / f"{per_quarter}.msh"
    arm = read_arm(ARM)
    print(
        mesh_arm(folder / "arm.brep", folder / "faces.json", arm.mesh, target, per_quarter=per_quarter),
        flush=True,
    )
    return target


def loads(mesh):
    """Eight independent cases in balance: forces on the two end bores in changing directions, held at the pivot bore."""
    from analysis.elastic.loads import BoreLoad, case_vector

    middles = {
        name: mesh.points[mesh.nodes(name)].mean(axis=0) for name in mesh.surfaces if name.endswith("_bore")
    }
    middles = {name: np.array([x, y, 0.0]) for name, (x, y, _) in middles.items()}
    random, vectors, tractions = np.random.default_rng(8), [], []
    for _ in range(8):
        force = {name: random.uniform(-5e5, 5e5, 3) for name in ("input_bore", "output_bore")}
        force["pivot_bore"] = -sum(force.values())
        turn = sum(np.cross(middles[name], part) for name, part in force.items())
        wanted = [
            BoreLoad(
                name,
                tuple(middles[name][:2]),
                tuple(part),
                tuple(-turn) if name == "pivot_bore" else (0.0, 0.0, 0.0),
            )
            for name, part in force.items()
        ]
        vector, resultants = case_vector(mesh, wanted)
        vectors.append(vector)
        tractions.append(resultants.tractions)
    return np.array(vectors), tractions


def ours(mesh, vectors, tractions, material):
    from analysis.elastic.recovery import stresses
    from analysis.elastic.solve import solve

    solution = solve(mesh, material, vectors)
    stresses(mesh, material, solution.displacement, tractions)
    figures = solution.figures
    return (
        figures.energy,
        f"{figures.method}, {figures.iterations} iterations",
        figures.peak_bytes,
        figures.seconds,
    )


def general(mesh, vectors, material, solver):
    """What one would write with a general library: assemble, hold six unknowns, solve for all cases at once."""
    import skfem
    from scipy.spatial import KDTree
    from skfem.models.elasticity import linear_elasticity

    from analysis.elastic.supports import determinate

    start = time.perf_counter()
    basis = skfem.Basis(
        skfem.MeshTet2(mesh.points.T, mesh.tets.T), skfem.ElementVector(skfem.ElementTetP2()), intorder=2
    )
    matrix = skfem.asm(linear_elasticity(material.lame, material.mu), basis)
    assembled = time.perf_counter()
    _, nodes = KDTree(basis.doflocs[:, ::3].T).query(mesh.points)
    dofs = (3 * nodes[:, None] + np.arange(3)).ravel()
    right = np.zeros((matrix.shape[0], len(vectors)))
    right[dofs] = vectors.T
    inner = np.setdiff1d(np.arange(matrix.shape[0]), dofs[determinate(mesh)])
    reduced = matrix[inner][:, inner]
    displacement = np.zeros_like(right)
    sorted_out = time.perf_counter()
    displacement[inner] = solver(reduced, right[inner])
    seconds = {"assembly": assembled - start, "solve": time.perf_counter() - sorted_out}
    return 0.5 * np.einsum("nc,nc->c", displacement, right), "general library", None, seconds


def spsolve(matrix, right):
    from scipy.sparse.linalg import splu

    return splu(matrix.tocsc()).solve(right)  # what spsolve does, once for all eight


def pardiso(matrix, right):
    import pypardiso

    return pypardiso.spsolve(matrix.tocsr(), right)


def child(path: Path, method: str) -> None:
    """Measure one method and print its figures as JSON."""
    from analysis.elastic.material import Elastic
    from analysis.elastic.mesh import Mesh
    from analysis.elastic.recovery import stresses
    from analysis.elastic.solve import peak_bytes, solve
    from geometry.meshfile import read_mesh
    from tests.elastic.meshes import ring

    material = Elastic(205e3, 0.3)
    if method == "ours":
        small = ring(50.0, 100.0, 40.0, (8, 2, 1))
        for kind in ("cg", "direct"):
            stresses(
                small,
                material,
                solve(small, material, np.zeros((8, 3 * len(small.points))), method=kind).displacement,
            )
    mesh = Mesh.of(read_mesh(path))
    vectors, tractions = loads(mesh)
    before = peak_bytes()
    start, work = time.perf_counter(), time.process_time()
    if method == "ours":
        energy, method_used, _, parts = ours(mesh, vectors, tractions, material)
    else:
        energy, method_used, _, parts = general(
            mesh, vectors, material, {"spsolve": spsolve, "pardiso": pardiso}[method]
        )
    wall = sum(parts.values()) if method != "ours" else time.perf_counter() - start
    figures = {
        "unknowns": 3 * len(mesh.points),
        "wall": wall,
        "work": time.process_time() - work,
        "peak": peak_bytes(),
        "before": before,
        "energy": list(energy),
        "method_used": method_used,
        "parts": parts,
    }
    print("FIGURES " + json.dumps(figures))


def measure(path: Path, method: str) -> dict:
    run = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.elastic", "--child", str(path), method],
        check=True,
        capture_output=True,
        text=True,
    )
    line = next(line for line in run.stdout.splitlines() if line.startswith("FIGURES "))
    figures = json.loads(line.removeprefix("FIGURES "))
    parts = ", ".join(f"{name} {seconds:.2f}" for name, seconds in figures["parts"].items())
    print(
        f"{method:8} {figures['unknowns']:9,} unknowns {figures['wall']:8.2f} s wall {figures['work']:8.2f} s processor "
        f"{figures['peak'] / 1e9:6.2f} GB peak   {figures['method_used']} ({parts})",
        flush=True,
    )
    return figures


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--child", nargs=2, help=argparse.SUPPRESS)
    parser.add_argument("--per-quarter", type=int, help="elements per quarter bore of a single model")
    parser.add_argument("--only", choices=["ours", "spsolve", "pardiso"])
    parser.add_argument("--folder", type=Path, help="keep solid and meshes here")
    options = parser.parse_args()
    if options.child:
        child(Path(options.child[0]), options.child[1])
        return 0
    folder = options.folder or Path(tempfile.mkdtemp())
    missed = False
    pairs = [(options.per_quarter, None)] if options.per_quarter else PAIRS
    for per_quarter, other in pairs:
        existing = folder / f"{per_quarter}.msh"
        path = existing if existing.exists() else make(folder, per_quarter)
        mine = measure(path, options.only or "ours")
        if other is None:
            continue
        theirs = measure(path, other)
        ratio, wanted = theirs["wall"] / mine["wall"], TIMES_FASTER[other]
        apart = np.abs(np.array(theirs["energy"]) / np.array(mine["energy"]) - 1.0).max()
        print(
            f"{ratio:.1f} times faster than {other} (wanted {wanted:.0f}); strain energies agree to {apart:.1e}",
            flush=True,
        )
        missed |= ratio < wanted
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())

"""Contact of a real arm's pins against the plain solve of the same cases: `python -m tests.benchmarks.contact`.

The demo arm with a fit in every bore, all its load cases, in one run and one process: first the arm alone with half-cosine
pressures on the same mesh of the arm, then with its pins by contact, once with clearance and once with interference. Wall and
processor time of both, without meshing; kernels are compiled before. Wanted: at most ten times the plain solve.

    python -m tests.benchmarks.contact [--arm NAME] [--per-quarter 8] [--bores pivot,input,output] [--folder DIR]
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

WANTED = 10.0
FITS = {"H7/f7": "clearance", "H7/s6": "interference"}


def meshed_model(folder: Path, name: str, per_quarter: int, bores: list[str]):
    """Arm, material, cases and the model of arm and pins."""
    from analysis.contact.model import fitted
    from analysis.contracts.loads import LoadsFile
    from analysis.elastic.mesh import Mesh
    from geometry.mesher import mesh_with_pins
    from geometry.meshfile import read_mesh
    from geometry.pins import pin_shape
    from params.files.read import read_arm, read_material
    from params.schema.bores import Shaft
    from params.steps.contract import read_model

    source = Path("params/arms") / f"{name}.yaml"
    if not (folder / "loads.json").exists():
        subprocess.run([sys.executable, "-m", "geometry.solid", str(source), str(folder)], check=True)
        subprocess.run([sys.executable, "-m", "analysis.hand", str(source), str(folder)], check=True)
    arm = read_arm(source)
    shapes = {bore: pin_shape(arm, bore, 0.0) for bore in bores}
    files = folder / "contact.msh", folder / "pins.msh"
    print(mesh_with_pins(folder / "arm.brep", folder / "faces.json", arm.mesh, shapes, files, per_quarter))
    shaft = Shaft(elastic_modulus="205 GPa", poisson_ratio=0.3, expansion="11.7 um/m/K")  # type: ignore[arg-type]
    material = read_material(arm.material)
    parts = [Mesh.of(read_mesh(file)) for file in files]
    model = fitted(parts[0], parts[1], material, shapes, dict.fromkeys(bores, shaft))
    return arm, material, read_model(folder / "loads.json", LoadsFile).cases, model


def clocked(work):
    """Result, wall and processor seconds."""
    wall, processor = time.perf_counter(), time.process_time()
    result = work()
    return result, time.perf_counter() - wall, time.process_time() - processor


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--arm", default="linkspan-rocker")
    parser.add_argument("--per-quarter", type=int, default=8)
    parser.add_argument("--bores", default="pivot,input,output")
    parser.add_argument("--folder", type=Path)
    options = parser.parse_args()
    from analysis.bores.limits_fits import fit
    from analysis.contact.model import begin, fitted_load
    from analysis.contact.pairs import joined
    from analysis.contact.solve import touch
    from analysis.elastic.loads import case_vector
    from analysis.elastic.recovery import nodal_volumes
    from analysis.elastic.solve import solve
    from params.schema.fitclass import fit_class

    folder = options.folder or Path(tempfile.mkdtemp())
    folder.mkdir(parents=True, exist_ok=True)
    bores = options.bores.split(",")
    arm, _, cases, model = meshed_model(folder, options.arm, options.per_quarter, bores)
    loads, law = [fitted_load(model, arm, case, {}) for case in cases.values()], model.law.laws[0]
    shares = nodal_volumes(model.arm)
    plain = np.stack(
        [
            case_vector(model.arm, list(load.bores.values()), case["gravity"], law.density, shares)[0]
            for load, case in zip(loads, cases.values(), strict=True)
        ]
    )
    pairs, vectors = joined(list(model.pairs.values())), np.stack([load.vector for load in loads])
    for _ in range(2):  # the first time compiles
        solution, wall, processor = clocked(lambda: solve(model.arm, law, plain, method="cg"))
    message = f"{len(cases)} cases, {solution.figures.unknowns:,} unknowns, {solution.figures.iterations} iterations"
    print(f"plain          {wall:7.1f} s wall {processor:7.1f} s processor   {message}", flush=True)
    missed = False
    for name, kind in FITS.items():
        size = {bore: fit(fit_class(name), getattr(arm.geometry, bore).bore).mean for bore in bores}
        start = begin(model, {bore: -0.5 * value for bore, value in size.items()}, loads)
        found, seconds, work = clocked(
            lambda start=start: touch(model.mesh, model.law, vectors, pairs, start, model.fixed)
        )
        done = found.figures
        message = (
            f"{done.unknowns:,} unknowns, {done.pairs:,} contact nodes, passes {max(done.passes)}, "
            f"{done.iterations} iterations, {done.factors} coarse factors, {done.peak_bytes / 1e9:.2f} GB peak; {found.message}"
        )
        print(f"{kind:14} {seconds:7.1f} s wall {work:7.1f} s processor   {message}")
        print(
            f"               {seconds / wall:.1f} times the plain solve by wall time, {work / processor:.1f} by processor time "
            f"(wanted {WANTED:.0f})",
            flush=True,
        )
        missed |= not found.ok or seconds > WANTED * wall
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())

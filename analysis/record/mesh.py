"""Mesh and convergence, and the page that a reviewer of any finite-element result asks for."""

from __future__ import annotations

from analysis.contracts.elastic import ElasticFile
from analysis.record.tables import Tables, words
from analysis.record.typeset import heading, items, note, pairs, paragraph, picture, table
from analysis.tables.number import number, percent
from params.schema.units import outside, shown_unit
from params.steps.contract import Vector

LEFT_OUT = (
    "The contact of the pins, their fit, friction and bending: a bore carries a half-cosine pressure whose resultant is the pin's "
    "force and moment.",
    "Residual stresses of casting, welding, deposition and fitting; surface roughness; defects.",
    "Yielding and large displacement: the model is linear and elastic.",
    "Dynamics: inertia and shock are the factors of the load cases.",
)
MESH = "Surface of the last mesh, its edges drawn straight: fine at bores and blends, where stress peaks."
SETTLING = (
    "Largest equivalent stress of all load cases on each surface, mesh by mesh: a line that levels out has settled; bar: estimated "
    "error on the finest mesh."
)
DEFORMED = (
    "Deformed shape in the load case that governs by mesh, enlarged as its title says; colour: displacement relative to the pivot "
    "bore."
)
STRESS = "Equivalent (von Mises) stress in the load case that governs by mesh; ring: its peak."
SINGULAR = (
    "The edges where the flat faces of the arms meet hub and bosses, which stand proud of them, are left sharp. There elastic "
    "stress has no finite value, and the peak of the outside may rise with every finer mesh: its rows of the convergence table "
    "say whether it did. The bores and the blends in the elevation are smooth."
)
SUPPORTS = (
    "The body is free: its loads balance, and six statically determinate supports only stop it from drifting. Their "
    "reactions must be zero."
)


def mesh(tables: Tables) -> str:
    return "\n".join(
        [
            heading("Finite-element model"),
            heading("Mesh", 2),
            pairs(figures(tables)),
            picture("mesh.png", MESH),
            heading("Convergence", 2),
            convergence(tables),
            picture("convergence.png", SETTLING),
            heading("What a reviewer asks", 2),
            pairs(review(tables)),
            paragraph(SUPPORTS),
            balance(tables),
            picture("deformed.png", DEFORMED),
            picture("stress.png", STRESS),
            heading("Peaks", 3),
            peaks(tables),
            heading("Singular spots", 3),
            paragraph(SINGULAR),
            heading("Stress checks by mesh", 3),
            stress_checks(tables),
            heading("What the model leaves out", 3),
            items(LEFT_OUT),
        ]
    )


def figures(tables: Tables) -> list[tuple[str, str]]:
    size, solver = tables.elastic.mesh, tables.elastic.solver
    return [
        ("Elements", f"{size.elements:,} second-order tetrahedra with curved edges"),
        ("Nodes, unknowns", f"{size.nodes:,}, {size.unknowns:,}"),
        (
            "Elements per quarter of each bore",
            f"{size.per_quarter_bore} on the last of {size.levels} meshes",
        ),
        (
            "Worst element quality",
            f"{size.worst_quality:.2f} (least Jacobian over that of a regular tetrahedron of its size)",
        ),
        ("Solver", f"{solver.method}, {solver.iterations} iterations"),
    ]


def convergence(tables: Tables) -> str:
    """Peak of all load cases on each surface, mesh by mesh."""
    unit = shown_unit("stress", tables.arm.units)
    head = [
        "place",
        "mesh",
        "elements per quarter",
        "unknowns",
        f"peak, {unit}",
        "change, %",
        "order",
        "band, %",
        "settled",
    ]
    rows = [
        [
            words(row["place"]),
            row["level"],
            row["per_quarter_bore"],
            f"{int(row['unknowns']):,}",
            number(outside(float(row["peak_MPa"]), unit, "stress")),
            number(row["change_percent"], 3),
            number(row["order"], 3),
            number(row["band_percent"], 3),
            row["settled"],
        ]
        for row in tables.csv("convergence.csv")
    ]
    legend = (
        "Peak: largest equivalent stress of all load cases on the surface, in a bore of a fit over 0.3 diameters about each node."
        " Order: of convergence as observed on three meshes, empty where they show none. Band: estimated error of the peak."
        " Settled: the last change is below "
        f"{100.0 * tables.arm.mesh.peak_change:g} %."
    )
    return table(head, rows, "lrrrrrrrl") + "\n" + note(legend)


def review(tables: Tables) -> list[tuple[str, str]]:
    summary, elastic = tables.summary, tables.elastic
    mass = f"{tables.amount(elastic.mass_kg, 'mass')} by mesh, {tables.amount(tables.hand.mass_kg, 'mass')} by hand"
    centre = ", ".join(
        f"{axis} {tables.show(value, 'length')}" for axis, value in zip("xyz", elastic.cg_mm, strict=True)
    )
    return [
        ("Units of the model", "N, mm, MPa, kg; shown in the units of this record"),
        ("Mass", mass),
        ("Centre of gravity by mesh, arm's frame", centre),
        ("Error in the energy norm, worst load case", f"{number(summary.energy_error_percent, 3)} %"),
        ("Peaks of the bores and outside", settled(elastic)),
    ]


def settled(elastic: ElasticFile) -> str:
    """Whether peaks have settled, and where not."""
    if elastic.settled:
        return "settled"
    return f"not settled at {', '.join(map(words, elastic.unsettled))}: see the convergence table"


def balance(tables: Tables) -> str:
    """Applied against integrated forces, what is left, and what the supports carry."""
    unit = shown_unit("force", tables.arm.units)
    head = [
        "load case",
        "place",
        f"applied, {unit}",
        f"on the mesh, {unit}",
        f"sum of all forces, {unit}",
        "supports over load",
        "weight moved to the pivot",
    ]
    rows = []
    for name, case in tables.in_order(tables.elastic.cases):
        for index, (bore, force) in enumerate(case.pin_force.items()):
            applied = tables.hand.cases[name].pin_force[bore]
            shares = (
                number(outside(case.imbalance, unit, "force"), 2),
                number(case.reaction, 2),
                number(case.rebalanced, 2),
            )
            both = [number(outside(value, unit, "force"), 6) for value in (applied, force)]
            rows.append([name, words(bore), *both, *(shares if index == 0 else ("", "", ""))])
    legend = (
        "In-plane resultants at the bores. The mesh weighs slightly more or less than the solid of the hand calculation; the "
        "difference is applied at the pivot. The last column gives it as a share of the largest pin force."
    )
    return table(head, rows, "llrrrrr") + "\n" + note(legend)


def peaks(tables: Tables) -> str:
    """Largest equivalent and principal stress on each surface in each case, and where."""
    units = tables.arm.units
    stress, length = shown_unit("stress", units), shown_unit("length", units)
    head = [
        "load case",
        "surface",
        f"equivalent, {stress}",
        f"at x, y, z, {length}",
        f"principal, {stress}",
        f"at x, y, z, {length}",
    ]

    def at(point: Vector) -> str:
        return ", ".join(number(outside(value, length, "length"), 4) for value in point)

    rows = [
        [
            name,
            words(surface),
            number(outside(peak.equivalent, stress, "stress")),
            at(peak.equivalent_at),
            number(outside(peak.principal, stress, "stress")),
            at(peak.principal_at),
        ]
        for name, case in tables.in_order(tables.elastic.cases)
        for surface, peak in case.peaks.items()
    ]
    return table(head, rows, "llrlrl", word=60)


def stress_checks(tables: Tables) -> str:
    unit = shown_unit("stress", tables.arm.units)
    rows = [
        [
            row.check,
            row.place,
            row.load_case,
            number(outside(row.demand_MPa, unit, "stress")),
            number(outside(row.capacity_MPa, unit, "stress")),
            percent(row.margin, 1, none=""),
            "" if row.band_percent is None else number(row.band_percent, 2),
            {True: "yes", False: "no", None: ""}[row.settled],
        ]
        for row in tables.summary.mesh_checks
    ]
    head = [
        "check",
        "place",
        "load case",
        f"by mesh, {unit}",
        f"allowed, {unit}",
        "margin",
        "band, %",
        "settled",
    ]
    legend = (
        "Fibre stresses of the arms against yield over the design factor, peaks against yield over the peak factor. Fatigue:"
        " stress range of the most damaging cycle, over the swing in both of its load cases, against the range that the service"
        " life allows; at welds the nominal stress of the hand calculation. Flaws: the largest tension at a bore, on a flaw that"
        " the least sensitive examination just finds. Band: of the stress, that of the surface's peak over the meshes; settled:"
        " that peak has; empty where no series of meshes says so."
    )
    return table(head, rows, "lllrrrrl") + "\n" + note(legend)

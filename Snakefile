# From one parameter file to a checked arm. Each rule is one line of the story and runs one command;
# `snakemake --cores all` tells it for the demo arm, `--config arm=NAME` for another in params/arms; `snakemake --cores all
# making` goes on to routes, pieces, dates and decision, `--config outage=NAME` against another file in params/outages; `page`
# makes the page of an arm, `index` the list of all.
import csv
from itertools import count
from pathlib import Path

import yaml

from params import starter
from snakemake.utils import available_cpu_count

# Kernels take the threads of their rule, the sparse library one: its last bits go with their number. A step that fails stops its
# rule. `python -m` in a rule is a fork of a process that has the libraries loaded.
shell.prefix(
    "set -euo pipefail; export NUMBA_NUM_THREADS=$OMP_NUM_THREADS MKL_NUM_THREADS=1; "
    'python() {{ command python -m params.start "$@"; }}; '
)

# For the longest steps; those beside them have the other cores.
HALF = max(1, available_cpu_count() // 2)

ARM = config.get("arm", "linkspan-rocker")
OUTAGE = config.get("outage", "late-autumn")
ROUTES = sorted(glob_wildcards("params/routes/{route}.yaml").route)
# What the vendor gets: the arm as written, with `--config design=ID` a swept design, with `--config route=NAME` a route's best.
CHOSEN = config.get("design", config.get("route", ""))
DESIGN = f"designs/{CHOSEN}" if "design" in config else f"making/{CHOSEN}/best" if CHOSEN else "as-written"

BORES = ["life", "cracks", "flaws", "materials"]
DIAGRAMS = ["free-body.svg", "diagrams.svg"]
VIEWS = ["solid.png", "mesh.png", "convergence.png"]
FIELDS = ["stress.png", "deformed.png"]
PICTURES = DIAGRAMS + VIEWS + FIELDS


def captioned(place, *names, told=""):
    """Files of one place, each with its sentence for `snakemake --report`: that of its name, or `told` for all."""
    texts = [f"analysis/record/captions/{told or name}.rst" for name in names]
    return [report(place + name, caption=text, category=place) for name, text in zip(names, texts)]


def sections(arm):
    """The optional sections of an arm's file; the rule `check` tells what is wrong in it."""
    try:
        with open(f"params/arms/{arm}.yaml") as file:
            return {name: value for name, value in yaml.safe_load(file).items() if value}
    except (OSError, AttributeError, ValueError, RecursionError, yaml.YAMLError):
        return {}


def bores_tables(wildcards):
    """What an arm's file gives cause to make of its bores."""
    arm = getattr(wildcards, "arm", ARM)
    told, place = sections(arm), f"results/{arm}/as-written/bores"
    if "bores" not in told:
        return []
    names = ["fit.csv", "life.csv", "materials.csv"]
    if "cracks" in told:
        names += ["cracks.csv", "inspection.csv", *(f"pictures/{name}.png" for name in BORES)]
    return [f"{place}/{name}" for name in names]


def contact_of(wildcards):
    """The pins' contact, where the arm's file names fits without a bush."""
    bores = sections(wildcards.arm).get("bores")
    fits = bores.get("fits") if isinstance(bores, dict) else None
    named = fits.values() if isinstance(fits, dict) else ()
    solved = any("bush" not in fit for fit in named if isinstance(fit, dict))
    return [f"results/{wildcards.arm}/as-written/bores/contact.csv"] if solved else []


def making_tables(wildcards):
    """Routes, pieces, dates and decision of an arm."""
    tables = ["routes", "pieces", "tasks", "dates", "decision"]
    return expand("results/{arm}/making/{table}.csv", arm=getattr(wildcards, "arm", ARM), table=tables)


onstart:
    starter.begin()


wildcard_constraints:
    arm=r"[a-z][a-z0-9_-]*",
    id=r"[a-z0-9-]+",
    route=r"[a-z][a-z0-9_-]*",
    source=r"as-written|designs/[a-z0-9-]+|making/[a-z][a-z0-9_-]*/best",
    step=r"[0-9]",
    issue=r"[A-Z0-9][A-Za-z0-9._-]*",


# The whole main job: the arm as written, the swept sizes, the confirmed front, the answer in the terminal.
rule all:
    input:
        expand("results/{arm}/as-written/pictures/{picture}", arm=ARM, picture=PICTURES),
        expand("results/{arm}/sweep/front.png", arm=ARM),
        expand("results/{arm}/overview.txt", arm=ARM),


# The calculation record alone.
rule record:
    input:
        expand("results/{arm}/record.pdf", arm=ARM),


# The parameter file is read, checked and filed with the results.
rule check:
    input:
        "params/arms/{arm}.yaml",
    output:
        "results/{arm}/as-written/arm.yaml",
    log:
        "results/{arm}/as-written/log/check.txt",
    shell:
        "python -m params.check {input} --file-as {output} 2>&1 | tee {log}"


# Forces over the stroke, section, clauses: the hand calculation.
rule hand:
    input:
        "results/{arm}/as-written/arm.yaml",
    output:
        captioned("results/{arm}/as-written/", "checks.csv", "stroke.csv", "stations.csv"),
        multiext(
            "results/{arm}/as-written/",
            "substitutions.json",
            "loads.json",
            "hand.json",
            "workings.json",
        ),
    log:
        "results/{arm}/as-written/log/hand.txt",
    priority: 2
    shell:
        "python -m analysis.hand {input} results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# The solid, as STEP for people and BREP for the mesher.
rule solid:
    input:
        "results/{arm}/as-written/arm.yaml",
    output:
        multiext("results/{arm}/as-written/", "arm.step", "arm.brep", "faces.json"),
    log:
        "results/{arm}/as-written/log/solid.txt",
    priority: 2
    shell:
        "python -m geometry.solid {input} results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# Mesh, solve, refine until the bores' peaks have settled.
rule prove:
    input:
        arm="results/{arm}/as-written/arm.yaml",
        solid="results/{arm}/as-written/arm.brep",
        faces="results/{arm}/as-written/faces.json",
        loads="results/{arm}/as-written/loads.json",
        hand="results/{arm}/as-written/hand.json",
    output:
        multiext("results/{arm}/as-written/", "arm.msh", "stress.vtu", "elastic.json"),
        captioned("results/{arm}/as-written/", "convergence.csv"),
    log:
        "results/{arm}/as-written/log/prove.txt",
    priority: 2
    threads: HALF
    shell:
        "python -m analysis.prove results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# Pins in their bores by contact, with the arm's fits and those set beside them.
rule contact:
    input:
        arm="results/{arm}/as-written/arm.yaml",
        solid="results/{arm}/as-written/arm.brep",
        faces="results/{arm}/as-written/faces.json",
        loads="results/{arm}/as-written/loads.json",
        plain="results/{arm}/as-written/elastic.json",
    output:
        multiext(
            "results/{arm}/as-written/bores/",
            "contact.csv",
            "contact.json",
            "contact-field.csv",
            "contact.msh",
            "stress-fit.vtu",
            "stress-compare.vtu",
        ),
        captioned("results/{arm}/as-written/bores/pictures/", "contact.png"),
    log:
        "results/{arm}/as-written/log/contact.txt",
    threads: HALF
    shell:
        "python -m analysis.contact results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# The hand calculation and the mesh, side by side.
rule verify:
    input:
        "results/{arm}/as-written/hand.json",
        "results/{arm}/as-written/stations.csv",
        "results/{arm}/as-written/elastic.json",
    output:
        captioned("results/{arm}/as-written/", "verify.csv"),
    log:
        "results/{arm}/as-written/log/verify.txt",
    priority: 2
    shell:
        "python -m analysis.verify results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# The answer for the arm as written.
rule summary:
    input:
        "results/{arm}/as-written/checks.csv",
        "results/{arm}/as-written/verify.csv",
        "results/{arm}/as-written/convergence.csv",
    output:
        "results/{arm}/as-written/summary.json",
    log:
        "results/{arm}/as-written/log/summary.txt",
    priority: 2
    shell:
        "python -m analysis.summary results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# The forces, drawn.
rule diagrams:
    input:
        "results/{arm}/as-written/hand.json",
        "results/{arm}/as-written/loads.json",
        "results/{arm}/as-written/stations.csv",
    output:
        captioned("results/{arm}/as-written/pictures/", *DIAGRAMS),
    log:
        "results/{arm}/as-written/log/diagrams.txt",
    shell:
        "python -m analysis.diagrams results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# What an engineer wants to see: the solid, its mesh, its stresses.
rule pictures:
    input:
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/summary.json",
    output:
        captioned("results/{arm}/as-written/pictures/", *VIEWS),
    log:
        "results/{arm}/as-written/log/pictures.txt",
    priority: 1
    shell:
        "python -m analysis.pictures results/{wildcards.arm}/as-written solid mesh convergence 2>&1 | tee {log}"


rule pictures_fields:
    input:
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/summary.json",
    output:
        captioned("results/{arm}/as-written/pictures/", *FIELDS),
    log:
        "results/{arm}/as-written/log/pictures_fields.txt",
    priority: 1
    shell:
        "python -m analysis.pictures results/{wildcards.arm}/as-written stress deformed 2>&1 | tee {log}"


# The bores: fits in figures, years to a crack, found cracks, flaws and inspection, other materials.
rule bores:
    input:
        bores_tables,


rule fits:
    input:
        "results/{arm}/as-written/arm.yaml",
    output:
        captioned("results/{arm}/as-written/bores/", "fit.csv"),
    log:
        "results/{arm}/as-written/log/fits.txt",
    shell:
        "python -m analysis.fits results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# Years to a crack all over the arm, for its own fit and for the one set beside it.
rule life:
    input:
        "results/{arm}/as-written/arm.msh",
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/loads.json",
        "results/{arm}/as-written/hand.json",
        contact_of,
    output:
        captioned("results/{arm}/as-written/bores/", "life.csv", "around.csv"),
        "results/{arm}/as-written/bores/life.vtu",
    log:
        "results/{arm}/as-written/log/life.txt",
    shell:
        "python -m analysis.fatigue results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# How long found cracks last, which flaws may be left, when to look.
rule cracks:
    input:
        "results/{arm}/as-written/arm.msh",
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned(
            "results/{arm}/as-written/bores/",
            "cracks.csv",
            "growth.csv",
            "survival.csv",
            "inspection.csv",
        ),
    log:
        "results/{arm}/as-written/log/cracks.txt",
    shell:
        "python -m analysis.fracture results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# The same arm in every material.
rule materials:
    input:
        "results/{arm}/as-written/arm.msh",
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned("results/{arm}/as-written/bores/", "materials.csv"),
    log:
        "results/{arm}/as-written/log/materials.txt",
    shell:
        "python -m analysis.steels results/{wildcards.arm}/as-written 2>&1 | tee {log}"


rule bores_pictures:
    input:
        expand(
            "results/{{arm}}/as-written/bores/{table}.csv",
            table=["around", "cracks", "inspection", "materials"],
        ),
    output:
        captioned(
            "results/{arm}/as-written/bores/pictures/",
            "life.png",
            "cracks.png",
            "flaws.png",
            "materials.png",
        ),
    log:
        "results/{arm}/as-written/log/bores_pictures.txt",
    shell:
        "python -m analysis.pictures_bores results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# Every section size through the whole hand calculation.
rule sweep:
    input:
        "results/{arm}/as-written/arm.yaml",
    output:
        "results/{arm}/sweep/designs.csv",
    log:
        "results/{arm}/sweep/log/sweep.txt",
    priority: 1
    shell:
        "python -m analysis.sweep {input} {output} 2>&1 | tee {log}"


# The designs of the front that are worth a mesh.
checkpoint choose:
    input:
        "results/{arm}/sweep/designs.csv",
        "results/{arm}/as-written/arm.yaml",
    output:
        "results/{arm}/sweep/chosen.csv",
    log:
        "results/{arm}/sweep/log/choose.txt",
    priority: 1
    shell:
        "python -m analysis.front choose results/{wildcards.arm} 2>&1 | tee {log}"


# One design of the front as a parameter file of its own.
rule design:
    input:
        "results/{arm}/sweep/chosen.csv",
        "results/{arm}/as-written/arm.yaml",
    output:
        "results/{arm}/designs/{id}/arm.yaml",
    log:
        "results/{arm}/designs/{id}/log/design.txt",
    priority: 1
    shell:
        "python -m analysis.design results/{wildcards.arm} {wildcards.id} 2>&1 | tee {log}"


# Solid, mesh and stresses of one design; one that cannot be built says so in its summary.
rule confirm:
    input:
        "results/{arm}/designs/{id}/arm.yaml",
    output:
        "results/{arm}/designs/{id}/summary.json",
    log:
        "results/{arm}/designs/{id}/log/confirm.txt",
    priority: 1
    shell:
        "python -m analysis.confirm results/{wildcards.arm}/designs/{wildcards.id} 2>&1 | tee {log}"


def confirmed(wildcards):
    """Summaries of the chosen designs, known once the sweep has been judged."""
    with open(checkpoints.choose.get(**wildcards).output[0], newline="") as table:
        return [f"results/{wildcards.arm}/designs/{row['id']}/summary.json" for row in csv.DictReader(table)]


# Weight against margin, hand and mesh beside each other, and the lightest design that both allow.
rule front:
    input:
        "results/{arm}/sweep/designs.csv",
        "results/{arm}/as-written/summary.json",
        confirmed,
    output:
        captioned("results/{arm}/sweep/", "front.csv"),
        "results/{arm}/sweep/recommended.json",
    log:
        "results/{arm}/sweep/log/front.txt",
    shell:
        "python -m analysis.front judge results/{wildcards.arm} 2>&1 | tee {log}"


rule front_picture:
    input:
        "results/{arm}/sweep/designs.csv",
        "results/{arm}/sweep/front.csv",
        "results/{arm}/sweep/recommended.json",
    output:
        captioned("results/{arm}/sweep/", "front.png"),
    log:
        "results/{arm}/sweep/log/front_picture.txt",
    shell:
        "python -m analysis.pictures_front results/{wildcards.arm} 2>&1 | tee {log}"


# One table for the terminal.
rule overview:
    input:
        "results/{arm}/as-written/summary.json",
        "results/{arm}/sweep/front.csv",
        "results/{arm}/sweep/recommended.json",
    output:
        captioned("results/{arm}/", "overview.txt"),
    log:
        "results/{arm}/log/overview.txt",
    shell:
        "python -m analysis.overview results/{wildcards.arm} {output} 2>&1 | tee {log}"


def steps_before(wildcards):
    """Tables of the designs of a route that were meshed before a step, or all; the first without a design ends them."""
    found = []
    for step in range(int(wildcards["step"])) if "step" in wildcards.keys() else count():
        table = checkpoints.next_of_route.get(arm=wildcards.arm, route=wildcards.route, step=step).output[0]
        with open(table, newline="") as file:
            if not list(csv.DictReader(file)):
                break
        found.append(table)
    return found


def summaries_before(wildcards):
    """Summaries of these designs."""
    found = []
    for table in steps_before(wildcards):
        with open(table, newline="") as file:
            found += [row["id"] for row in csv.DictReader(file)]
    place = f"results/{wildcards.arm}/making/{wildcards.route}/designs"
    return [f"{place}/{identifier}/summary.json" for identifier in found]


def best_rows(wildcards):
    """The row of best.csv of every route, known once its designs have been judged."""
    for route in ROUTES:
        judged = checkpoints.judge_route.get(arm=wildcards.get("arm", ARM), route=route)
        with open(judged.output[0], newline="") as table:
            yield from csv.DictReader(table)


def of_routes(file, wildcards, deposited=False):
    """A file of every route that has a design, or of those among them that deposit."""
    rows = [row for row in best_rows(wildcards) if row["id"] and (row["deposits"] == "yes" or not deposited)]
    return [f"results/{wildcards.get('arm', ARM)}/making/{row['route']}/{file}" for row in rows]


def confirmed_routes(wildcards):
    return of_routes("best/summary.json", wildcards)


def lasting_routes(wildcards):
    return of_routes("best/lasting.csv", wildcards)


def blanks_of_routes(wildcards):
    return of_routes("blank/blanks.json", wildcards)


def tables_of_pieces(wildcards):
    return of_routes("pieces/pieces.json", wildcards, deposited=True)


def pictures_of_pieces(wildcards):
    return of_routes("pieces.png", wildcards, deposited=True)


# How to make it: every route at its own best design, its pieces, its dates against the outage, the decision.
rule making:
    input:
        making_tables,
        expand("results/{arm}/making/decision.{kind}", arm=ARM, kind=["txt", "png"]),
        expand("results/{arm}/making/gantt-{route}.svg", arm=ARM, route=ROUTES),
        pictures_of_pieces,


# One route's limits, factors and material on the arm, and every size through the hand calculation.
rule fit_route:
    input:
        arm="results/{arm}/as-written/arm.yaml",
        route="params/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/front.csv",
        "results/{arm}/making/{route}/designs.csv",
    log:
        "results/{arm}/making/{route}/log/fit.txt",
    shell:
        "python -m analysis.making.fit {input.arm} {input.route} results/{wildcards.arm}/making/{wildcards.route}"
        " 2>&1 | tee {log}"


# Which design of the route's front the mesh is asked for next: the lightest, then as much stronger as it must be.
checkpoint next_of_route:
    input:
        "results/{arm}/making/{route}/front.csv",
        summaries_before,
        tried=steps_before,
    output:
        "results/{arm}/making/{route}/tried/{step}.csv",
    log:
        "results/{arm}/making/{route}/log/next-{step}.txt",
    shell:
        "python -m analysis.making.tried next results/{wildcards.arm}/making/{wildcards.route} {wildcards.step}"
        " {input.tried} 2>&1 | tee {log}"


# That design as a parameter file of its own.
rule design_of_route:
    input:
        "results/{arm}/making/{route}/front.csv",
        "results/{arm}/as-written/arm.yaml",
        route="params/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/designs/{id}/arm.yaml",
    log:
        "results/{arm}/making/{route}/log/design-{id}.txt",
    shell:
        "python -m analysis.making.candidate results/{wildcards.arm} {input.route} {wildcards.id} 2>&1 | tee {log}"


# Solid, mesh and stresses of it, as for a design of the front.
rule confirm_of_route:
    input:
        "results/{arm}/making/{route}/designs/{id}/arm.yaml",
    output:
        "results/{arm}/making/{route}/designs/{id}/summary.json",
    log:
        "results/{arm}/making/{route}/log/confirm-{id}.txt",
    shell:
        "python -m analysis.confirm results/{wildcards.arm}/making/{wildcards.route}/designs/{wildcards.id}"
        " 2>&1 | tee {log}"


# The lightest of them that holds by hand and by mesh.
checkpoint judge_route:
    input:
        "results/{arm}/making/{route}/front.csv",
        summaries_before,
        tried=steps_before,
    output:
        "results/{arm}/making/{route}/best.csv",
        captioned("results/{arm}/making/{route}/", "tried.csv"),
    log:
        "results/{arm}/making/{route}/log/judge.txt",
    shell:
        "python -m analysis.making.tried judge results/{wildcards.arm}/making/{wildcards.route} {input.tried}"
        " 2>&1 | tee {log}"


# Its files in a place of their own.
rule best_of_route:
    input:
        "results/{arm}/making/{route}/best.csv",
    output:
        multiext("results/{arm}/making/{route}/best/", "arm.yaml", "summary.json"),
    log:
        "results/{arm}/making/{route}/log/best.txt",
    shell:
        "python -m analysis.making.keep results/{wildcards.arm}/making/{wildcards.route} 2>&1 | tee {log}"


# Years to a crack and the acceptable flaw of it, as far as the arm's file says what they need.
rule lasting_of_route:
    input:
        "results/{arm}/making/{route}/best/summary.json",
    output:
        "results/{arm}/making/{route}/best/lasting.csv",
    log:
        "results/{arm}/making/{route}/log/lasting.txt",
    shell:
        "python -m analysis.making.lasting results/{wildcards.arm}/making/{wildcards.route}/best 2>&1 | tee {log}"


# What it is machined from: pattern, near-net solid or plates, for its mass.
rule blank_of_route:
    input:
        arm="results/{arm}/making/{route}/best/arm.yaml",
        route="params/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/blank/blanks.json",
    log:
        "results/{arm}/making/{route}/log/blank.txt",
    shell:
        "python -m geometry.blanks {input.arm} results/{wildcards.arm}/making/{wildcards.route}/blank 2>&1 | tee {log}"


# The routes side by side, each at its own best design.
rule routes:
    input:
        expand("results/{{arm}}/making/{route}/best.csv", route=ROUTES),
        confirmed_routes,
        blanks_of_routes,
    output:
        captioned("results/{arm}/making/", "routes.csv"),
    log:
        "results/{arm}/making/log/routes.txt",
    params:
        routes=ROUTES,
    shell:
        "python -m analysis.making.routes results/{wildcards.arm} {params.routes} 2>&1 | tee {log}"


# Where a deposited part may be joined, and where it is cut for the least time on the cells.
rule plan_pieces:
    input:
        arm="results/{arm}/making/{route}/best/arm.yaml",
        route="params/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/plan.json",
        captioned("results/{arm}/making/{route}/", "joints.csv"),
    log:
        "results/{arm}/making/{route}/log/plan_pieces.txt",
    shell:
        "python -m analysis.making.cutting {input.arm} {input.route} results/{wildcards.arm}/making/{wildcards.route}"
        " 2>&1 | tee {log}"


# The near-net solid, cut there.
rule cut_pieces:
    input:
        arm="results/{arm}/making/{route}/best/arm.yaml",
        route="params/routes/{route}.yaml",
        plan="results/{arm}/making/{route}/plan.json",
    output:
        multiext("results/{arm}/making/{route}/pieces/", "pieces.json", "near-net.step"),
    log:
        "results/{arm}/making/{route}/log/cut_pieces.txt",
    shell:
        "python -m geometry.pieces {input.arm} {input.route} {input.plan}"
        " results/{wildcards.arm}/making/{wildcards.route}/pieces 2>&1 | tee {log}"


# Mass, wire, hours and days of every piece, and which cell makes it.
rule pieces:
    input:
        tables_of_pieces,
        routes=expand("params/routes/{route}.yaml", route=ROUTES),
    output:
        captioned("results/{arm}/making/", "pieces.csv"),
    log:
        "results/{arm}/making/log/pieces.txt",
    shell:
        "python -m analysis.making.pieces results/{wildcards.arm} {input.routes} 2>&1 | tee {log}"


rule pieces_picture:
    input:
        "results/{arm}/making/pieces.csv",
    output:
        captioned("results/{arm}/making/{route}/", "pieces.png", "joints.png"),
    log:
        "results/{arm}/making/{route}/log/pieces_picture.txt",
    shell:
        "python -m analysis.making.pieces_picture results/{wildcards.arm} {wildcards.route} 2>&1 | tee {log}"


# Every route's tasks against the outage: dates by confidence, chance of missing it, what drives them.
rule dates:
    input:
        routes=expand("params/routes/{route}.yaml", route=ROUTES),
        outage=f"params/outages/{OUTAGE}.yaml",
        pieces="results/{arm}/making/pieces.csv",
    output:
        captioned("results/{arm}/making/", "tasks.csv", "ready.csv", "dates.csv"),
    log:
        "results/{arm}/making/log/dates.txt",
    shell:
        "python -m analysis.making.dates {input.routes} results/{wildcards.arm}/making --outage {input.outage}"
        " --pieces {input.pieces} 2>&1 | tee {log}"


rule gantt:
    input:
        multiext("results/{arm}/making/", "tasks.csv", "ready.csv", "dates.csv"),
    output:
        captioned("results/{arm}/making/", *[f"gantt-{route}.svg" for route in ROUTES], told="gantt.svg"),
    log:
        "results/{arm}/making/log/gantt.txt",
    shell:
        "python -m analysis.making.gantt results/{wildcards.arm}/making 2>&1 | tee {log}"


# Price of the part and rates of its lateness.
rule costs:
    input:
        multiext("results/{arm}/making/", "routes.csv", "pieces.csv"),
        routes=expand("params/routes/{route}.yaml", route=ROUTES),
    output:
        captioned("results/{arm}/making/", "costs.csv"),
    log:
        "results/{arm}/making/log/costs.txt",
    shell:
        "python -m analysis.making.costs results/{wildcards.arm} {input.routes} 2>&1 | tee {log}"


# The routes and the cracked arm beside each other, and what would change their order.
rule decision:
    input:
        multiext("results/{arm}/making/", "routes.csv", "dates.csv", "ready.csv", "costs.csv"),
        lasting_routes,
        bores_tables,
    output:
        captioned("results/{arm}/making/", "decision.csv"),
    log:
        "results/{arm}/making/log/decision.txt",
    shell:
        "python -m analysis.making.decision results/{wildcards.arm} 2>&1 | tee {log}"


rule decision_table:
    input:
        multiext("results/{arm}/making/", "decision.csv", "dates.csv"),
    output:
        captioned("results/{arm}/making/", "decision.txt"),
    log:
        "results/{arm}/making/log/decision_table.txt",
    shell:
        "python -m analysis.making.decision_table results/{wildcards.arm} 2>&1 | tee {log}"


rule decision_picture:
    input:
        multiext("results/{arm}/making/", "decision.csv", "dates.csv"),
    output:
        captioned("results/{arm}/making/", "decision.png"),
    log:
        "results/{arm}/making/log/decision_picture.txt",
    shell:
        "python -m analysis.making.decision_picture results/{wildcards.arm} 2>&1 | tee {log}"


# The calculation record that a reviewer signs.
rule record_pdf:
    input:
        "results/{arm}/as-written/workings.json",
        "results/{arm}/as-written/summary.json",
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=PICTURES),
        bores_tables,
        making_tables,
        "results/{arm}/making/decision.png",
    output:
        captioned("results/{arm}/", "record.pdf"),
    log:
        "results/{arm}/log/record.txt",
    shell:
        "python -m analysis.record results/{wildcards.arm} {output} 2>&1 | tee {log}"


# Everything in one file for the screen.
rule page:
    input:
        expand("results/{arm}/page.html", arm=ARM),


# Years to a crack of the recommended design, for the page.
rule life_of_recommended:
    input:
        "results/{arm}/sweep/recommended.json",
    output:
        captioned("results/{arm}/sweep/", "life.csv"),
    log:
        "results/{arm}/sweep/log/life.txt",
    shell:
        "python -m analysis.recommended results/{wildcards.arm} 2>&1 | tee {log}"


# What the page shows beyond the tables: outsides with fields, the linkage over the swing, small pictures.
rule page_data:
    input:
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=PICTURES),
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/stroke.csv",
        multiext("results/{arm}/sweep/", "designs.csv", "life.csv"),
        confirmed,
        bores_tables,
    output:
        "results/{arm}/page/data.json",
    log:
        "results/{arm}/page/log/data.txt",
    shell:
        "python -m analysis.page.data results/{wildcards.arm} 2>&1 | tee {log}"


rule page_file:
    input:
        "results/{arm}/page/data.json",
        "results/{arm}/as-written/summary.json",
        "results/{arm}/sweep/front.csv",
        "results/{arm}/sweep/recommended.json",
        bores_tables,
        making_tables,
    output:
        "results/{arm}/page.html",
    log:
        "results/{arm}/page/log/page.txt",
    shell:
        "python -m analysis.page.page results/{wildcards.arm} {output} 2>&1 | tee {log}"


# The library: every arm in params/arms with what was last found of it; this run's arm is made first.
rule index:
    input:
        expand("params/arms/{arm}.yaml", arm=sorted(glob_wildcards("params/arms/{arm}.yaml").arm)),
        expand("results/{arm}/{made}", arm=ARM, made=["page.html", "record.pdf", "overview.txt"]),
    output:
        "results/index.html",
    log:
        "results/log/index.txt",
    shell:
        "python -m analysis.page.index params/arms results {output} 2>&1 | tee {log}"


# The finished part for the vendor, beside the other files of its package.
rule finished:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        multiext("results/{arm}/vendor/{source}/", "arm.step", "arm.brep", "faces.json"),
    log:
        "results/{arm}/vendor/{source}/log/finished.txt",
    shell:
        "python -m geometry.solid {input} results/{wildcards.arm}/vendor/{wildcards.source} 2>&1 | tee {log}"


# What the drawing shows: projections without hidden edges, sections.
rule views:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        "results/{arm}/vendor/{source}/views.json",
    log:
        "results/{arm}/vendor/{source}/log/views.txt",
    shell:
        "python -m geometry.views {input} {output} 2>&1 | tee {log}"


def flaws(wildcards):
    """Acceptable flaws of the arm as written or of a route's best design; those of a swept design are not followed."""
    if wildcards.source.startswith("making/"):
        return [f"results/{wildcards.arm}/{wildcards.source}/lasting.csv"]
    tables = bores_tables(wildcards) if wildcards.source == "as-written" else []
    return [table for table in tables if table.endswith("inspection.csv")]


def written(wildcards):
    """The arm as written, with which a design or a route's best is compared."""
    return [] if wildcards.source == "as-written" else [f"results/{wildcards.arm}/as-written/arm.yaml"]


# What drawing and requirement sheet say: sizes with limits, material, route, examination, changes since the last issue.
rule facts:
    input:
        flaws,
        written,
        arm="results/{arm}/{source}/arm.yaml",
        views="results/{arm}/vendor/{source}/views.json",
    output:
        "results/{arm}/vendor/{source}/facts.json",
    log:
        "results/{arm}/vendor/{source}/log/facts.txt",
    shell:
        "python -m analysis.vendor.facts results/{wildcards.arm}/{wildcards.source} {input.views}"
        " results/{wildcards.arm}/vendor {output} 2>&1 | tee {log}"


# The general-arrangement drawing.
rule drawing:
    input:
        facts="results/{arm}/vendor/{source}/facts.json",
        views="results/{arm}/vendor/{source}/views.json",
    output:
        multiext("results/{arm}/vendor/{source}/drawing", ".dxf", ".pdf"),
    log:
        "results/{arm}/vendor/{source}/log/drawing.txt",
    shell:
        "python -m analysis.drawing.general {input.facts} {input.views}"
        " results/{wildcards.arm}/vendor/{wildcards.source} 2>&1 | tee {log}"


# The requirement sheet with its report form.
rule requirements:
    input:
        "results/{arm}/vendor/{source}/facts.json",
    output:
        "results/{arm}/vendor/{source}/requirements.pdf",
    log:
        "results/{arm}/vendor/{source}/log/requirements.txt",
    shell:
        "python -m analysis.vendor.requirements {input} {output} 2>&1 | tee {log}"


# A small model to look at.
rule display:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        "results/{arm}/vendor/{source}/display.3mf",
    log:
        "results/{arm}/vendor/{source}/log/display.txt",
    shell:
        "python -m geometry.display {input} {output} 2>&1 | tee {log}"


# What it is made from: near-net solid, pattern or plates, by the route of its material.
rule blanks:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        "results/{arm}/vendor/{source}/blanks.json",
    log:
        "results/{arm}/vendor/{source}/log/blanks.txt",
    shell:
        "python -m geometry.blanks {input} results/{wildcards.arm}/vendor/{wildcards.source} 2>&1 | tee {log}"


def cut(wildcards):
    """The pieces, where the package is of the best design of a route that deposits."""
    deposited = tables_of_pieces({"arm": wildcards.arm}) if DESIGN.startswith("making/") else []
    return [path for path in deposited if f"/{CHOSEN}/" in path]


# All of it in one zip, taken apart again and checked.
rule package:
    input:
        multiext(
            f"results/{{arm}}/vendor/{DESIGN}/",
            "arm.step",
            "drawing.dxf",
            "drawing.pdf",
            "requirements.pdf",
            "display.3mf",
            "blanks.json",
        ),
        cut,
        arm=f"results/{{arm}}/{DESIGN}/arm.yaml",
        facts=f"results/{{arm}}/vendor/{DESIGN}/facts.json",
    output:
        "results/{arm}/vendor/{arm}-{issue}.zip",
    log:
        "results/{arm}/vendor/log/package-{issue}.txt",
    shell:
        "(python -m analysis.vendor pack {input.arm} {input.facts} {output}"
        " && python -m analysis.vendor verify {output}) 2>&1 | tee {log}"


def package(wildcards):
    """The package's name ends with the revision that the arm's file bears, and a design's name."""
    issue = sections(ARM).get("revision", "A")
    return f"results/{ARM}/vendor/{ARM}-{issue}{'-' if CHOSEN else ''}{CHOSEN}.zip"


# What the vendor needs, regenerated.
rule vendor:
    input:
        package,


# The main job and all that follows from it: bores, making, the vendor's package, record, page, list of arms.
rule everything:
    input:
        rules.all.input,
        bores_tables,
        rules.making.input,
        package,
        expand("results/{arm}/record.pdf", arm=ARM),
        expand("results/{arm}/page.html", arm=ARM),
        "results/index.html",


include: "analysis/survey/rules.smk"

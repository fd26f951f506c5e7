# From one parameter file to a checked arm. Each room has its rules beside it, each rule is one line of the story and runs one
# command. `snakemake --cores all` makes the demo arm, `--config arm=NAME` another in params/arms; the targets below say what
# else there is; `--config outage=NAME` sets another file of params/outages in place of the one that the arm's file names.
from pathlib import Path

from params.steps import program, progress
from snakemake.logging import logger
from snakemake.utils import available_cpu_count

# Kernels take the threads of their rule, the sparse library one: its last bits go with their number. A step that fails stops its
# rule.
shell.prefix("set -euo pipefail; export NUMBA_NUM_THREADS=$OMP_NUM_THREADS MKL_NUM_THREADS=1; ")

# For the longest steps; those beside them have the other cores.
HALF = max(1, available_cpu_count() // 2)


include: "params/rules.smk"


ARM = known(config.get("arm", "linkspan-rocker"), "arms")
ROUTES = sorted(sections(ARM).get("routes", library("routes")))
# What the vendor gets: the arm as written, with `--config design=ID` a swept design, with `--config route=NAME` a route's best.
CHOSEN = config.get("design", config.get("route", ""))
DESIGN = f"designs/{CHOSEN}" if "design" in config else f"making/{CHOSEN}/best" if CHOSEN else "as-written"

RUN = []  # what the terminal shows of this run

BORES = ["life", "cracks", "flaws", "materials"]
DIAGRAMS = ["free-body.svg", "diagrams.svg"]
VIEWS = ["solid.png", "mesh.png", "convergence.png"]
FIELDS = ["stress.png", "deformed.png"]
PICTURES = DIAGRAMS + VIEWS + FIELDS


def captioned(place, *names, caption=""):
    """Files of one place, each with its sentence for `snakemake --report`: that of its own name, or `caption` for all."""
    texts = [f"{workflow.basedir}/analysis/record/captions/{caption or name}.rst" for name in names]
    return [report(place + name, caption=text, category=place) for name, text in zip(names, texts)]


wildcard_constraints:
    arm=r"[a-z][a-z0-9_-]*",
    id=r"[a-z0-9-]+",
    route=r"[a-z][a-z0-9_-]*",
    name=r"[a-z][a-z0-9_-]*",
    source=r"as-written|designs/[a-z0-9-]+|making/[a-z][a-z0-9_-]*/best",
    step=r"[0-9]",
    issue=r"[A-Z0-9][A-Za-z0-9._-]*",


include: "geometry/rules.smk"
include: "analysis/hand/rules.smk"
include: "analysis/proof/rules.smk"
include: "analysis/contact/rules.smk"
include: "analysis/bores/rules.smk"
include: "analysis/sweep/rules.smk"
include: "analysis/making/rules.smk"
include: "analysis/record/rules.smk"
include: "analysis/package/rules.smk"
include: "analysis/page/rules.smk"


# The whole main job: the arm as written, the swept sizes, the confirmed front, the answer in the terminal.
rule all:
    default_target: True
    input:
        expand("results/{arm}/as-written/pictures/{picture}", arm=ARM, picture=PICTURES),
        expand("results/{arm}/sweep/front.png", arm=ARM),
        expand("results/{arm}/overview.txt", arm=ARM),


onstart:
    RUN.append(progress.brief(logger))


onsuccess:
    progress.finish(RUN[0])


# The bores: fits in figures, years to a crack, found cracks, flaws and inspection, other materials.
rule bores:
    input:
        bores_tables,
        bores_pictures,


# How to make it: every route at its own best design, its pieces, its dates against the outage, the decision.
rule making:
    input:
        making_tables,
        expand("results/{arm}/making/decision.{kind}", arm=ARM, kind=["txt", "png"]),
        expand("results/{arm}/making/gantt-{route}.svg", arm=ARM, route=ROUTES),
        pictures_of_pieces,


# The calculation record that a reviewer signs; everything in one file for the screen.
rule record:
    input:
        expand("results/{arm}/record.pdf", arm=ARM),


rule page:
    input:
        expand("results/{arm}/page.html", arm=ARM),


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


# Every step counts by the sources that it reaches: a change of the program makes again what it touches.
for step in list(workflow.rules):
    if step.shellcmd:
        step.set_params(program=program.of_command(step.shellcmd))

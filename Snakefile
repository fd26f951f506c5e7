# From one parameter file to a checked arm. Each room has its rules beside it, each rule is one line of the story and runs one
# command. `snakemake --cores all` makes the demo arm, `--config arm=NAME` another in params/arms; the targets below say what
# else there is. `--config outage=NAME` sets another file of params/outages in place of the one that the arm's file names.
from pathlib import Path

from params.steps import kernels, lock, program, progress
from snakemake.logging import logger
from snakemake.utils import available_cpu_count

# What the terminal shows of this run; a run that was killed is taken up again by the same command.
RUN = progress.brief(logger, workflow.output_settings.dryrun)
if not workflow.output_settings.dryrun:
    lock.enter(Path(".snakemake"))
    kernels.refresh()

# Kernels take the threads of their rule, the sparse library one: its last bits go with their number. A step that fails stops its
# rule.
shell.prefix("set -euo pipefail; export NUMBA_NUM_THREADS=$OMP_NUM_THREADS MKL_NUM_THREADS=1; ")

# For the longest steps; those beside them have the other cores.
HALF = max(1, available_cpu_count() // 2)


# Which arm, which routes, and what the vendor gets: ARM, ROUTES, DESIGN.
include: "params/chosen.smk"
include: "params/rules.smk"
include: "geometry/rules.smk"
include: "analysis/record/captions.smk"
include: "analysis/hand/rules.smk"
include: "analysis/proof/rules.smk"
include: "analysis/contact/rules.smk"
include: "analysis/bores/rules.smk"
include: "analysis/sweep/rules.smk"
include: "analysis/making/rules.smk"
include: "analysis/record/rules.smk"
include: "analysis/package/rules.smk"
include: "analysis/page/rules.smk"
include: "analysis/survey/rules.smk"


# The whole main job: the arm as written, the swept sizes, the confirmed front, the answer in the terminal.
rule all:
    default_target: True
    input:
        expand("results/{arm}/as-written/pictures/{picture}", arm=ARM, picture=DIAGRAMS + VIEWS + FIELDS),
        expand("results/{arm}/sweep/front.png", arm=ARM),
        expand("results/{arm}/overview.txt", arm=ARM),


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


# At the end of a run: the answer, or how to go on.
onsuccess:
    RUN.answer()


onerror:
    RUN.unfinished()

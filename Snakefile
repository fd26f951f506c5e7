# From one parameter file to a checked arm. Each rule is one line of the story and runs one command;
# `snakemake --cores all` tells it for the demo arm, `--config arm=NAME` for another in params/arms.
import csv

ARM = config.get("arm", "linkspan-rocker")

PICTURES = [
    "solid.png",
    "mesh.png",
    "stress.png",
    "deformed.png",
    "free-body.svg",
    "diagrams.svg",
    "convergence.png",
]


wildcard_constraints:
    arm=r"[a-z][a-z0-9_-]*",
    id=r"[a-z0-9-]+",


# The whole main job: the arm as written, the swept sizes, the confirmed front, the answer in the terminal.
rule all:
    input:
        expand("results/{arm}/as-written/pictures/{picture}", arm=ARM, picture=PICTURES),
        expand("results/{arm}/sweep/front.png", arm=ARM),
        expand("results/{arm}/overview.txt", arm=ARM),


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
        multiext(
            "results/{arm}/as-written/",
            "checks.csv",
            "stroke.csv",
            "stations.csv",
            "substitutions.json",
            "loads.json",
            "hand.json",
        ),
    log:
        "results/{arm}/as-written/log/hand.txt",
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
        multiext("results/{arm}/as-written/", "arm.msh", "stress.vtu", "elastic.json", "convergence.csv"),
    log:
        "results/{arm}/as-written/log/prove.txt",
    threads: 1
    shell:
        "python -m analysis.prove results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# The hand calculation and the mesh, side by side.
rule verify:
    input:
        "results/{arm}/as-written/hand.json",
        "results/{arm}/as-written/stations.csv",
        "results/{arm}/as-written/elastic.json",
    output:
        "results/{arm}/as-written/verify.csv",
    log:
        "results/{arm}/as-written/log/verify.txt",
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
    shell:
        "python -m analysis.summary results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# What an engineer wants to see of it.
rule pictures:
    input:
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/summary.json",
    output:
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=PICTURES),
    log:
        "results/{arm}/as-written/log/pictures.txt",
    shell:
        "python -m analysis.pictures results/{wildcards.arm}/as-written 2>&1 | tee {log}"


# Every section size through the whole hand calculation.
rule sweep:
    input:
        "results/{arm}/as-written/arm.yaml",
    output:
        "results/{arm}/sweep/designs.csv",
    log:
        "results/{arm}/sweep/log/sweep.txt",
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
        "results/{arm}/sweep/front.csv",
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
        "results/{arm}/sweep/front.png",
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
        "results/{arm}/overview.txt",
    log:
        "results/{arm}/log/overview.txt",
    shell:
        "python -m analysis.overview results/{wildcards.arm} {output} 2>&1 | tee {log}"

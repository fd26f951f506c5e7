# The bores: fits, lives, found cracks, flaws, inspection, other materials.
include: "inputs.smk"


PICTURED = ["around", "cracks", "growth", "survival", "inspection", "materials"]


rule fits:
    input:
        materials,
        "results/{arm}/as-written/arm.yaml",
    output:
        captioned("results/{arm}/as-written/bores/", "fit.csv"),
    log:
        "results/{arm}/as-written/log/fits.txt",
    shell:
        "python -m analysis.bores.table results/{wildcards.arm}/as-written > {log} 2>&1"


# Years to a crack all over the arm, for its own fit and for the one named for comparison.
rule life:
    input:
        materials,
        stresses_compared,
        stresses_coarser,
        multiext(
            "results/{arm}/as-written/",
            "arm.yaml",
            "loads.json",
            "hand.json",
            "convergence.csv",
        ),
    output:
        captioned("results/{arm}/as-written/bores/", "life.csv", "around.csv", "duty.csv"),
        "results/{arm}/as-written/bores/life.vtu",
    log:
        "results/{arm}/as-written/log/life.txt",
    shell:
        "python -m analysis.fatigue results/{wildcards.arm}/as-written > {log} 2>&1"


# How long found cracks last, which flaws may be left, when to look.
rule cracks:
    input:
        materials,
        crack_dates,
        stresses_compared,
        stresses_coarser,
        multiext("results/{arm}/as-written/", "arm.yaml", "loads.json"),
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned(
            "results/{arm}/as-written/bores/",
            "cracks.csv",
            "growth.csv",
            "survival.csv",
            "load-limit.csv",
            "inspection.csv",
        ),
    log:
        "results/{arm}/as-written/log/cracks.txt",
    shell:
        "python -m analysis.fracture results/{wildcards.arm}/as-written > {log} 2>&1"


# Whether the duty as given explains the found cracks, and what would.
rule explained:
    input:
        materials,
        stresses_explained,
        multiext("results/{arm}/as-written/", "arm.yaml", "loads.json"),
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned("results/{arm}/as-written/bores/", "explained.csv"),
    log:
        "results/{arm}/as-written/log/explained.txt",
    shell:
        "python -m analysis.fracture.explained results/{wildcards.arm}/as-written > {log} 2>&1"


# The same arm in every material.
rule materials:
    input:
        every_material,
        routes,
        stresses,
        stresses_coarser_own,
        multiext("results/{arm}/as-written/", "arm.yaml", "loads.json"),
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned("results/{arm}/as-written/bores/", "materials.csv"),
    log:
        "results/{arm}/as-written/log/materials.txt",
    shell:
        "python -m analysis.sweep.materials results/{wildcards.arm}/as-written > {log} 2>&1"


rule bores_pictures:
    input:
        "results/{arm}/as-written/arm.yaml",
        expand("results/{{arm}}/as-written/bores/{table}.csv", table=PICTURED),
    output:
        captioned("results/{arm}/as-written/bores/pictures/", *BORES),
    log:
        "results/{arm}/as-written/log/bores_pictures.txt",
    shell:
        "python -m analysis.pictures.bores results/{wildcards.arm}/as-written > {log} 2>&1"

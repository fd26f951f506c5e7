# Every section size by hand, the best of them by mesh.
include: "inputs.smk"


# Every section size through the whole hand calculation.
rule sweep:
    input:
        material,
        routes,
        arm="results/{arm}/as-written/arm.yaml",
    output:
        "results/{arm}/sweep/designs.csv",
    log:
        "results/{arm}/sweep/log/sweep.txt",
    priority: 1
    shell:
        "python -m analysis.sweep {input.arm} {output} > {log} 2>&1"


# The designs of the front that are confirmed by mesh.
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
        "python -m analysis.sweep.front choose results/{wildcards.arm} > {log} 2>&1"


# One design of the front as a parameter file of its own.
rule design:
    input:
        material,
        routes,
        "results/{arm}/sweep/chosen.csv",
        "results/{arm}/as-written/arm.yaml",
    output:
        "results/{arm}/designs/{id}/arm.yaml",
    log:
        "results/{arm}/designs/{id}/log/design.txt",
    priority: 1
    shell:
        "python -m analysis.sweep.design_file results/{wildcards.arm} {wildcards.id} > {log} 2>&1"


# Solid, mesh and stresses of one design; the summary of one that cannot be built has the reason.
rule confirm:
    input:
        material,
        "results/{arm}/designs/{id}/arm.yaml",
    output:
        "results/{arm}/designs/{id}/summary.json",
    log:
        "results/{arm}/designs/{id}/log/confirm.txt",
    priority: 1
    shell:
        "python -m analysis.sweep.confirm results/{wildcards.arm}/designs/{wildcards.id} > {log} 2>&1"


# Weight against margin, by hand and by mesh, and the lightest design that passes both.
rule front:
    input:
        multiext("results/{arm}/sweep/", "designs.csv", "chosen.csv"),
        multiext("results/{arm}/as-written/", "arm.yaml", "summary.json"),
        confirmed,
    output:
        captioned("results/{arm}/sweep/", "front.csv"),
        "results/{arm}/sweep/recommended.json",
    log:
        "results/{arm}/sweep/log/front.txt",
    shell:
        "python -m analysis.sweep.front judge results/{wildcards.arm} > {log} 2>&1"


rule front_picture:
    input:
        multiext("results/{arm}/as-written/", "arm.yaml", "summary.json"),
        multiext("results/{arm}/sweep/", "designs.csv", "front.csv", "recommended.json"),
    output:
        captioned("results/{arm}/sweep/", "front.png"),
    log:
        "results/{arm}/sweep/log/front_picture.txt",
    shell:
        "python -m analysis.pictures.front results/{wildcards.arm} > {log} 2>&1"


# One table for the terminal.
rule overview:
    input:
        material,
        multiext("results/{arm}/as-written/", "arm.yaml", "summary.json"),
        "results/{arm}/sweep/recommended.json",
    output:
        captioned("results/{arm}/", "overview.txt"),
    log:
        "results/{arm}/log/overview.txt",
    shell:
        "python -m analysis.tables.overview results/{wildcards.arm} {output} > {log} 2>&1"


# Years to a crack of the recommended design, for the page.
rule life_of_recommended:
    input:
        material,
        confirmed,
        "results/{arm}/sweep/recommended.json",
    output:
        captioned("results/{arm}/sweep/", "life.csv"),
    log:
        "results/{arm}/sweep/log/life.txt",
    shell:
        "python -m analysis.sweep.recommended_life results/{wildcards.arm} > {log} 2>&1"

# Mesh, solve, refine until the bores' peaks have settled.
rule prove:
    input:
        material,
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
        "python -m analysis.proof results/{wildcards.arm}/as-written > {log} 2>&1"


# The hand calculation and the mesh, side by side.
rule verify:
    input:
        material,
        multiext("results/{arm}/as-written/", "arm.yaml", "hand.json", "elastic.json"),
    output:
        captioned("results/{arm}/as-written/", "resultants.csv", "verify.csv"),
    log:
        "results/{arm}/as-written/log/verify.txt",
    priority: 2
    shell:
        "python -m analysis.proof.beside results/{wildcards.arm}/as-written > {log} 2>&1"


# The answer for the arm as written.
rule summary:
    input:
        material,
        multiext(
            "results/{arm}/as-written/",
            "arm.yaml",
            "hand.json",
            "elastic.json",
            "resultants.csv",
            "verify.csv",
        ),
    output:
        "results/{arm}/as-written/summary.json",
    log:
        "results/{arm}/as-written/log/summary.txt",
    priority: 2
    shell:
        "python -m analysis.proof.summary results/{wildcards.arm}/as-written > {log} 2>&1"


# What an engineer wants to see: the solid, its mesh, its stresses.
rule pictures:
    input:
        multiext("results/{arm}/as-written/", "arm.yaml", "stress.vtu", "summary.json", "convergence.csv"),
    output:
        captioned("results/{arm}/as-written/pictures/", *VIEWS),
    log:
        "results/{arm}/as-written/log/pictures.txt",
    priority: 1
    shell:
        "python -m analysis.pictures results/{wildcards.arm}/as-written solid mesh convergence > {log} 2>&1"


rule pictures_fields:
    input:
        multiext("results/{arm}/as-written/", "arm.yaml", "stress.vtu", "summary.json"),
    output:
        captioned("results/{arm}/as-written/pictures/", *FIELDS),
    log:
        "results/{arm}/as-written/log/pictures_fields.txt",
    priority: 1
    shell:
        "python -m analysis.pictures results/{wildcards.arm}/as-written stress deformed > {log} 2>&1"

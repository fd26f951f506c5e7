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
        "python -m geometry.solid {input} results/{wildcards.arm}/as-written > {log} 2>&1"


# The near-net solid, cut there.
rule cut_pieces:
    input:
        arm="results/{arm}/making/{route}/best/arm.yaml",
        route="results/{arm}/inputs/routes/{route}.yaml",
        plan="results/{arm}/making/{route}/plan.json",
    output:
        multiext("results/{arm}/making/{route}/pieces/", "pieces.json", "near-net.step"),
    log:
        "results/{arm}/making/{route}/log/cut_pieces.txt",
    shell:
        "python -m geometry.pieces {input.arm} {input.route} {input.plan}"
        " results/{wildcards.arm}/making/{wildcards.route}/pieces > {log} 2>&1"


# The finished part for the vendor, beside the other files of its package.
rule finished:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        multiext("results/{arm}/vendor/{source}/", "arm.step", "arm.brep", "faces.json"),
    log:
        "results/{arm}/vendor/{source}/log/finished.txt",
    shell:
        "python -m geometry.solid {input} results/{wildcards.arm}/vendor/{wildcards.source} > {log} 2>&1"


# What the drawing shows: projections without hidden edges, sections.
rule views:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        "results/{arm}/vendor/{source}/views.json",
    log:
        "results/{arm}/vendor/{source}/log/views.txt",
    shell:
        "python -m geometry.views {input} {output} > {log} 2>&1"


# A small model to look at.
rule display:
    input:
        "results/{arm}/{source}/arm.yaml",
    output:
        "results/{arm}/vendor/{source}/display.3mf",
    log:
        "results/{arm}/vendor/{source}/log/display.txt",
    shell:
        "python -m geometry.display {input} {output} > {log} 2>&1"


# What it is made from: near-net solid, pattern or plates, by the route of its material.
rule blanks:
    input:
        every_material,
        routes,
        arm="results/{arm}/{source}/arm.yaml",
    output:
        "results/{arm}/vendor/{source}/blanks.json",
    log:
        "results/{arm}/vendor/{source}/log/blanks.txt",
    shell:
        "python -m geometry.blanks {input.arm} results/{wildcards.arm}/vendor/{wildcards.source} > {log} 2>&1"

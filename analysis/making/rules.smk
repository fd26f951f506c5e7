# How to make it, and when: routes, pieces, dates, decision.
include: "inputs.smk"


# One route's limits, factors and material on the arm, and every size through the hand calculation.
rule fit_route:
    input:
        route_materials,
        own_route,
        arm="results/{arm}/as-written/arm.yaml",
        route="results/{arm}/inputs/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/front.csv",
        "results/{arm}/making/{route}/designs.csv",
    log:
        "results/{arm}/making/{route}/log/fit.txt",
    shell:
        "python -m analysis.making.routes.sweep {input.arm} {input.route} results/{wildcards.arm}/making/{wildcards.route}"
        " > {log} 2>&1"


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
        "python -m analysis.making.routes.tried next results/{wildcards.arm}/making/{wildcards.route} {wildcards.step}"
        " {input.tried} > {log} 2>&1"


# That design as a parameter file of its own.
rule design_of_route:
    input:
        route_materials,
        own_route,
        "results/{arm}/making/{route}/front.csv",
        "results/{arm}/as-written/arm.yaml",
        route="results/{arm}/inputs/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/designs/{id}/arm.yaml",
    log:
        "results/{arm}/making/{route}/log/design-{id}.txt",
    shell:
        "python -m analysis.making.routes.candidate results/{wildcards.arm} {input.route} {wildcards.id} > {log} 2>&1"


# Solid, mesh and stresses of it, as for a design of the front.
rule confirm_of_route:
    input:
        route_materials,
        "results/{arm}/making/{route}/designs/{id}/arm.yaml",
    output:
        "results/{arm}/making/{route}/designs/{id}/summary.json",
    log:
        "results/{arm}/making/{route}/log/confirm-{id}.txt",
    shell:
        "python -m analysis.sweep.confirm results/{wildcards.arm}/making/{wildcards.route}/designs/{wildcards.id}"
        " > {log} 2>&1"


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
        "python -m analysis.making.routes.tried judge results/{wildcards.arm}/making/{wildcards.route} {input.tried}"
        " > {log} 2>&1"


# Its files in a place of their own.
rule best_of_route:
    input:
        summaries_before,
        "results/{arm}/making/{route}/best.csv",
    output:
        multiext("results/{arm}/making/{route}/best/", "arm.yaml", "summary.json"),
    log:
        "results/{arm}/making/{route}/log/best.txt",
    shell:
        "python -m analysis.making.routes.best results/{wildcards.arm}/making/{wildcards.route} > {log} 2>&1"


# Years to a crack and the acceptable flaw of it, as far as the arm's file says what they need.
rule life_and_flaw_of_route:
    input:
        route_materials,
        multiext("results/{arm}/making/{route}/best/", "arm.yaml", "summary.json"),
    output:
        "results/{arm}/making/{route}/best/life-and-flaw.csv",
    log:
        "results/{arm}/making/{route}/log/life-and-flaw.txt",
    shell:
        "python -m analysis.making.routes.life_and_flaw results/{wildcards.arm}/making/{wildcards.route}/best > {log} 2>&1"


# What it is machined from: pattern, near-net solid or plates, for its mass.
rule blank_of_route:
    input:
        route_materials,
        arm="results/{arm}/making/{route}/best/arm.yaml",
        route="results/{arm}/inputs/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/blank/blanks.json",
    log:
        "results/{arm}/making/{route}/log/blank.txt",
    shell:
        "python -m geometry.blanks {input.arm} results/{wildcards.arm}/making/{wildcards.route}/blank > {log} 2>&1"


# The routes side by side, each at its own best design.
rule routes:
    input:
        "results/{arm}/as-written/arm.yaml",
        expand("results/{{arm}}/making/{route}/best.csv", route=ROUTES),
        confirmed_routes,
        arms_of_routes,
        blanks_of_routes,
        routes,
        materials_of_routes,
    output:
        captioned("results/{arm}/making/", "routes.csv"),
    log:
        "results/{arm}/making/log/routes.txt",
    params:
        routes=ROUTES,
    shell:
        "python -m analysis.making.routes.table results/{wildcards.arm} {params.routes} > {log} 2>&1"


# Where a deposited part may be joined, and where it is cut for the least time on the cells.
rule plan_pieces:
    input:
        route_materials,
        arm="results/{arm}/making/{route}/best/arm.yaml",
        route="results/{arm}/inputs/routes/{route}.yaml",
    output:
        "results/{arm}/making/{route}/plan.json",
        captioned("results/{arm}/making/{route}/", "joints.csv"),
    log:
        "results/{arm}/making/{route}/log/plan_pieces.txt",
    shell:
        "python -m analysis.making.pieces.cutting {input.arm} {input.route} results/{wildcards.arm}/making/{wildcards.route}"
        " > {log} 2>&1"


# Mass, wire, hours and days of every piece, and which cell makes it.
rule pieces:
    input:
        "results/{arm}/as-written/arm.yaml",
        expand("results/{{arm}}/making/{route}/best.csv", route=ROUTES),
        materials_of_routes,
        tables_of_pieces,
        plans_of_pieces,
        arms_of_deposits,
        routes=routes,
    output:
        captioned("results/{arm}/making/", "pieces.csv"),
    log:
        "results/{arm}/making/log/pieces.txt",
    shell:
        "python -m analysis.making.pieces.table results/{wildcards.arm} {input.routes} > {log} 2>&1"


rule pieces_picture:
    input:
        "results/{arm}/as-written/arm.yaml",
        "results/{arm}/making/pieces.csv",
        "results/{arm}/making/{route}/joints.csv",
        "results/{arm}/making/{route}/pieces/pieces.json",
    output:
        captioned("results/{arm}/making/{route}/", "pieces.png", "joints.png"),
    log:
        "results/{arm}/making/{route}/log/pieces_picture.txt",
    shell:
        "python -m analysis.pictures.pieces results/{wildcards.arm} {wildcards.route} > {log} 2>&1"


# Every route's tasks against the outage: dates by confidence, chance of missing it, what drives them.
rule dates:
    input:
        routes=routes,
        outage="results/{arm}/inputs/outage.yaml",
        pieces="results/{arm}/making/pieces.csv",
    output:
        captioned(
            "results/{arm}/making/",
            "tasks.csv",
            "ready.csv",
            "dates.csv",
            "ways.csv",
            "failures.csv",
            "work.csv",
        ),
    log:
        "results/{arm}/making/log/dates.txt",
    shell:
        "python -m analysis.making.dates.table {input.routes} results/{wildcards.arm}/making --outage {input.outage}"
        " --pieces {input.pieces} > {log} 2>&1"


rule gantt:
    input:
        multiext("results/{arm}/making/", "tasks.csv", "ready.csv", "dates.csv", "work.csv"),
    output:
        captioned("results/{arm}/making/", *[f"gantt-{route}.svg" for route in ROUTES], caption="gantt.svg"),
    log:
        "results/{arm}/making/log/gantt.txt",
    shell:
        "python -m analysis.pictures.gantt results/{wildcards.arm}/making > {log} 2>&1"


# Price of the part and rates of its lateness.
rule costs:
    input:
        multiext("results/{arm}/making/", "routes.csv", "pieces.csv"),
        outage="results/{arm}/inputs/outage.yaml",
        routes=routes,
    output:
        captioned("results/{arm}/making/", "costs.csv"),
    log:
        "results/{arm}/making/log/costs.txt",
    shell:
        "python -m analysis.making.decision.costs results/{wildcards.arm} {input.outage} {input.routes} > {log} 2>&1"


# The routes and the cracked arm beside each other, and what would change their order.
rule decision:
    input:
        "results/{arm}/as-written/arm.yaml",
        multiext(
            "results/{arm}/making/",
            "routes.csv",
            "dates.csv",
            "ready.csv",
            "costs.csv",
            "ways.csv",
            "failures.csv",
        ),
        life_and_flaw_of_routes,
        joints_of_pieces,
        found_cracks,
        every_copy,
    output:
        captioned("results/{arm}/making/", "decision.csv"),
        "results/{arm}/making/origin.json",
    log:
        "results/{arm}/making/log/decision.txt",
    shell:
        "python -m analysis.making.decision.decision results/{wildcards.arm} > {log} 2>&1"


# One answer in sentences, and all choices in one table.
rule answer:
    input:
        material,
        routes,
        multiext("results/{arm}/as-written/", "arm.yaml", "summary.json"),
        "results/{arm}/sweep/recommended.json",
        multiext("results/{arm}/making/", "decision.csv", "dates.csv"),
        confirmed_routes,
    output:
        "results/{arm}/making/answer.json",
        captioned("results/{arm}/making/", "choices.csv"),
    log:
        "results/{arm}/making/log/answer.txt",
    shell:
        "python -m analysis.making.decision.answer results/{wildcards.arm} > {log} 2>&1"


rule decision_table:
    input:
        "results/{arm}/as-written/arm.yaml",
        multiext("results/{arm}/making/", "decision.csv", "dates.csv", "answer.json"),
    output:
        captioned("results/{arm}/making/", "decision.txt"),
    log:
        "results/{arm}/making/log/decision_table.txt",
    shell:
        "python -m analysis.making.decision.table results/{wildcards.arm} > {log} 2>&1"


rule decision_picture:
    input:
        "results/{arm}/as-written/arm.yaml",
        multiext("results/{arm}/making/", "decision.csv", "dates.csv"),
    output:
        captioned("results/{arm}/making/", "decision.png"),
    log:
        "results/{arm}/making/log/decision_picture.txt",
    shell:
        "python -m analysis.pictures.decision results/{wildcards.arm} > {log} 2>&1"

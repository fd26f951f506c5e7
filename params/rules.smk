# What people wrote is read, checked and copied beside the results; every step reads the copies.
include: "inputs.smk"


# The arm.
rule check:
    input:
        issued,
        arm="params/arms/{arm}.yaml",
    output:
        "results/{arm}/as-written/arm.yaml",
    log:
        "results/{arm}/as-written/log/check.txt",
    priority: 3
    params:
        content=content("params/arms/{arm}.yaml"),
    shell:
        "python -m params.check {input.arm} --file-as {output} > {log} 2>&1"


# A material, a route, the outage.
rule file_material:
    input:
        "params/materials/{name}.yaml",
    output:
        "results/{arm}/inputs/materials/{name}.yaml",
    log:
        "results/{arm}/inputs/log/material-{name}.txt",
    priority: 3
    params:
        content=content("params/materials/{name}.yaml"),
    shell:
        "python -m params.check {input} --file-as {output} > {log} 2>&1"


rule file_route:
    input:
        materials_listed,
        route="params/routes/{route}.yaml",
    output:
        "results/{arm}/inputs/routes/{route}.yaml",
    log:
        "results/{arm}/inputs/log/route-{route}.txt",
    priority: 3
    params:
        content=content("params/routes/{route}.yaml", materials_listed),
    shell:
        "python -m params.check {input.route} --file-as {output} > {log} 2>&1"


rule file_outage:
    input:
        outage_file,
    output:
        "results/{arm}/inputs/outage.yaml",
    log:
        "results/{arm}/inputs/log/outage.txt",
    priority: 3
    params:
        content=content(outage_file),
    shell:
        "python -m params.check {input} --file-as {output} > {log} 2>&1"

# What the vendor gets: facts, drawing, requirement sheet, all of it in one zip.
include: "inputs.smk"


# What drawing and requirement sheet say: sizes with limits, material, route, examination, changes since the last issue.
rule facts:
    input:
        every_material,
        routes,
        flaws,
        written,
        of_route_best,
        arm="results/{arm}/{source}/arm.yaml",
        views="results/{arm}/vendor/{source}/views.json",
    output:
        "results/{arm}/vendor/{source}/facts.json",
    log:
        "results/{arm}/vendor/{source}/log/facts.txt",
    shell:
        "python -m analysis.package.facts results/{wildcards.arm}/{wildcards.source} {input.views}"
        " results/{wildcards.arm}/vendor {output} > {log} 2>&1"


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
        "python -m analysis.drawing.arrangement {input.facts} {input.views}"
        " results/{wildcards.arm}/vendor/{wildcards.source} > {log} 2>&1"


# The requirement sheet with its report form.
rule requirements:
    input:
        "results/{arm}/vendor/{source}/facts.json",
    output:
        "results/{arm}/vendor/{source}/requirements.pdf",
    log:
        "results/{arm}/vendor/{source}/log/requirements.txt",
    shell:
        "python -m analysis.package.requirements {input} {output} > {log} 2>&1"


# All of it in one zip, taken apart again and checked.
rule package:
    input:
        every_copy,
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
        "(python -m analysis.package pack {input.arm} {input.facts} {output}"
        " && python -m analysis.package verify {output}) > {log} 2>&1"

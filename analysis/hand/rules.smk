# Forces over the stroke, section, clauses: the hand calculation.
rule hand:
    input:
        material,
        arm="results/{arm}/as-written/arm.yaml",
    output:
        captioned("results/{arm}/as-written/", "checks.csv", "stroke.csv", "stations.csv"),
        multiext(
            "results/{arm}/as-written/",
            "substitutions.json",
            "loads.json",
            "hand.json",
            "linkage.json",
            "workings.json",
        ),
    log:
        "results/{arm}/as-written/log/hand.txt",
    priority: 2
    shell:
        "python -m analysis.hand {input.arm} results/{wildcards.arm}/as-written > {log} 2>&1"


# The forces, drawn.
rule diagrams:
    input:
        multiext(
            "results/{arm}/as-written/",
            "arm.yaml",
            "hand.json",
            "linkage.json",
            "loads.json",
            "stations.csv",
        ),
    output:
        captioned("results/{arm}/as-written/pictures/", *DIAGRAMS),
    log:
        "results/{arm}/as-written/log/diagrams.txt",
    shell:
        "python -m analysis.pictures.diagrams results/{wildcards.arm}/as-written > {log} 2>&1"

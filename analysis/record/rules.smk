RECORDED = (
    "arm.yaml summary.json checks.csv workings.json substitutions.json stroke.csv stations.csv hand.json linkage.json loads.json"
    " resultants.csv verify.csv convergence.csv elastic.json"
).split()


# The calculation record that a reviewer signs.
rule record_pdf:
    input:
        every_copy,
        multiext("results/{arm}/as-written/", *RECORDED),
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=VIEWS + FIELDS + ["diagrams.svg"]),
        bores_tables,
        bores_pictures,
        cracks_tables,
        contact_shown,
        making_tables,
        multiext("results/{arm}/making/", "decision.png", "ready.csv", "costs.csv", "answer.json"),
    output:
        "results/{arm}/record.json",
        record=captioned("results/{arm}/", "record.pdf"),
    log:
        "results/{arm}/log/record.txt",
    shell:
        "python -m analysis.record results/{wildcards.arm} {output.record} > {log} 2>&1"

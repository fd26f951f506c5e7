# The calculation record that a reviewer signs.
rule record_pdf:
    input:
        material,
        "results/{arm}/as-written/workings.json",
        "results/{arm}/as-written/summary.json",
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=PICTURES),
        bores_tables,
        making_tables,
        "results/{arm}/making/decision.png",
    output:
        captioned("results/{arm}/", "record.pdf"),
        "results/{arm}/record.json",
    log:
        "results/{arm}/log/record.txt",
    shell:
        "python -m analysis.record results/{wildcards.arm} {output[0]} > {log} 2>&1"

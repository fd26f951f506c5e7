# What the page shows beyond the tables: outsides with fields, the linkage over the swing, small pictures.
rule page_data:
    input:
        material,
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=PICTURES),
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/stroke.csv",
        multiext("results/{arm}/sweep/", "designs.csv", "life.csv"),
        confirmed,
        bores_tables,
    output:
        "results/{arm}/page/data.json",
    log:
        "results/{arm}/page/log/data.txt",
    shell:
        "python -m analysis.page.data results/{wildcards.arm} > {log} 2>&1"


rule page_file:
    input:
        "results/{arm}/page/data.json",
        "results/{arm}/as-written/summary.json",
        "results/{arm}/sweep/front.csv",
        "results/{arm}/sweep/recommended.json",
        bores_tables,
        making_tables,
    output:
        "results/{arm}/page.html",
        "results/{arm}/page/origin.json",
    log:
        "results/{arm}/page/log/page.txt",
    shell:
        "python -m analysis.page.page results/{wildcards.arm} {output[0]} > {log} 2>&1"


# The library: every arm in params/arms with what was last found of it; this run's arm is made first.
rule index:
    input:
        expand("params/arms/{arm}.yaml", arm=sorted(glob_wildcards("params/arms/{arm}.yaml").arm)),
        expand("results/{arm}/{made}", arm=ARM, made=["page.html", "record.pdf", "overview.txt"]),
    output:
        "results/index.html",
    log:
        "results/log/index.txt",
    shell:
        "python -m analysis.page.index params/arms results {output} > {log} 2>&1"

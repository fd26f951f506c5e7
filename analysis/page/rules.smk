# What an arm's page and the list of all arms show.
include: "inputs.smk"


SAYS_ORIGIN = [
    "as-written/summary.json",
    "page/origin.json",
    "record.json",
    "making/origin.json",
    "overview.txt",
]


# What the page shows beyond the tables: outsides with fields, the linkage over the swing, small pictures.
rule page_data:
    input:
        material,
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=VIEWS + FIELDS),
        multiext("results/{arm}/as-written/", "arm.yaml", "stress.vtu", "linkage.json"),
        multiext("results/{arm}/sweep/", "designs.csv", "chosen.csv", "life.csv"),
        confirmed,
        fields_of_life,
        bores_pictures,
        contact_picture,
    output:
        "results/{arm}/page/data.json",
    log:
        "results/{arm}/page/log/data.txt",
    shell:
        "python -m analysis.page.data results/{wildcards.arm} > {log} 2>&1"


rule page_file:
    input:
        "results/{arm}/page/data.json",
        multiext(
            "results/{arm}/as-written/",
            *"arm.yaml summary.json checks.csv resultants.csv verify.csv convergence.csv stroke.csv".split(),
        ),
        expand("results/{{arm}}/as-written/pictures/{picture}", picture=DIAGRAMS),
        multiext("results/{arm}/sweep/", "front.csv", "recommended.json", "life.csv"),
        confirmed,
        every_copy,
        bores_tables,
        contact_table,
        making_tables_shown,
        multiext("results/{arm}/making/", "ready.csv", "answer.json"),
    output:
        "results/{arm}/page/origin.json",
        page="results/{arm}/page.html",
    log:
        "results/{arm}/page/log/page.txt",
    shell:
        "python -m analysis.page.page results/{wildcards.arm} {output.page} > {log} 2>&1"


# The library: every arm in params/arms with the results of its last run; this run's arm is made first.
rule index:
    input:
        expand("params/arms/{arm}.yaml", arm=sorted(glob_wildcards("params/arms/{arm}.yaml").arm)),
        library_files,
        expand("results/{arm}/{file}", arm=ARM, file=SAYS_ORIGIN),
        package,
    output:
        "results/index.html",
    log:
        "results/log/index.txt",
    shell:
        "python -m analysis.page.index params/arms results {output} > {log} 2>&1"

# As found: `snakemake --cores all survey` surveys the demo scan, `--config survey=NAME` the one in params/surveys/NAME. The arm's
# file stays under results; `python -m analysis.survey adopt results/NAME/survey` copies it to params/arms when it is wanted.
include: "inputs.smk"


# Sizes, bores and deviations of a scanned part, its parameter file, pictures and the sheet to sign.
rule survey:
    input:
        expand("results/{arm}/survey/{file}", arm=SURVEY, file=["sheet.pdf", "arm.yaml", "reduced/told.txt"]),


rule scan:
    input:
        "params/surveys/{arm}/survey.yaml",
        scans,
    output:
        expand("results/{{arm}}/survey/{table}.csv", table=SURVEYED),
        multiext("results/{arm}/survey/", "survey.json", "map.npz", "arm.yaml"),
    log:
        "results/{arm}/survey/log/scan.txt",
    shell:
        "python -m analysis.survey params/surveys/{wildcards.arm} results/{wildcards.arm}/survey > {log} 2>&1"


rule survey_pictures:
    input:
        multiext("results/{arm}/survey/", "parameters.csv", "bores.csv", "profile.csv", "deviation.csv"),
        multiext("results/{arm}/survey/", "survey.json", "map.npz"),
    output:
        multiext("results/{arm}/survey/pictures/", "deviation.png", "bores.png", "uncertainty.png"),
    log:
        "results/{arm}/survey/log/pictures.txt",
    shell:
        "python -m analysis.survey.picture results/{wildcards.arm}/survey > {log} 2>&1"


rule survey_sheet:
    input:
        multiext("results/{arm}/survey/", "parameters.csv", "bores.csv", "deviation.csv", "as_made.csv"),
        "results/{arm}/survey/survey.json",
        multiext("results/{arm}/survey/pictures/", "deviation.png", "bores.png", "uncertainty.png"),
    output:
        "results/{arm}/survey/sheet.pdf",
    log:
        "results/{arm}/survey/log/sheet.txt",
    shell:
        "python -m analysis.survey.sheet results/{wildcards.arm}/survey > {log} 2>&1"


# The hand checks of the old arm with its section reduced by what is missing, where something is.
rule reduced_checks:
    input:
        "results/{arm}/survey/arm.yaml",
    output:
        "results/{arm}/survey/reduced/told.txt",
    log:
        "results/{arm}/survey/log/reduced.txt",
    shell:
        "place=results/{wildcards.arm}/survey/reduced; mkdir -p $place; if [ -f $place/arm.yaml ]; "
        "then python -m analysis.hand $place/arm.yaml $place; echo checks.csv: of the arm less its missing metal; "
        "else echo no reduced section: nothing is missing, or sizes are to be given; fi > {output} 2> {log}"

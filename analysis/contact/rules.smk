# Pins in their bores by contact, with the arm's fits and those named for comparison.
include: "inputs.smk"


rule contact:
    input:
        material,
        arm="results/{arm}/as-written/arm.yaml",
        solid="results/{arm}/as-written/arm.brep",
        faces="results/{arm}/as-written/faces.json",
        loads="results/{arm}/as-written/loads.json",
        plain="results/{arm}/as-written/elastic.json",
    output:
        multiext(
            "results/{arm}/as-written/bores/",
            "contact.csv",
            "contact.json",
            "contact-field.csv",
            "contact.msh",
            "stress-fit.vtu",
            "stress-compare.vtu",
        ),
        multiext(
            "results/{arm}/as-written/bores/coarser/",
            "contact.msh",
            "stress-fit.vtu",
            "stress-compare.vtu",
        ),
        captioned("results/{arm}/as-written/bores/pictures/", "contact.png"),
    log:
        "results/{arm}/as-written/log/contact.txt",
    threads: HALF
    shell:
        "python -m analysis.contact results/{wildcards.arm}/as-written > {log} 2>&1"

def bores_tables(wildcards):
    """What an arm's file gives cause to make of its bores."""
    arm = getattr(wildcards, "arm", ARM)
    told, place = sections(arm), f"results/{arm}/as-written/bores"
    if "bores" not in told:
        return []
    names = ["fit.csv", "life.csv", "materials.csv"]
    if "cracks" in told:
        names += ["cracks.csv", "inspection.csv", *(f"pictures/{name}.png" for name in BORES)]
    return [f"{place}/{name}" for name in names]


rule fits:
    input:
        material,
        "results/{arm}/as-written/arm.yaml",
    output:
        captioned("results/{arm}/as-written/bores/", "fit.csv"),
    log:
        "results/{arm}/as-written/log/fits.txt",
    shell:
        "python -m analysis.fits results/{wildcards.arm}/as-written > {log} 2>&1"


# Years to a crack all over the arm, for its own fit and for the one set beside it.
rule life:
    input:
        materials,
        "results/{arm}/as-written/arm.msh",
        "results/{arm}/as-written/stress.vtu",
        "results/{arm}/as-written/loads.json",
        "results/{arm}/as-written/hand.json",
        contact_of,
    output:
        captioned("results/{arm}/as-written/bores/", "life.csv", "around.csv"),
        "results/{arm}/as-written/bores/life.vtu",
    log:
        "results/{arm}/as-written/log/life.txt",
    shell:
        "python -m analysis.fatigue results/{wildcards.arm}/as-written > {log} 2>&1"


# How long found cracks last, which flaws may be left, when to look.
rule cracks:
    input:
        materials,
        crack_dates,
        "results/{arm}/as-written/arm.msh",
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned(
            "results/{arm}/as-written/bores/",
            "cracks.csv",
            "growth.csv",
            "survival.csv",
            "inspection.csv",
        ),
    log:
        "results/{arm}/as-written/log/cracks.txt",
    shell:
        "python -m analysis.fracture results/{wildcards.arm}/as-written > {log} 2>&1"


# The same arm in every material.
rule materials:
    input:
        every_material,
        "results/{arm}/as-written/arm.msh",
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned("results/{arm}/as-written/bores/", "materials.csv"),
    log:
        "results/{arm}/as-written/log/materials.txt",
    shell:
        "python -m analysis.steels results/{wildcards.arm}/as-written > {log} 2>&1"


rule bores_pictures:
    input:
        expand(
            "results/{{arm}}/as-written/bores/{table}.csv",
            table=["around", "cracks", "inspection", "materials"],
        ),
    output:
        captioned(
            "results/{arm}/as-written/bores/pictures/",
            "life.png",
            "cracks.png",
            "flaws.png",
            "materials.png",
        ),
    log:
        "results/{arm}/as-written/log/bores_pictures.txt",
    shell:
        "python -m analysis.pictures_bores results/{wildcards.arm}/as-written > {log} 2>&1"

# The bores: fits, lives, found cracks, flaws, inspection, other materials.
PICTURED = ["around", "cracks", "growth", "survival", "inspection", "materials"]


def bores_tables(wildcards):
    """Tables of the bores that the sections of an arm's file ask for."""
    arm = getattr(wildcards, "arm", ARM)
    in_file, place = sections(arm), f"results/{arm}/as-written/bores"
    if "bores" not in in_file:
        return []
    names = ["fit.csv", "life.csv", "materials.csv"]
    if "cracks" in in_file:
        names += ["cracks.csv", "inspection.csv"]
    return [f"{place}/{name}" for name in names]


def bores_pictures(wildcards):
    """Pictures of these tables."""
    arm = getattr(wildcards, "arm", ARM)
    drawn = "cracks" in sections(arm) and "bores" in sections(arm)
    return [f"results/{arm}/as-written/bores/pictures/{name}.png" for name in BORES] if drawn else []


def cracks_tables(wildcards):
    """Tables of the cracks found in service, where the arm's file has the sections they need."""
    place = f"results/{wildcards.arm}/as-written/bores/"
    tables = bores_tables(wildcards)
    return [place + name for name in ("growth.csv", "survival.csv", "around.csv")] if f"{place}cracks.csv" in tables else []


def found_cracks(wildcards):
    return [table for table in bores_tables(wildcards) if table.endswith("/cracks.csv")]


rule fits:
    input:
        material,
        "results/{arm}/as-written/arm.yaml",
    output:
        captioned("results/{arm}/as-written/bores/", "fit.csv"),
    log:
        "results/{arm}/as-written/log/fits.txt",
    shell:
        "python -m analysis.bores.table results/{wildcards.arm}/as-written > {log} 2>&1"


# Years to a crack all over the arm, for its own fit and for the one named for comparison.
rule life:
    input:
        materials,
        stresses_compared,
        multiext("results/{arm}/as-written/", "arm.yaml", "loads.json", "hand.json"),
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
        stresses_compared,
        multiext("results/{arm}/as-written/", "arm.yaml", "loads.json"),
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned(
            "results/{arm}/as-written/bores/",
            "cracks.csv",
            "growth.csv",
            "survival.csv",
            "load-limit.csv",
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
        stresses,
        multiext("results/{arm}/as-written/", "arm.yaml", "loads.json"),
        "results/{arm}/as-written/bores/life.csv",
    output:
        captioned("results/{arm}/as-written/bores/", "materials.csv"),
    log:
        "results/{arm}/as-written/log/materials.txt",
    shell:
        "python -m analysis.sweep.materials results/{wildcards.arm}/as-written > {log} 2>&1"


rule bores_pictures:
    input:
        "results/{arm}/as-written/arm.yaml",
        expand("results/{{arm}}/as-written/bores/{table}.csv", table=PICTURED),
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
        "python -m analysis.pictures.bores results/{wildcards.arm}/as-written > {log} 2>&1"

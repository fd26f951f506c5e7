# What an arm's file gives cause to make of its bores.


def bores_tables(wildcards):
    """Tables of the bores that the sections of an arm's file ask for."""
    arm = getattr(wildcards, "arm", ARM)
    in_file, place = sections(arm), f"results/{arm}/as-written/bores"
    if "bores" not in in_file:
        return []
    names = ["fit.csv", "life.csv", "duty.csv", "materials.csv"]
    if "cracks" in in_file:
        names += ["cracks.csv", "explained.csv", "inspection.csv"]
    return [f"{place}/{name}" for name in names]


def bores_pictures(wildcards):
    """Pictures of these tables."""
    arm = getattr(wildcards, "arm", ARM)
    drawn = "cracks" in sections(arm) and "bores" in sections(arm)
    return [f"results/{arm}/as-written/bores/pictures/{name}" for name in BORES] if drawn else []


def cracks_tables(wildcards):
    """Tables of found cracks, where the arm's file has what they need."""
    place = f"results/{wildcards.arm}/as-written/bores/"
    tables = bores_tables(wildcards)
    return (
        [place + name for name in ("growth.csv", "survival.csv", "around.csv")]
        if f"{place}cracks.csv" in tables
        else []
    )


def found_cracks(wildcards):
    """Chance of found cracks to last, and the share of its loads that the arm may run at with them, where there are any."""
    tables = bores_tables(wildcards)
    found = [table for table in tables if Path(table).name == "cracks.csv"]
    return found + [table.replace("cracks.csv", "load-limit.csv") for table in found]

# What the package of an arm, a design or a route's best is made from.


def flaws(wildcards):
    """Acceptable flaws of the arm as written or of a route's best design; those of a swept design are not followed."""
    if wildcards.source.startswith("making/"):
        return [f"results/{wildcards.arm}/{wildcards.source}/life-and-flaw.csv"]
    tables = bores_tables(wildcards) if wildcards.source == "as-written" else []
    return [table for table in tables if table.endswith("inspection.csv")]


def written(wildcards):
    """The arm as written, with which a design or a route's best is compared."""
    return [] if wildcards.source == "as-written" else [f"results/{wildcards.arm}/as-written/arm.yaml"]


def of_route_best(wildcards):
    """Which design a route's best is."""
    if not wildcards.source.startswith("making/"):
        return []
    return [f"results/{wildcards.arm}/{Path(wildcards.source).parent}/best.csv"]


def cut(wildcards):
    """The pieces, where the package is of the best design of a route that deposits."""
    deposited = tables_of_pieces({"arm": wildcards.arm}) if DESIGN.startswith("making/") else []
    return [path for path in deposited if f"/{CHOSEN}/" in path]


def package(wildcards):
    """The package's name ends with the revision that the arm's file bears, and a design's name."""
    issue = sections(ARM).get("revision", "A")
    return f"results/{ARM}/vendor/{ARM}-{issue}{'-' if CHOSEN else ''}{CHOSEN}.zip"

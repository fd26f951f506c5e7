# What the page shows where the arm has it.


def fields_of_life(wildcards):
    return (
        [f"results/{wildcards.arm}/as-written/bores/life.vtu"] if "bores" in sections(wildcards.arm) else []
    )


def contact_picture(wildcards):
    return contact_of(wildcards, "pictures/contact.png")


def contact_table(wildcards):
    return contact_of(wildcards, "contact.csv")


def library_files(wildcards):
    """All that people wrote beside the arms: what the list compares the results with."""
    return sorted(
        str(path)
        for kind in ("materials", "routes", "outages")
        for path in Path("params", kind).glob("*.yaml")
    )

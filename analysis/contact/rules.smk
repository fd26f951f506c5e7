def contact_of(wildcards):
    """The pins' contact, where the arm's file names fits without a bush."""
    bores = sections(wildcards.arm).get("bores")
    fits = bores.get("fits") if isinstance(bores, dict) else None
    named = fits.values() if isinstance(fits, dict) else ()
    solved = any("bush" not in fit for fit in named if isinstance(fit, dict))
    return [f"results/{wildcards.arm}/as-written/bores/contact.csv"] if solved else []


# Pins in their bores by contact, with the arm's fits and those set beside them.
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
        captioned("results/{arm}/as-written/bores/pictures/", "contact.png"),
    log:
        "results/{arm}/as-written/log/contact.txt",
    threads: HALF
    shell:
        "python -m analysis.contact results/{wildcards.arm}/as-written > {log} 2>&1"

# Which pictures there are, and how files get their sentence for `snakemake --report`.
DIAGRAMS = ["free-body.svg", "diagrams.svg"]
VIEWS = ["solid.png", "mesh.png", "convergence.png"]
FIELDS = ["stress.png", "deformed.png"]
BORES = ["life.png", "cracks.png", "flaws.png", "materials.png"]


def captioned(place, *names, caption=""):
    """Files of one place, each with its sentence: that of its own name, or `caption` for all."""
    texts = [f"{workflow.basedir}/analysis/record/captions/{caption or name}.rst" for name in names]
    return [report(place + name, caption=text, category=place) for name, text in zip(names, texts)]

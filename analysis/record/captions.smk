# Which pictures there are, and how files get their sentence for `snakemake --report`.
DIAGRAMS = ["free-body.svg", "diagrams.svg"]
VIEWS = ["solid.png", "mesh.png", "convergence.png"]
FIELDS = ["stress.png", "deformed.png"]
BORES = ["life.png", "cracks.png", "flaws.png", "materials.png"]


def captioned(place, *names, told=""):
    """Files of one place, each with its sentence: that of its name, or `told` for all."""
    texts = [f"{workflow.basedir}/analysis/record/captions/{told or name}.rst" for name in names]
    return [report(place + name, caption=text, category=place) for name, text in zip(names, texts)]

# Which copies of what people wrote the steps read.
from params.steps.library import sha256


def content(*sources):
    """SHA-256 of the files that are copied, so that a change is seen whatever their dates.

    By wildcards alone, since the workflow keeps no parameter that is asked of the inputs.
    """

    def digests(wildcards):
        paths = []
        for source in sources:
            paths += source(wildcards) if callable(source) else [source.format(**dict(wildcards.items()))]
        return [sha256(Path(path)) for path in paths if Path(path).is_file()]

    return digests


def issued(wildcards):
    """What was issued under the revision that the arm's file bears: none of it may be another part of the same number."""
    revision = sections(wildcards.arm).get("revision", "")
    return [str(path) for path in sorted(Path("params/arms/issued").glob(f"*-{revision}.yaml"))]


def outage_file(wildcards):
    """The outage in force: `--config outage=NAME`, else the one that the arm's file names."""
    name = OUTAGE or sections(wildcards.arm).get("outage")
    if not name:
        choices = ", ".join(library("outages"))
        sys.exit(
            f"params/arms/{wildcards.arm}.yaml: outage: is missing; write outage: NAME, one of {choices}"
        )
    return [f"params/outages/{name}.yaml"]


def copies(arm, kind, names):
    """Copies of library files beside an arm's results."""
    return [f"results/{arm}/inputs/{kind}/{name}.yaml" for name in dict.fromkeys(names)]


def material(wildcards):
    """The arm's material."""
    return copies(
        wildcards.arm, "materials", [name for name in [sections(wildcards.arm).get("material")] if name]
    )


def materials(wildcards):
    """The arm's material and the old arm's."""
    cracks = sections(wildcards.arm).get("cracks", {})
    old = cracks.get("old_arm", {}).get("material") if isinstance(cracks, dict) else None
    return material(wildcards) + copies(wildcards.arm, "materials", [old] if old else [])


def every_material(wildcards):
    return copies(wildcards.arm, "materials", library("materials"))


def routes(wildcards):
    """The routes by which the arm may be made."""
    return copies(wildcards.arm, "routes", sections(wildcards.arm).get("routes", library("routes")))


def own_route(wildcards):
    """The route that the arm's file names, where it does: its factors are taken out before another's are put in."""
    return copies(wildcards.arm, "routes", [name for name in [sections(wildcards.arm).get("route")] if name])


def listed(route):
    """The materials that a route's file lists, as far as there are such files."""
    try:
        with open(f"params/routes/{route}.yaml") as file:
            return [name for name in yaml.safe_load(file)["materials"] if name in library("materials")]
    except (OSError, KeyError, TypeError, yaml.YAMLError):
        return []


def materials_listed(wildcards):
    return [f"params/materials/{name}.yaml" for name in listed(wildcards.route)]


def route_materials(wildcards):
    """The arm's material and those of a route."""
    return material(wildcards) + copies(wildcards.arm, "materials", listed(wildcards.route))


def every_copy(wildcards):
    """All that people wrote for an arm: what its record, page and package name with its digest."""
    return every_material(wildcards) + routes(wildcards) + [f"results/{wildcards.arm}/inputs/outage.yaml"]


def crack_dates(wildcards):
    """The outage, where the arm names one: the day until which a found crack must last."""
    named = OUTAGE or "outage" in sections(wildcards.arm)
    return [f"results/{wildcards.arm}/inputs/outage.yaml"] if named else []

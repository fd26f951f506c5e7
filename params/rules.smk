# What people wrote is read, checked and copied beside the results; every step reads the copies.
import yaml

from params.steps.library import sha256
from snakemake.exceptions import WorkflowError


def library(kind):
    """Names of the files that people wrote of one kind."""
    return sorted(path.stem for path in Path("params", kind).glob("*.yaml"))


def known(name, kind):
    """A name given on the command line or in an arm's file, refused where there is no such file."""
    if name not in library(kind):
        raise WorkflowError(f"{name}: there is no such file in params/{kind}; choose one of {', '.join(library(kind))}")
    return name


def sections(arm):
    """The keys of an arm's file that are filled in; the rule `check` says what is wrong in it."""
    try:
        with open(f"params/arms/{arm}.yaml") as file:
            return {name: value for name, value in yaml.safe_load(file).items() if value}
    except (OSError, AttributeError, ValueError, RecursionError, yaml.YAMLError):
        return {}


def content(wildcards, input):
    """SHA-256 of what a rule copies: a change is seen whatever the file's date."""
    return [sha256(Path(path)) for path in input]


def outage_file(wildcards):
    """The outage in force: `--config outage=NAME`, else the one that the arm's file names."""
    name = config.get("outage", sections(wildcards.arm).get("outage"))
    if name is None:
        message = f"params/arms/{wildcards.arm}.yaml: names no outage; add a line `outage: NAME` with one of {', '.join(library('outages'))}"
        raise WorkflowError(message)
    return f"params/outages/{known(name, 'outages')}.yaml"


def copies(arm, kind, names):
    """Copies of library files beside an arm's results."""
    return [f"results/{arm}/inputs/{kind}/{name}.yaml" for name in dict.fromkeys(names)]


def material(wildcards):
    """The arm's material."""
    return copies(wildcards.arm, "materials", [name for name in [sections(wildcards.arm).get("material")] if name])


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
    named = "outage" in config or "outage" in sections(wildcards.arm)
    return [f"results/{wildcards.arm}/inputs/outage.yaml"] if named else []


# What people wrote is read, checked and copied beside the results; every step reads the copies.
rule check:
    input:
        "params/arms/{arm}.yaml",
    output:
        "results/{arm}/as-written/arm.yaml",
    params:
        content=content,
    priority: 3
    log:
        "results/{arm}/as-written/log/check.txt",
    shell:
        "python -m params.check {input} --file-as {output} > {log} 2>&1"


rule file_material:
    input:
        "params/materials/{name}.yaml",
    output:
        "results/{arm}/inputs/materials/{name}.yaml",
    params:
        content=content,
    log:
        "results/{arm}/inputs/log/material-{name}.txt",
    priority: 3
    shell:
        "python -m params.check {input} --file-as {output} > {log} 2>&1"


rule file_route:
    input:
        "params/routes/{route}.yaml",
        materials_listed,
    output:
        "results/{arm}/inputs/routes/{route}.yaml",
    params:
        content=content,
    log:
        "results/{arm}/inputs/log/route-{route}.txt",
    priority: 3
    shell:
        "python -m params.check {input[0]} --file-as {output} > {log} 2>&1"


rule file_outage:
    input:
        outage_file,
    output:
        "results/{arm}/inputs/outage.yaml",
    params:
        content=content,
    log:
        "results/{arm}/inputs/log/outage.txt",
    priority: 3
    shell:
        "python -m params.check {input} --file-as {output} > {log} 2>&1"

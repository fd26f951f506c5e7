# What a run is of: the arm, its routes, and the design whose package the vendor gets. A name that leads nowhere ends the run in
# one line.
import csv
import subprocess
import sys

import yaml


def library(kind):
    """Names of the files that people wrote of one kind."""
    return sorted(path.stem for path in Path("params", kind).glob("*.yaml"))


def known(key, names, usual=""):
    """The name given by `--config KEY=NAME`."""
    name = str(config.get(key, usual))
    if key in config and name not in names:
        sys.exit(f"--config {key}={name}: is unknown; known are {', '.join(names) or 'none'}")
    return name


def sections(arm):
    """The keys of an arm's file that are filled in; the rule `check` says what is wrong in it."""
    try:
        with open(f"params/arms/{arm}.yaml") as file:
            return {name: value for name, value in yaml.safe_load(file).items() if value}
    except (OSError, AttributeError, ValueError, RecursionError, yaml.YAMLError):
        return {}


def checked(arm):
    """The keys of an arm's file; where they cannot be read or name a file that is not there, `params.check` says at which line."""
    own = sections(arm)
    routes, outage = own.get("routes", []), own.get("outage")
    lost = (
        [name for name in routes if name not in library("routes")] if isinstance(routes, list) else [routes]
    )
    if not own or lost or (outage and outage not in library("outages")):
        command = [sys.executable, "-m", "params.check", f"params/arms/{arm}.yaml"]
        if subprocess.run(command).returncode:
            sys.exit(1)
    return own


def designs(arm):
    """Designs of the sweep that were worth a mesh, where it has run."""
    try:
        with open(f"results/{arm}/sweep/front.csv", newline="") as table:
            return [row["id"] for row in csv.DictReader(table)]
    except OSError:
        return [config["design"]]


ARM = known("arm", library("arms"), "linkspan-rocker")
ROUTES = sorted(checked(ARM).get("routes") or library("routes"))
OUTAGE = known("outage", library("outages"))
# What the vendor gets: the arm as written, with `--config design=ID` a swept design, with `--config route=NAME` a route's best.
if "design" in config:
    CHOSEN = known("design", designs(ARM))
    DESIGN = f"designs/{CHOSEN}"
elif "route" in config:
    CHOSEN = known("route", ROUTES)
    DESIGN = f"making/{CHOSEN}/best"
else:
    CHOSEN, DESIGN = "", "as-written"


wildcard_constraints:
    arm=r"[a-z][a-z0-9_-]*",
    id=r"[a-z0-9-]+",
    route=r"[a-z][a-z0-9_-]*",
    name=r"[a-z][a-z0-9_-]*",
    source=r"as-written|designs/[a-z0-9-]+|making/[a-z][a-z0-9_-]*/best",
    step=r"[0-9]",
    issue=r"[A-Z0-9][A-Za-z0-9._-]*",

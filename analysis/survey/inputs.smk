# Which scan is surveyed, its files, and the tables that come of it.
SURVEY = known(
    "survey", sorted(path.parent.name for path in Path("params/surveys").glob("*/survey.yaml")), "quay-rocker"
)
SURVEYED = ["parameters", "correlation", "bores", "profile", "deviation", "losses", "shape", "as_made"]


def scans(wildcards):
    """The files and arms that a survey's file names; the step itself tells what is wrong in it."""
    folder = Path("params/surveys") / wildcards.arm
    try:
        said = yaml.safe_load((folder / "survey.yaml").read_text())
        paths = [folder / str(one["file"]) for one in said["files"]]
        arms = [said[key] for key in ("rest_from", "drawing_of") if said.get(key)]
        paths += [Path("params/arms") / f"{name}.yaml" for name in dict.fromkeys(arms)]
    except (OSError, KeyError, TypeError, ValueError, yaml.YAMLError):
        return []
    return [str(path) for path in paths if path.is_file()]

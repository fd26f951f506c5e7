# Which scan is surveyed, its files, and the tables that come of it.
SURVEY = known(
    "survey", sorted(path.parent.name for path in Path("params/surveys").glob("*/survey.yaml")), "quay-rocker"
)
SURVEYED = ["parameters", "correlation", "bores", "profile", "deviation", "losses", "shape", "as_made"]


def scans(wildcards):
    """The files that a survey's file names; the step itself tells what is wrong in it."""
    folder = Path("params/surveys") / wildcards.arm
    try:
        named = yaml.safe_load((folder / "survey.yaml").read_text())["files"]
        paths = [folder / str(one["file"]) for one in named]
    except (OSError, KeyError, TypeError, ValueError, yaml.YAMLError):
        return []
    return [str(path) for path in paths if path.is_file()]

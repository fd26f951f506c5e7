"""The set-up: with-env on a machine of stand-ins, the lock file, the top level, the size of the files."""

import importlib.metadata
import os
import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement

TOP = Path(__file__).resolve().parents[1]
LOCK = TOP / "requirements.lock"

# The house rule of the top level: these rooms and pages, and what tools demand.
ROOMS = {"params", "geometry", "analysis", "tests", "results"}
PAGES = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE"}
TOOLS = {"Snakefile", "pyproject.toml", "requirements.lock", "with-env", "profiles"}
DOTS = {".ci", ".gitignore", ".pre-commit-config.yaml"}

# Stand-ins: this uv writes down what it is asked, and its environment holds a python that loads cadquery
# only where the file `loads` is there.
FAKE_UV = """#!/bin/sh
echo "$*" >>"$HOME/asked"
case "$*" in
*"python find"*) [ ! -e "$HOME/no-python" ] ;;
*" venv "*)
    for last; do :; done
    mkdir -p "$last/bin" "$last/lib/python3/site-packages"
    cp "$HOME/python" "$last/bin/python" ;;
*"pip sync"*) sleep 0.3 ;;
esac
"""
FAKE_PYTHON = """#!/bin/sh
case "$*" in *cadquery*) [ -e "$HOME/loads" ] ;; esac
"""


def tracked() -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, text=True, check=True)
    return [TOP / name for name in listed.stdout.split("\0") if name and (TOP / name).is_file()]


def locked() -> dict[str, tuple[str, Requirement]]:
    """Version and requirement (with its marker) of every package in the lock file, by name."""
    lines = [line.rstrip(" \\") for line in LOCK.read_text().splitlines() if re.match(r"[a-z0-9]", line)]
    requirements = [Requirement(line) for line in lines]
    return {r.name: (str(r.specifier).removeprefix("=="), r) for r in requirements}


def declared() -> list[Requirement]:
    project = tomllib.loads((TOP / "pyproject.toml").read_text())
    return [Requirement(r) for r in project["project"]["dependencies"] + project["dependency-groups"]["dev"]]


@pytest.fixture
def clone(tmp_path):
    """A folder with with-env and the lock file, on a machine of stand-ins where nobody is root."""
    place, machine = tmp_path / "a clone", tmp_path / "bin"
    place.mkdir()
    machine.mkdir()
    for name in ("with-env", "requirements.lock"):
        shutil.copy(TOP / name, place)
    for name, text in {"uv": FAKE_UV, "id": "#!/bin/sh\necho 1000\n"}.items():
        (machine / name).write_text(text)
        (machine / name).chmod(0o755)
    (tmp_path / "python").write_text(FAKE_PYTHON)
    (tmp_path / "python").chmod(0o755)
    (tmp_path / "loads").touch()
    return place


def start(clone: Path, *command: str) -> subprocess.Popen[str]:
    environment = {"HOME": str(clone.parent), "PATH": f"{clone.parent / 'bin'}:/usr/bin:/bin"}
    return subprocess.Popen(
        [clone / "with-env", *command],
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )


def run(clone: Path, *command: str) -> tuple[int, str, str]:
    process = start(clone, *command)
    out, err = process.communicate(timeout=30)
    return process.returncode, out, err


def syncs(clone: Path) -> int:
    return (clone.parent / "asked").read_text().count("pip sync")


def test_with_env_is_short_posix_shell():
    text = (TOP / "with-env").read_text()
    assert text.startswith("#!/bin/sh\n")
    assert os.access(TOP / "with-env", os.X_OK)
    assert len(text.splitlines()) <= 60
    shell = shutil.which("dash") or "sh"
    assert subprocess.run([shell, "-n", TOP / "with-env"], check=False).returncode == 0
    assert not re.search(r"\[\[|\blocal\b|\bfunction\b|<<<|\$'|&>", text), "not in POSIX sh"


def test_with_env_makes_once_and_passes_on(clone):
    assert run(clone, "sh", "-c", 'echo "$PATH"; exit 7')[0] == 7
    status, out, err = run(clone, "sh", "-c", 'echo "${PATH%%:*}"')
    assert (status, out.strip(), err) == (0, str(clone / ".venv/bin"), "")
    assert syncs(clone) == 1


def test_with_env_refreshes_for_a_changed_lock_or_place(clone):
    run(clone, "true")
    with (clone / "requirements.lock").open("a") as lock:
        lock.write("# changed\n")
    run(clone, "true")
    assert syncs(clone) == 2
    moved = clone.rename(clone.parent / "moved")
    run(moved, "true")
    asked = (clone.parent / "asked").read_text().splitlines()
    assert syncs(moved) == 3
    # A moved environment is made anew, a stale one is brought up to date.
    assert sum(" venv " in line for line in asked) == 2, (
        "a moved environment is made anew, a stale one is brought up to date"
    )


def test_with_env_makes_once_for_two_at_a_time(clone):
    both = [start(clone, "echo", "made"), start(clone, "echo", "made")]
    assert [process.communicate(timeout=30)[0] for process in both] == ["made\n", "made\n"]
    assert syncs(clone) == 1
    assert not os.path.lexists(clone / ".venv.lock")


def test_with_env_takes_over_from_one_that_died(clone):
    gone = subprocess.Popen(["true"])
    gone.wait()
    (clone / ".venv.lock").symlink_to(str(gone.pid))
    assert run(clone, "echo", "made")[:2] == (0, "made\n")


def test_with_env_names_the_one_line_to_run(clone):
    (clone.parent / "loads").unlink()
    status, _, err = run(clone, "true")
    assert status == 1
    assert err.splitlines()[-1].startswith(
        "with-env: cadquery or gmsh does not load; run: apt-get install lib"
    )


def test_with_env_takes_the_mesher_of_the_system_where_it_has_no_wheel(clone):
    uname = clone.parent / "bin/uname"
    uname.write_text("#!/bin/sh\necho Linux aarch64\n")
    uname.chmod(0o755)
    run(clone, "true")
    linked = clone / ".venv/lib/python3/site-packages/gmsh.py"
    assert linked.readlink() == Path("/usr/lib/python3/dist-packages/gmsh.py")
    (clone.parent / "loads").unlink()
    (clone / ".venv/ready").unlink()
    assert run(clone, "true")[2].splitlines()[-1].endswith(" python3-gmsh")


def test_with_env_says_that_python_is_missing(clone):
    (clone.parent / "no-python").touch()
    status, _, err = run(clone, "true")
    assert (status, len(err.splitlines())) == (1, 1)
    assert "Python >=3.11" in err


def test_with_env_asks_for_a_command(clone):
    status, _, err = run(clone)
    assert status == 1
    assert "name a command" in err


def test_lock_has_a_hash_for_every_package():
    entries = re.split(r"(?m)^(?=[a-z0-9])", LOCK.read_text())[1:]
    bare = [
        entry.splitlines()[0] for entry in entries if not re.search(r"--hash=sha256:[0-9a-f]{64}\b", entry)
    ]
    assert len(entries) == len(locked()) > 100
    assert bare == []


@pytest.mark.parametrize("wanted", declared(), ids=lambda wanted: wanted.name)
def test_lock_holds_what_the_project_declares(wanted):
    version, requirement = locked()[wanted.name]
    assert wanted.specifier.contains(version)
    for machine in ("x86_64", "aarch64"):
        here = {"platform_machine": machine, "sys_platform": "linux"}
        needs = wanted.marker is None or wanted.marker.evaluate(here)
        brings = requirement.marker is None or requirement.marker.evaluate(here)
        assert needs == brings, f"on {machine}"


def test_installed_is_what_is_locked():
    wanted = {name: version for name, (version, r) in locked().items() if not r.marker or r.marker.evaluate()}
    assert {name: importlib.metadata.version(name) for name in wanted} == wanted


def test_no_registry_host_in_any_file():
    # In halves, so that this file does not name them either.
    halves = ["py pi.org", "python hosted", "npm js.org", "deb .debian", "crates .io", "ana conda.org"]
    hosts = [half.replace(" ", "") for half in halves]
    files = [path for path in tracked() if path.suffix not in {".png", ".step", ".msh", ".vtu"}]
    named = [(path.name, host) for path in files for host in hosts if host in path.read_text(errors="ignore")]
    assert named == []
    assert "://" not in LOCK.read_text()


def test_top_level_is_as_the_house_rule_says():
    there = {path.relative_to(TOP).parts[0] for path in tracked()}
    assert there - (ROOMS | PAGES | TOOLS | DOTS) == set()
    # The workflow looks for its own settings there and nowhere else.
    profiles = {str(path.relative_to(TOP)) for path in tracked() if TOP / "profiles" in path.parents}
    assert profiles == {"profiles/default/config.yaml"}


def test_results_hold_nothing_made_by_hand():
    committed = {
        str(path.relative_to(TOP / "results")) for path in tracked() if TOP / "results" in path.parents
    }
    assert {name for name in committed if not name.startswith("readme/")} == {".gitkeep"}


def test_one_file_one_concept():
    lengths = {
        str(p.relative_to(TOP)): len(p.read_text().splitlines()) for p in tracked() if p.suffix == ".py"
    }
    assert {name: lines for name, lines in lengths.items() if lines > 350} == {}

"""A run as its user sees it: a line a step, the answer, one line for what is wrong, and the same command again after any end.

A small workflow stands in for the real one where steps have to fail or to be cut off.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
SURROUNDINGS = os.environ | {
    "PYTHONPATH": str(TOP),
    "PATH": f"{Path(sys.executable).parent}:{os.environ['PATH']}",
}
# Two steps and the answer; the second waits, and holds by what `mood.txt` says.
SMALL = """
from pathlib import Path
from params.steps import lock, progress
from snakemake.logging import logger

RUN = progress.brief(logger, workflow.output_settings.dryrun)
if not workflow.output_settings.dryrun:
    lock.enter(Path(".snakemake"))

rule overview:
    input: "first.txt", "second.txt"
    output: "overview.txt"
    log: "log/overview.txt"
    shell: "(cat {input} > {output}) > {log} 2>&1"

rule first:
    output: "first.txt"
    log: "log/first.txt"
    shell: "(echo one > {output}) > {log} 2>&1"

rule second:
    input: "first.txt"
    output: "second.txt"
    log: "log/second.txt"
    shell: "(. ./mood.sh; echo two > {output}) > {log} 2>&1"

onsuccess:
    RUN.answer()

onerror:
    RUN.unfinished()
"""
WAITS = "sleep 30\n"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    (tmp_path / "Snakefile").write_text(SMALL)
    (tmp_path / "mood.sh").write_text("true\n")
    shutil.copytree(TOP / "profiles", tmp_path / "profiles")
    return tmp_path


def start(place: Path, *more: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "snakemake", "--cores", "2", *more]
    both = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    # Whoever runs the tests in the background may have told them to ignore Ctrl-C.
    hears = {"start_new_session": True, "preexec_fn": lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)}
    return subprocess.Popen(command, cwd=place, env=SURROUNDINGS, **both, **hears)


def run(place: Path, *more: str) -> tuple[int, list[str]]:
    """Exit code, and lines on the terminal but that which names the profile."""
    process = start(place, *more)
    said, _ = process.communicate(timeout=600)
    return process.returncode, [line for line in said.splitlines() if not line.startswith("Using workflow")]


def until(process: subprocess.Popen[str], beginning: str) -> None:
    """Read the terminal up to a line."""
    assert process.stdout
    assert any(line.startswith(beginning) for line in process.stdout)


def plain(lines: list[str]) -> list[str]:
    """Without the seconds of the steps."""
    return [re.sub(r" +\d+\.\d s$", "", line) for line in lines]


def test_a_line_a_step_and_the_answer_at_the_end(small: Path) -> None:
    code, lines = run(small)
    assert code == 0
    assert plain(lines) == ["1 of 3  first", "2 of 3  second", "3 of 3  overview", "", "one", "two"]


def test_a_step_that_fails_says_why_and_nothing_else_does(small: Path) -> None:
    (small / "mood.sh").write_text("echo 'a.yaml:3: x: 5, is too large'; exit 1\n")
    code, lines = run(small)
    assert code == 1
    assert plain(lines) == [
        "1 of 3  first",
        "failed: second",
        "  a.yaml:3: x: 5, is too large",
        "not finished: 1 of 3 steps done; the same command goes on from there",
    ]
    (small / "mood.sh").write_text("true\n")
    assert plain(run(small)[1])[:2] == ["1 of 2  second", "2 of 2  overview"]


@pytest.mark.slow
def test_interrupted_it_says_how_to_go_on_and_goes_on(small: Path) -> None:
    (small / "mood.sh").write_text(WAITS)
    process = start(small)
    until(process, "1 of 3")
    os.killpg(process.pid, signal.SIGINT)  # as Ctrl-C, which reaches the steps too
    said, _ = process.communicate(timeout=600)
    assert process.returncode == 1
    assert said.splitlines() == [
        "stopping: the steps that run are ended",
        "stopped: 1 of 3 steps done; the same command goes on from there",
    ]
    (small / "mood.sh").write_text("true\n")
    assert run(small)[0] == 0


@pytest.mark.slow
def test_killed_it_leaves_a_lock_that_the_same_command_removes(small: Path) -> None:
    (small / "mood.sh").write_text(WAITS)
    process = start(small)
    until(process, "1 of 3")
    os.killpg(process.pid, signal.SIGKILL)
    process.wait(timeout=600)
    assert list((small / ".snakemake" / "locks").iterdir())
    (small / "mood.sh").write_text("true\n")
    code, lines = run(small)
    assert (code, plain(lines)[-3:]) == (0, ["", "one", "two"])


@pytest.mark.slow
def test_the_lock_of_a_run_under_way_stays(small: Path) -> None:
    (small / "mood.sh").write_text(WAITS)
    process = start(small)
    until(process, "1 of 3")
    code, lines = run(small)
    os.killpg(process.pid, signal.SIGKILL)
    assert (code, lines) == (
        1,
        ["another run in this folder makes the same files; start again when it has ended"],
    )


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of the files that people write, for the real workflow."""
    for kind in ("arms", "materials", "routes", "outages"):
        shutil.copytree(TOP / "params" / kind, tmp_path / "params" / kind)
    return tmp_path


def real(place: Path, *more: str) -> tuple[int, list[str]]:
    return run(place, "-s", str(TOP / "Snakefile"), "--directory", str(place), *more)


@pytest.mark.parametrize(
    ("given", "known"),
    [
        ("arm=nobody", "bench-lever, linkspan-rocker, sluice-crank"),
        ("outage=never", "early-summer, late-autumn"),
        ("route=forged", "cast, deposited, welded"),
        ("design=d9", "d000001, d000004"),
    ],
)
def test_an_unknown_name_is_refused_with_the_known_ones(given: str, known: str, project: Path) -> None:
    front = project / "results" / "linkspan-rocker" / "sweep" / "front.csv"
    front.parent.mkdir(parents=True)
    front.write_text("id,mass_kg\nd000001,1\nd000004,2\n")
    code, lines = real(project, "--config", given)
    assert (code, lines) == (1, [f"--config {given}: is unknown; known are {known}"])


@pytest.mark.parametrize("wrong", ["routes: [cast, forged]", "outage: never"])
def test_a_name_in_the_arm_s_file_that_leads_nowhere_has_its_line(wrong: str, project: Path) -> None:
    key, _, _ = wrong.partition(":")
    file = project / "params" / "arms" / "bench-lever.yaml"
    text, count = re.subn(rf"^{key}: .*$", wrong, file.read_text(), flags=re.MULTILINE)
    assert count == 1
    file.write_text(text)
    at = text.splitlines().index(wrong) + 1
    code, lines = real(project, "--config", "arm=bench-lever")
    assert code == 1
    assert [line for line in lines if f"bench-lever.yaml:{at}: {key}" in line] == lines[:1]


@pytest.mark.parametrize(
    ("file", "old", "new", "field"),
    [
        ("materials/a572-50.yaml", "yield_strength: 345 MPa", "yield_strength: 345", "yield_strength"),
        ("arms/bench-lever.yaml", "    kind: i\n", "    kind: solid\n", "section.flange_thickness"),
    ],
)
def test_a_file_that_is_refused_stops_the_run_with_its_line(
    file: str, old: str, new: str, field: str, project: Path
) -> None:
    path = project / "params" / file
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))
    code, lines = real(
        project, "--config", "arm=bench-lever", "--", "results/bench-lever/as-written/hand.json"
    )
    assert code == 1
    at = next(number for number, line in enumerate(lines) if line.startswith("failed: "))
    assert re.match(rf"  params/{file}:\d+: .*{field}", lines[at + 1])
    assert lines[-1].startswith("not finished: ")
    assert not [line for line in lines if "Error" in line or "Exception" in line]

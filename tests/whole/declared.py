"""What each step of a run opens, beside what its rule declares: used by `python -m tests.whole`.

Runs the workflow with every step under strace and compares the files below `results` and `params` that each step opened with the
inputs of its rule, for all rules: a line where a step reads what its rule does not declare, a rule declares what its step does not
read, or a rule was not run.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from params.steps.sealed import SEALS
from tests.whole.coarse import workflow

INSTALL = "apt-get -qq update && DEBIAN_FRONTEND=noninteractive apt-get -qq -y --no-install-recommends install strace"
WRAPPER = """#!/bin/sh
exec strace -f -qq --seccomp-bpf -s 4096 -e trace=open,openat,execve -e signal=none -o "$TRACES/$$" "{python}" "$@"
"""
OPENED = re.compile(r'(?:open|openat)\((?:AT_FDCWD, )?"([^"]+)", (O_[A-Z_|]+).*\) = \d+')
CALLED = re.compile(r'execve\("[^"]*", \[(.*)\]')
# A step that fills a folder declares the file that it writes last; whoever declares that may read the rest of the folder.
LAST_WRITTEN = {"summary.json", "pieces.json", "data.json", "life.csv"}
# What the step of a rule may read beyond what it declares, and why.
MAY_FOLLOW = {
    "page_data": (
        r"results/[^/]+/designs/[^/]+/bores/life\.vtu",
        "which design is recommended is known only after a step; its lives come with sweep/life.csv, which is declared",
    ),
    "index": (
        r"results/[^/]+/(as-written/summary\.json|page/\w+\.(json|webp)|record\.json|making/origin\.json|vendor/[^/]+\.zip)",
        "the list shows what was last found of the other arms, which a run of one arm does not make",
    ),
}
# Declared, though a run need not open it, and why.
MAY_READ = {
    "inputs/materials/": "which of a route's materials a design has is known only after a step",
    "inputs/routes/": "which route makes a material is known only from the files",
    "params/outages/": "the list of all arms compares each with the outage that it was made with",
    "overview.txt": "the list links it where it is there",
    r"making/\w+/designs/": "which of a route's meshed designs is its best is known only after a step",
    "joints.csv": "written with the plan of pieces; read where pieces have joints",
}
# Rules whose step has nothing to do in a demo, and why.
NEED_NOT_RUN = {"reduced_checks": "the demo scan misses no metal, so there is no reduced section to check"}


def can_trace() -> bool:
    """Whether steps can run under strace here: a container may forbid it."""
    if shutil.which("strace") is None and shutil.which("apt-get") and os.geteuid() == 0:
        subprocess.run(INSTALL, shell=True, check=False, stdout=subprocess.DEVNULL)
    if shutil.which("strace") is None:
        return False
    tried = ["strace", "-f", "-qq", "--seccomp-bpf", "-o", os.devnull, "true"]
    return subprocess.run(tried, check=False, stderr=subprocess.DEVNULL).returncode == 0


def traced(top: Path, arm: str, targets: list[str], traces: Path) -> int:
    """The exit code of the workflow at `top` for an arm, a file in `traces` for each step."""
    tools = traces / "bin"
    tools.mkdir(parents=True)
    wrapper = tools / "python"
    wrapper.write_text(WRAPPER.format(python=sys.executable))
    wrapper.chmod(0o755)
    return workflow(top, arm, *targets, PATH=f"{tools}:{os.environ['PATH']}", TRACES=str(traces)).returncode


def jobs(top: Path) -> Iterator[dict[str, Any]]:
    """What the workflow keeps of every job: rule, inputs, command."""
    for path in (top / ".snakemake" / "metadata").rglob("*"):
        if path.is_file():
            yield json.loads(path.read_text())


def opened(top: Path, trace: str) -> set[str]:
    """Files below results and params that a step opened to read, relative to the project."""
    found = set()
    for name, flags in OPENED.findall(trace):
        path = Path(os.path.normpath(top / name))
        if "O_DIRECTORY" in flags or "O_WRONLY" in flags or "O_CREAT" in flags:
            continue
        if path.parent.name == SEALS:  # goes with its file
            continue
        if path.is_relative_to(top / "results") or (
            path.is_relative_to(top / "params") and (path.suffix == ".yaml" or "surveys" in path.parts)
        ):
            found.add(path.relative_to(top).as_posix())
    return found


def written(top: Path, trace: str) -> set[str]:
    """Files that a step opened to write."""
    names = [name for name, flags in OPENED.findall(trace) if "O_WRONLY" in flags or "O_CREAT" in flags]
    return {os.path.relpath(os.path.normpath(top / name), top) for name in names}


def last_names(made: set[str]) -> set[str]:
    """The names that files written whole have in the end (`params.steps.sealed`)."""
    return {re.sub(r"/\.\d+-([^/]+)$", r"/\1", name) for name in made}


def command_of(trace: str) -> str:
    """The command of a traced step, as its rule writes it."""
    words = re.findall(r'"([^"]*)"', CALLED.findall(trace)[0])
    return " ".join(words[1:])


def compared(top: Path, traces: Path) -> list[str]:
    """A line for each undeclared read and each declared file that is not read."""
    read: dict[str, tuple[set[str], set[str]]] = {}
    for path in traces.iterdir():
        if path.is_file():
            text = path.read_text(errors="replace")
            read[command_of(text)] = (opened(top, text), written(top, text))
    lines, traced = [], set()
    for rule, command, inputs in sorted(
        {(str(one["rule"]), str(one["shellcmd"]), tuple(one["input"])) for one in jobs(top)}
    ):
        own = [found for said, found in read.items() if said in command]
        if not own:
            continue
        traced.add(rule)
        seen = set().union(*(one for one, _ in own)) - set().union(*(made for _, made in own))
        folders = {str(Path(name).parent) for name in inputs if Path(name).name in LAST_WRITTEN}
        lines += [
            f"{rule}: reads {name}, undeclared"
            for name in sorted(seen - set(inputs) - last_names(set().union(*(made for _, made in own))))
            if str(Path(name).parent) not in folders and not may_follow(rule, name)
        ]
        lines += [
            f"{rule}: declares {name}, unread"
            for name in sorted(set(inputs) - seen)
            if not may_read(name, seen)
        ]
    return lines + [f"{rule}: was not run" for rule in sorted(rules(top) - traced)]


def rules(top: Path) -> set[str]:
    """All rules of the rooms that run a step, but those that need not."""
    files = [path for room in ("params", "geometry", "analysis") for path in (top / room).rglob("rules.smk")]
    begin = re.compile(r"^(?=rule |checkpoint )", re.MULTILINE)
    named = re.compile(r"(?:rule|checkpoint) (\w+):.*python -m", re.DOTALL)
    found = [named.match(block) for path in files for block in begin.split(path.read_text())]
    return {one[1] for one in found if one} - set(NEED_NOT_RUN)


def may_follow(rule: str, name: str) -> bool:
    """Whether a rule's step may read an undeclared file."""
    return rule in MAY_FOLLOW and re.fullmatch(MAY_FOLLOW[rule][0], name) is not None


def may_read(name: str, seen: set[str]) -> bool:
    """Whether a declared file need not be opened: one of several, or the mark of a folder of which other files were read."""
    other = any(Path(one).parent == Path(name).parent for one in seen)
    return any(re.search(part, name) for part in MAY_READ) or (Path(name).name in LAST_WRITTEN and other)

"""Steps as processes of their own against forks of two processes with the libraries loaded: a main job from nothing, both ways.

`python -m tests.benchmarks.starts [ARM] [ROUNDS]` runs the main job of an arm in copies of the project, in turn, and prints seconds
by the clock and of processor time. The second way costs a `python` that hands its call to a process that is there already; it would
be worth its code if it saved a third. Compiled kernels are there in both; run it on a quiet machine, or trust processor time only.
"""

from __future__ import annotations

import importlib
import json
import os
import runpy
import select
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from pathlib import Path

from tests.whole.coarse import CODE, TOP

LIBRARIES = {  # what each process loads before its first step: CAD in the one of geometry only
    "geometry": "params.files.read cadquery gmsh meshio",
    "analysis": (
        "params.files.read numba scipy.special scipy.optimize scipy.spatial analysis.hand.checks analysis.pictures.sheet meshio"
        " analysis.elastic.solve matplotlib.backends.backend_agg pyvista.plotting rich.console typst"
    ),
}
CALLER = """#!{python} -SE
import json, os, socket, sys
place = os.path.dirname(__file__)
room = "geometry" if sys.argv[1:2] == ["-m"] and sys.argv[2].startswith("geometry.") else "analysis"
if sys.argv[1:2] != ["-m"]:
    os.execv({python!r}, [{python!r}, *sys.argv[1:]])
with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as door:
    door.connect(place + "/" + room)
    call = dict(command=sys.argv[2:], place=os.getcwd(), environment=dict(os.environ))
    socket.send_fds(door, [json.dumps(call).encode()], [0, 1, 2])
    sys.exit(int(door.recv(16) or b"1"))
"""


def serve(door: socket.socket, libraries: list[str]) -> None:
    """Fork a step for each call until standard input ends; wait for every fork, so that its time counts."""
    for library in libraries:
        importlib.import_module(library)
    while 0 not in (ready := select.select([door, 0], [], [], 1.0)[0]):
        with suppress(ChildProcessError):
            while os.waitpid(-1, os.WNOHANG)[0]:
                pass
        if ready:
            caller, _ = door.accept()
            if os.fork() == 0:
                door.close()
                step(caller)
            caller.close()
    with suppress(ChildProcessError):
        while os.wait():
            pass


def step(caller: socket.socket) -> None:
    """In a fork: the caller's files, folder and environment, its module run, its exit code sent."""
    text, files, _, _ = socket.recv_fds(caller, 1 << 20, 3)
    for number, file in enumerate(files):
        os.dup2(file, number)
    call, code = json.loads(text), 0
    os.chdir(call["place"])
    threads = call["environment"].pop(
        "NUMBA_NUM_THREADS", "1"
    )  # read when it was loaded; it takes no other number
    os.environ.update(call["environment"])
    if numba := sys.modules.get("numba"):
        numba.set_num_threads(min(int(threads), numba.config.NUMBA_NUM_THREADS))
    sys.argv = call["command"]
    try:
        runpy.run_module(sys.argv[0], run_name="__main__", alter_sys=True)
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1 if end.code else 0
        if isinstance(end.code, str):
            print(end.code, file=sys.stderr)
    except BaseException:
        sys.excepthook(*sys.exc_info())
        code = 1
    sys.stdout.flush()
    sys.stderr.flush()
    caller.send(str(code).encode())
    os._exit(code)


def doors(top: Path, folder: Path) -> list[subprocess.Popen[bytes]]:
    """The two processes, with the `python` that calls them in the folder."""
    caller = folder / "python"
    caller.write_text(CALLER.format(python=sys.executable))
    caller.chmod(0o755)
    begun = []
    for room, libraries in LIBRARIES.items():
        with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as door:
            door.bind(str(folder / room))
            door.listen(64)
            command = [
                sys.executable,
                "-m",
                "tests.benchmarks.starts",
                "--serve",
                str(door.fileno()),
                libraries,
            ]
            kept, surroundings = (
                [door.fileno()],
                os.environ | {"PYTHONPATH": f"{top}:{TOP}", "NUMBA_NUM_THREADS": "2"},
            )
            begun.append(
                subprocess.Popen(command, cwd=top, stdin=subprocess.PIPE, pass_fds=kept, env=surroundings)
            )
    return begun


def main_job(arm: str, forked: bool) -> tuple[float, float]:
    """Seconds by the clock and of processor time, the two processes' own start counted."""
    with tempfile.TemporaryDirectory() as name, tempfile.TemporaryDirectory() as place:
        top = Path(name)
        for part in CODE:
            source = TOP / part
            (shutil.copytree if source.is_dir() else shutil.copy2)(source, top / part)
        before, began = os.times(), time.monotonic()
        begun = doors(top, Path(place)) if forked else []
        path = f"{place}:{os.environ['PATH']}" if forked else os.environ["PATH"]
        command = [sys.executable, "-m", "snakemake", "--cores", "2", "--config", f"arm={arm}"]
        surroundings = os.environ | {"PYTHONPATH": str(top), "PATH": path}
        with (top / "said.txt").open("w") as said:
            run = subprocess.run(command, cwd=top, env=surroundings, stdout=said, stderr=said, check=False)
        for one in begun:
            one.communicate()
        if run.returncode:
            raise SystemExit((top / "said.txt").read_text()[-3000:])
        after = os.times()
        used = sum(after[2:4]) - sum(before[2:4])
        return time.monotonic() - began, used


def main(arm: str = "bench-lever", rounds: str = "2") -> None:
    ways = {"a process for each step": False, "forks of two processes": True}
    best: dict[str, tuple[float, float]] = {}
    for _ in range(int(rounds)):
        for way, forked in ways.items():
            took = main_job(arm, forked)
            best[way] = min(best.get(way, took), took, key=lambda one: one[1])
            print(f"{way}: {took[0]:.0f} s by the clock, {took[1]:.0f} s of processor time", flush=True)
    (plain, used), (forks, less) = best.values()
    print(f"{arm}, the round of least processor time of {rounds}: way, s by the clock, s of processor time")
    for way, (wall, cpu) in best.items():
        print(f"  {way:<24} {wall:6.0f} {cpu:6.0f}")
    print(
        f"  saved by forks           {1 - forks / plain:6.0%} {1 - less / used:6.0%}; worth its code from 33 %"
    )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--serve"]:
        serve(socket.socket(fileno=int(sys.argv[2])), sys.argv[3].split())
    else:
        main(*sys.argv[1:])

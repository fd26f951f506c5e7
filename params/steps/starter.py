"""Steps start as forks of processes that have loaded the libraries, since loading takes longer than most steps' work.

The Snakefile calls `begin()` when a run begins: one process for the steps of `geometry`, with CAD, and one for all others.
`params.steps.start` calls them.
"""

from __future__ import annotations

import atexit
import importlib
import json
import os
import runpy
import select
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import traceback
from contextlib import suppress

from params.steps.guard import one_line_errors
from params.steps.start import DOORS, NUMBER

LONGEST = 1 << 20  # bytes of a call: arguments and environment
# Of each process, what is loaded before its first step, and what between steps. No step itself: Python warns where a module
# that it is to run is loaded already.
LIBRARIES = {
    "geometry": ("params.files.read cadquery", ""),
    "analysis": (
        "params.files.read numba scipy.special scipy.optimize analysis.hand.checks",
        "analysis.pictures.sheet gmsh meshio scipy.spatial analysis.elastic.solve matplotlib.backends.backend_agg pyvista.plotting",
    ),
}
ONE_THREAD = {
    "OMP_NUM_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
    "MKL_NUM_THREADS": "1",
}  # as snakemake tells each job
THREADS = "NUMBA_NUM_THREADS"
_begun: list[subprocess.Popen[bytes]] = []


def begin(libraries: dict[str, tuple[str, str]] = LIBRARIES) -> None:
    """Start the processes, where they can be. They end with this one, whose end closes their standard input."""
    if sys.platform != "linux":
        return
    with suppress(OSError):  # no room for temporary files, or a path too long for a socket
        folder = tempfile.mkdtemp(prefix="starter-")  # for this user alone: what is called is run
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        os.environ[DOORS] = folder
        for room, (first, later) in libraries.items():
            with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as door:
                door.bind(f"{folder}/{room}")
                door.listen(64)
                command = [sys.executable, "-m", "params.steps.starter", str(door.fileno()), first, later]
                surroundings, kept = os.environ | ONE_THREAD, [door.fileno()]
                run = subprocess.Popen(
                    command, stdin=subprocess.PIPE, env=surroundings, pass_fds=kept, start_new_session=True
                )
            _begun.append(run)


def serve(door: socket.socket, first: list[str], later: list[str]) -> None:
    """Fork a step for each call; load libraries first, others while no call waits; end, with all forks, where standard input
    does."""
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # no fork is waited for
    for library in first:
        load(library)
    while 0 not in (ready := select.select([door, 0], [], [], 0 if later else None)[0]):
        if not ready:
            load(later.pop(0))
            continue
        caller, _ = door.accept()
        if os.fork() == 0:
            door.close()
            os._exit(step(caller))
        caller.close()
    shutil.rmtree(os.environ[DOORS], ignore_errors=True)
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    os.killpg(0, signal.SIGTERM)


def load(library: str) -> None:
    with suppress(ImportError):  # the step that needs it says what is wrong
        loaded = importlib.import_module(library)
        if library == "numba":
            loaded.njit(lambda: 0)()  # its compiler sets itself up at the first function


def step(caller: socket.socket) -> int:
    """In a fork: take on the caller's place, environment and files, run the module, tell and return its exit code."""
    text, files, _, _ = socket.recv_fds(caller, LONGEST, 3)
    call = json.loads(text)
    for number, file in enumerate(files):
        os.dup2(file, number)
        os.close(file)
    os.chdir(call["place"])
    own = {name: value for name, value in os.environ.items() if name == THREADS}
    os.environ.clear()
    os.environ.update(call["environment"])
    if "numba" in sys.modules and (wanted := os.environ.pop(THREADS, "")):
        os.environ.update(
            own
        )  # read when it was loaded; its compiler reads it again, and takes no other number
        most = sys.modules["numba"].config.NUMBA_NUM_THREADS
        sys.modules["numba"].set_num_threads(min(int(wanted), most))
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    caller.send(NUMBER.pack(os.getpid()))
    code = outcome(*call["command"])
    with suppress(OSError, ValueError):
        sys.stdout.flush()
        sys.stderr.flush()
    with suppress(OSError):
        caller.send(NUMBER.pack(code))
    return code


def outcome(module: str, *arguments: str) -> int:
    """Exit code of `python -m MODULE ARGUMENT...`, run here."""
    sys.argv = [module, *arguments]
    try:
        runpy.run_module(module, run_name="__main__", alter_sys=True)
    except SystemExit as end:
        if isinstance(end.code, int | None):
            return end.code or 0
        print(end.code, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 128 + signal.SIGINT
    except BaseException:
        traceback.print_exc()
        return 1
    return 0


if __name__ == "__main__":
    with one_line_errors():
        serve(socket.socket(fileno=int(sys.argv[1])), sys.argv[2].split(), sys.argv[3].split())

"""Steps start as forks of one process that has loaded the libraries, since loading them takes longer than most steps' work.

The Snakefile calls `begin()` when a run begins. `python -m params.starter -m MODULE ARGUMENT...` then is `python -m MODULE
ARGUMENT...`: the same module with the same arguments, place, environment, files and exit code. Where no such process answers
(a step by hand, another machine, a system other than Linux) the module runs right here.
"""

from __future__ import annotations

import importlib
import json
import os
import runpy
import select
import shutil
import signal
import socket
import struct
import subprocess
import sys
import tempfile
import traceback
from contextlib import suppress

from params.plainly import plainly

DOOR = "LEVERWRIGHT_STARTER"  # environment: the socket that the process listens at
LONGEST = 1 << 20  # bytes of a call: arguments and environment
NUMBER = struct.Struct("i")  # what a caller is told: the step's process, and its exit code
# No step itself: Python warns where a module that it is to run is loaded already.
FIRST = (
    "params.read",
    "cadquery",
    "scipy.special",
    "scipy.optimize",
    "numba",
    "analysis.checks",
)  # before any step
LATER = (
    "gmsh",
    "meshio",
    "scipy.spatial",
    "analysis.elastic.solve",
    "matplotlib.backends.backend_agg",
    "pyvista",
)  # between calls
ONE_THREAD = {
    "OMP_NUM_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
    "MKL_NUM_THREADS": "1",
}  # as snakemake tells each job
_begun: list[subprocess.Popen[bytes]] = []


def begin(first: tuple[str, ...] = FIRST, later: tuple[str, ...] = LATER) -> None:
    """Start the process. It ends with this one, whose end closes its standard input."""
    if sys.platform != "linux":
        return
    folder = tempfile.mkdtemp(prefix="starter-")  # for this user alone: what is called is run
    os.environ[DOOR] = f"{folder}/door"
    with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as door:
        door.bind(os.environ[DOOR])
        door.listen(64)
        command = [
            sys.executable,
            "-m",
            "params.starter",
            "serve",
            str(door.fileno()),
            folder,
            ",".join(first),
            ",".join(later),
        ]
        _begun.append(
            subprocess.Popen(
                command,
                stdin=subprocess.PIPE,
                env=os.environ | ONE_THREAD,
                pass_fds=[door.fileno()],
                start_new_session=True,
            )
        )


def serve(door: socket.socket, folder: str, first: list[str], later: list[str]) -> None:
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
    shutil.rmtree(folder, ignore_errors=True)
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
    os.environ.clear()
    os.environ.update(call["environment"])
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


def called(command: list[str]) -> int | None:
    """Exit code of the module, run by a fork; None where no process takes the call."""
    call = {"command": command, "place": os.getcwd(), "environment": dict(os.environ)}
    with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as line:
        try:
            line.connect(os.environ[DOOR])
            socket.send_fds(line, [json.dumps(call).encode()], [0, 1, 2])
            (fork,) = NUMBER.unpack(line.recv(NUMBER.size))
        except (KeyError, OSError, struct.error):
            return None
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, lambda got, _: os.kill(fork, got))
        told = line.recv(NUMBER.size)
    if told:
        return int(NUMBER.unpack(told)[0])
    print(f"{command[0]}: ended without an exit code: it was killed, or a library crashed", file=sys.stderr)
    return 1


def main(arguments: list[str]) -> int:
    match arguments:
        case ["serve", door, folder, *libraries]:
            first, later = ([name for name in part.split(",") if name] for part in libraries)
            serve(socket.socket(fileno=int(door)), folder, first, later)
            return 0
        case ["-m", module, *rest]:
            code = called([module, *rest])
            return outcome(module, *rest) if code is None else code
        case _:
            print("params.starter: give -m MODULE and its arguments", file=sys.stderr)
            return 1


if __name__ == "__main__":
    with plainly():
        sys.exit(main(sys.argv[1:]))

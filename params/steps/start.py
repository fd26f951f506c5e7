"""`python -m params.steps.start -m MODULE ARGUMENT...` is `python -m MODULE ARGUMENT...`, run by a fork of `params.steps.starter`.

The same module with the same arguments, place, environment, files and exit code. Where no process of `params.steps.starter` answers
(a step by hand, another machine, a system other than Linux) the module runs right here. Loads little: it is run for every step.
"""

import json
import os
import signal
import socket
import struct
import sys

DOORS = "LEVERWRIGHT_STARTER"  # environment: the folder with the sockets that the processes listen at
NUMBER = struct.Struct("i")  # what a caller gets: the step's process, and its exit code
FORWARDED = {signal.SIGINT, signal.SIGTERM, signal.SIGHUP}  # from a caller to its fork


def called(command: list[str]) -> int | None:
    """Exit code of the module, run by a fork; None where no process takes the call."""
    with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as line:
        signal.pthread_sigmask(
            signal.SIG_BLOCK, FORWARDED
        )  # none may come between the fork and its being forwarded
        try:
            fork = forked(line, command)
            for number in FORWARDED if fork else ():
                signal.signal(number, lambda got, _: os.kill(fork, got))
        finally:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, FORWARDED)
        if not fork:
            return None
        answer = line.recv(NUMBER.size)
    if answer:
        return int(NUMBER.unpack(answer)[0])
    print(f"{command[0]}: ended without an exit code: it was killed, or a library crashed", file=sys.stderr)
    return 1


def forked(line: socket.socket, command: list[str]) -> int:
    """Number of the process that runs the command; 0 where there is none."""
    room = "geometry" if command[0].startswith("geometry.") else "analysis"
    try:
        call = {"command": command, "place": os.getcwd(), "environment": dict(os.environ)}
        line.connect(f"{os.environ[DOORS]}/{room}")
        socket.send_fds(line, [json.dumps(call).encode()], [0, 1, 2])
        return int(NUMBER.unpack(line.recv(NUMBER.size))[0])
    except (KeyError, OSError, struct.error):
        return 0


def main(arguments: list[str]) -> int:
    match arguments:
        case ["-m", module, *rest]:
            code = called([module, *rest]) if sys.platform == "linux" else None
            if code is None:
                sys.stdout.flush()
                os.execv(sys.executable, [sys.executable, "-m", module, *rest])
            return code
        case _:
            print("params.steps.start: give -m MODULE and its arguments", file=sys.stderr)
            return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

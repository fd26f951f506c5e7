"""Steps as forks of one process: they do what `python -m` does, and nothing is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parents[2]
PLAIN = [sys.executable, "-m"]
FORKED = [sys.executable, "-m", "params.steps.start", "-m"]
BEGIN = """
import os, sys
from params.steps import start, starter
starter.begin({"analysis": ("csv numba analysis.elastic", "wave")})
print(os.environ[start.DOORS], flush=True)
sys.stdin.read()
"""
STEP = """
import os, signal, sys, time
print("out", os.getcwd(), os.environ["MARK"], sys.argv[1:], "csv" in sys.modules, __name__, flush=True)
print("err", file=sys.stderr)
what = sys.argv[1]
if what == "code":
    sys.exit(3)
if what == "said":
    sys.exit("a word")
if what == "raised":
    raise ValueError("a fault")
if what == "crash":
    os.kill(os.getpid(), signal.SIGSEGV)
if what == "compile":
    import numba
    made = numba.njit(parallel=True)(lambda: sum([1 for _ in numba.prange(3)]))()
    print(numba.get_num_threads(), made, numba.config.SLP_VECTORIZE)
if what == "wait":
    time.sleep(60)
"""
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="steps are forked on Linux alone")


@pytest.fixture
def surroundings(tmp_path: Path):
    """A process begun by another one, and the environment that leads to it, with a step of its own."""
    (tmp_path / "own_step.py").write_text(STEP)
    message = os.environ | {"PYTHONPATH": f"{HERE}:{tmp_path}", "MARK": "as the caller has it"}
    run = subprocess.Popen(
        [sys.executable, "-c", BEGIN],
        env=message | {"MARK": "not this one"},
        text=True,
        cwd=HERE,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    assert run.stdout and run.stdin
    yield message | {"LEVERWRIGHT_STARTER": run.stdout.readline().strip()}
    run.stdin.close()
    assert run.wait(10) == 0


def ran(
    start: list[str], what: str, surroundings: dict[str, str], place: Path
) -> subprocess.CompletedProcess[str]:
    command = [*start, "own_step", what, "a b"]
    return subprocess.run(
        command, env=surroundings, cwd=place, capture_output=True, text=True, check=False, timeout=30
    )


@pytest.mark.parametrize("what", ["nothing", "code", "said", "raised"])
def test_a_fork_does_what_python_does(what: str, surroundings: dict[str, str], tmp_path: Path) -> None:
    plain, forked = (ran(start, what, surroundings, tmp_path) for start in (PLAIN, FORKED))
    assert forked.returncode == plain.returncode
    # The fork has what the process had loaded, and is in all else the same.
    assert plain.stdout == f"out {tmp_path} as the caller has it ['{what}', 'a b'] False __main__\n"
    assert forked.stdout == plain.stdout.replace("False", "True")
    assert forked.stderr.splitlines()[-1] == plain.stderr.splitlines()[-1]


def test_where_no_process_answers_the_module_runs_here(surroundings: dict[str, str], tmp_path: Path) -> None:
    alone = surroundings | {"LEVERWRIGHT_STARTER": str(tmp_path / "nothing")}
    message = ran(FORKED, "code", alone, tmp_path)
    assert (message.returncode, "False __main__" in message.stdout) == (3, True)


def test_a_crash_is_told(surroundings: dict[str, str], tmp_path: Path) -> None:
    message = ran(FORKED, "crash", surroundings, tmp_path)
    assert message.returncode == 1
    assert message.stderr.splitlines()[-1].startswith("own_step: ended without an exit code")
    assert ran(FORKED, "code", surroundings, tmp_path).returncode == 3  # and the process goes on


def test_an_interrupt_ends_the_step(surroundings: dict[str, str], tmp_path: Path) -> None:
    with subprocess.Popen(
        [*FORKED, "own_step", "wait"],
        env=surroundings,
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    ) as caller:
        assert caller.stdout
        caller.stdout.readline()  # the step is there
        caller.send_signal(signal.SIGINT)
        assert caller.wait(10) == 128 + signal.SIGINT
        assert caller.stdout.read() == b""  # closed: no fork holds it any more


def test_nothing_is_left_when_the_run_ends(tmp_path: Path) -> None:
    (tmp_path / "own_step.py").write_text(STEP)
    message = os.environ | {"PYTHONPATH": f"{HERE}:{tmp_path}", "MARK": ""}
    run = subprocess.Popen(
        [sys.executable, "-c", BEGIN],
        env=message,
        text=True,
        cwd=HERE,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    assert run.stdout
    doors = Path(run.stdout.readline().strip())
    with subprocess.Popen(
        [*FORKED, "own_step", "wait"],
        env=message | {"LEVERWRIGHT_STARTER": str(doors)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as caller:
        assert caller.stdout
        caller.stdout.readline()
        run.kill()  # without a chance to tell anybody
        _, said = caller.communicate(timeout=10)
    assert "ended without an exit code" in said
    late = time.monotonic() + 10.0
    while doors.exists() and time.monotonic() < late:
        time.sleep(0.05)
    assert not doors.exists()


@pytest.mark.parametrize(("kind", "ends"), [("solid", 1), ("i", 0)])
def test_a_step_that_fails_stops_the_run(kind: str, ends: int, tmp_path: Path) -> None:
    """Through `tee`, on the real Snakefile: a bar has no flanges, so its file is refused."""
    arms = tmp_path / "params" / "arms"
    arms.mkdir(parents=True)
    text = (HERE / "params" / "arms" / "bench-lever.yaml").read_text()
    (arms / "bench-lever.yaml").write_text(text.replace("    kind: i\n", f"    kind: {kind}\n"))
    run = subprocess.run(
        [
            sys.executable,
            "-m",
            "snakemake",
            "-s",
            str(HERE / "Snakefile"),
            "--directory",
            str(tmp_path),
            "--cores",
            "1",
            "--config",
            "arm=bench-lever",
            "--",
            "results/bench-lever/as-written/arm.yaml",
        ],
        env=os.environ
        | {"PYTHONPATH": str(HERE), "PATH": f"{Path(sys.executable).parent}:{os.environ['PATH']}"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == ends, run.stderr
    log = (tmp_path / "results/bench-lever/as-written/log/check.txt").read_text()
    assert ("section.flange_thickness" in log) == bool(ends)


def test_a_fork_compiles_with_the_threads_it_was_given(surroundings: dict[str, str], tmp_path: Path) -> None:
    """The library knows the machine's number from its start; a first run compiles its kernels with fewer.

    It would read all its settings anew where one changed, and forget that kernels are packed (`analysis.elastic`): 3 to 8 times
    slower ones would stay in the cache."""
    message = ran(FORKED, "compile", surroundings | {"NUMBA_NUM_THREADS": "1"}, tmp_path)
    assert (message.returncode, message.stdout.splitlines()[-1]) == (0, "1 3 1"), message.stderr


def test_the_call_itself_says_what_is_missing() -> None:
    message = subprocess.run(
        PLAIN + ["params.steps.start"], cwd=HERE, capture_output=True, text=True, check=False
    )
    assert (message.returncode, message.stderr) == (
        1,
        "params.steps.start: give -m MODULE and its arguments\n",
    )

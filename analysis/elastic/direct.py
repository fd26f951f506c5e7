"""Sparse Cholesky by a packaged library: PARDISO (MKL) where present, else CHOLMOD. The only module that knows either.

`LEVERWRIGHT_DIRECT=mkl` or `cholmod` chooses; a call may choose too. Results are reproducible bit by bit where MKL is set so
before it is loaded, which `_mkl` does. MKL's threads must not spin after a solve, beside numba's: that cost half the time.
"""

from __future__ import annotations

import ctypes
import importlib.util
import os
import sys
from functools import cache
from pathlib import Path
from typing import Any, Protocol

import numpy as np
from numba import njit
from numpy.typing import NDArray

from analysis.elastic.assembly import Stiffness

CHOICE = "LEVERWRIGHT_DIRECT"


class NotPositiveDefinite(Exception):  # noqa: N818 - the property of the matrix that is missing
    """The factorisation met a pivot that is not positive at scalar row `row` (-1 where the library does not say)."""

    def __init__(self, row: int) -> None:
        self.row = row
        super().__init__(f"not positive definite at row {row}")


class Factor(Protocol):
    """A factored matrix."""

    name: str
    bytes: int  # of the factor, 0 where the library does not say

    def solve(self, right: NDArray[np.floating]) -> NDArray[np.floating]:
        """Solution (n, k) for right sides (n, k)."""
        ...

    def free(self) -> None:
        """Give the memory back."""
        ...


def available() -> list[str]:
    """Names of the libraries that can be loaded here, best first."""
    packages = (("mkl", "pypardiso"), ("cholmod", "cvxopt"))
    return [
        name for name, package in packages if importlib.util.find_spec(package) and (name != "mkl" or _mkl())
    ]


def factor(
    matrix: Stiffness, fixed: NDArray[np.int64], single: bool = False, choice: str | None = None
) -> Factor:
    """Factor the stiffness with the scalar unknowns `fixed` held at zero.

    single: factor in single precision where the library can (for a preconditioner).

    Raises
    ------
    NotPositiveDefinite
        where a pivot is not positive.
    """
    name = choice or os.environ.get(CHOICE) or available()[0]
    if name not in ("mkl", "cholmod"):
        raise ValueError(f"{CHOICE}: {name!r} is not a solver; mkl or cholmod is")
    rows = 3 * matrix.pattern.rows
    free = np.ones(rows, dtype=bool)
    free[fixed] = False
    upper = _upper(matrix.pattern.start, matrix.pattern.columns, matrix.blocks, free)
    return _Pardiso(*upper, single) if name == "mkl" else _Cholmod(*upper)


@njit(cache=True)
def _upper(start, columns, blocks, free):  # noqa: C901 - counted, then filled: twice the same loop nest
    """Upper triangle, compressed rows, ascending; a held unknown has its diagonal only."""
    nodes = len(start) - 1
    begin = np.zeros(3 * nodes + 1, dtype=np.int32)
    for i in range(nodes):
        for a in range(3):
            count = 0
            for p in range(start[i], start[i + 1]):
                for b in range(3):
                    row, column = 3 * i + a, 3 * columns[p] + b
                    if column == row or (column > row and free[row] and free[column]):
                        count += 1
            begin[3 * i + a + 1] = begin[3 * i + a] + count
    index = np.empty(begin[-1], dtype=np.int32)
    value = np.empty(begin[-1])
    for i in range(nodes):
        for a in range(3):
            at = begin[3 * i + a]
            for p in range(start[i], start[i + 1]):
                for b in range(3):
                    row, column = 3 * i + a, 3 * columns[p] + b
                    if column == row or (column > row and free[row] and free[column]):
                        index[at] = column
                        value[at] = blocks[p, a, b]
                        at += 1
    return begin, index, value


@cache
def _mkl() -> Any:
    """The library's entry, or None where it cannot be loaded."""
    if importlib.util.find_spec("pypardiso") is None:
        return None
    os.environ.setdefault("KMP_BLOCKTIME", "0")
    os.environ.setdefault("MKL_CBWR", "AVX2")
    # Named here, because the wrapper would otherwise search the whole environment for it.
    here = sorted(Path(sys.prefix, "lib").glob("libmkl_rt.*"))
    if here:
        os.environ.setdefault("PYPARDISO_MKL_RT", str(here[0]))
    try:
        from pypardiso.pardiso_wrapper import PyPardisoSolver

        return PyPardisoSolver(mtype=2)._mkl_pardiso
    except (ImportError, OSError):
        return None


class _Pardiso:
    """Symmetric positive definite, called without copies; the wrapper hashes and copies the matrix at each call."""

    name = "PARDISO"

    def __init__(self, begin: np.ndarray, index: np.ndarray, value: np.ndarray, single: bool) -> None:
        self.kind = np.float32 if single else np.float64
        self.begin, self.index, self.value = begin, index, value.astype(self.kind, copy=False)
        self.handle = np.zeros(64, dtype=np.int64)
        self.settings = np.zeros(64, dtype=np.int32)
        for number, setting in ((1, 1), (2, 2), (18, -1), (28, int(single)), (34, _threads()), (35, 1)):
            self.settings[number - 1] = setting
        nothing = np.zeros((1, 1), dtype=self.kind)
        self._call(12, nothing, nothing, 1)
        self.bytes = int(self.settings[16]) * 1024

    def solve(self, right: NDArray[np.floating]) -> NDArray[np.floating]:
        # PARDISO wants one right side after the other
        columns = np.ascontiguousarray(right.T, dtype=self.kind)
        solution = np.empty_like(columns)
        self._call(33, columns, solution, len(columns))
        return solution.T

    def free(self) -> None:
        if self.handle.any():
            nothing = np.zeros((1, 1), dtype=self.kind)
            self._call(-1, nothing, nothing, 1)
            self.handle[:] = 0

    def __del__(self) -> None:
        if not sys.is_finalizing():
            self.free()

    def _call(self, phase: int, right: np.ndarray, solution: np.ndarray, count: int) -> None:
        def integer(value: int) -> Any:
            return ctypes.byref(ctypes.c_int32(value))

        def integers(array: np.ndarray) -> Any:
            return array.ctypes.data_as(ctypes.POINTER(ctypes.c_int32))

        def data(array: np.ndarray) -> Any:
            return array.ctypes.data_as(ctypes.c_void_p)

        error = ctypes.c_int32(0)
        _mkl()(
            self.handle.ctypes.data_as(ctypes.POINTER(ctypes.c_int64)),
            integer(1),
            integer(1),
            integer(2),
            integer(phase),
            integer(len(self.begin) - 1),
            data(self.value),
            integers(self.begin),
            integers(self.index),
            integers(self.begin),
            integer(count),
            integers(self.settings),
            integer(0),
            data(right),
            data(solution),
            ctypes.byref(error),
        )
        if error.value in (-4, -7):
            raise NotPositiveDefinite(int(self.settings[29]) - 1)
        if error.value == -2:
            raise MemoryError("PARDISO: not enough memory")
        if error.value:
            raise RuntimeError(f"PARDISO: error {error.value} in phase {phase}")


def _threads() -> int:
    return int(os.environ.get("MKL_NUM_THREADS", "0")) or len(os.sched_getaffinity(0))


class _Cholmod:
    """CHOLMOD as cvxopt carries it; the upper triangle by rows is the lower triangle by columns."""

    name = "CHOLMOD"
    bytes = 0

    def __init__(self, begin: np.ndarray, index: np.ndarray, value: np.ndarray) -> None:
        import cvxopt
        from cvxopt import cholmod

        self.matrix, self.cholmod = cvxopt.matrix, cholmod
        cholmod.options["supernodal"] = 2
        columns = np.repeat(np.arange(len(begin) - 1, dtype=np.int64), np.diff(begin))
        wanted = cvxopt.spmatrix(
            cvxopt.matrix(value), cvxopt.matrix(index.astype(np.int64)), cvxopt.matrix(columns)
        )
        self.order = cholmod.symbolic(wanted, uplo="L")
        try:
            cholmod.numeric(wanted, self.order)
        except ArithmeticError as error:
            raise NotPositiveDefinite(int(error.args[0]) if error.args else -1) from error

    def solve(self, right: NDArray[np.floating]) -> NDArray[np.floating]:
        solution = self.matrix(np.asfortranarray(right, dtype=np.float64))
        self.cholmod.solve(self.order, solution)
        return np.array(solution)

    def free(self) -> None:
        self.order = None

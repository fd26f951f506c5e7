"""What a step wrote is read back as it was written, or the reader says in one line what has become of it."""

from __future__ import annotations

import hashlib
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from analysis.tables.files import read_csv, write_csv, write_json
from geometry.meshfile import MeshArrays, read_vtu, write_vtu
from params.steps import sealed
from params.steps.contract import Contract, read_model
from params.steps.problems import Unfit
from params.steps.results import read_json

ROWS = [{"a": number, "b": "text"} for number in range(6)]


@pytest.fixture
def table(tmp_path: Path) -> Path:
    write_csv(tmp_path / "t.csv", ("a", "b"), ROWS)
    return tmp_path / "t.csv"


def test_seal_is_what_another_program_counts(table: Path) -> None:
    content = table.read_bytes()  # hashlib is the same library, coreutils are not
    said = subprocess.run(
        ["sha256sum", str(table)], capture_output=True, text=True, check=True
    ).stdout.split()[0]
    assert sealed.seal(table).read_text() == f"{said} {len(content)} 7\n"
    assert said == hashlib.sha256(content).hexdigest()


def test_table_cut_at_a_row(table: Path) -> None:
    lines = table.read_text().splitlines(keepends=True)
    table.write_text("".join(lines[:2]))
    with pytest.raises(Unfit, match=r"t\.csv: is not as its step wrote it, 2 lines in place of 7"):
        read_csv(table)


def test_empty_table(table: Path) -> None:
    table.write_text("")
    with pytest.raises(Unfit, match="0 lines in place of 7"):
        read_csv(table)


def test_other_content_of_the_same_length(table: Path) -> None:
    table.write_bytes(b"\0" * table.stat().st_size)
    with pytest.raises(Unfit, match="bytes of other content"):
        read_csv(table)


def test_whole_table_without_seal_is_read(table: Path) -> None:
    shutil.rmtree(table.parent / sealed.SEALS)
    assert len(read_csv(table)) == len(ROWS)


def test_damaged_seal_is_named(table: Path) -> None:
    sealed.seal(table).write_text("?")
    with pytest.raises(Unfit, match="is not the seal of a file"):
        read_csv(table)


class Small(Contract):
    a: int


def test_json_and_models(tmp_path: Path) -> None:
    path = tmp_path / "s.json"
    write_json(path, {"a": 1})
    assert read_json(path)["a"] == read_model(path, Small).a == 1
    path.write_text(path.read_text().replace("1", "2"))
    for read in (read_json, lambda one: read_model(one, Small)):
        with pytest.raises(Unfit, match="bytes of other content"):
            read(path)


def test_fields_of_a_mesh(tmp_path: Path) -> None:
    corners = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], float)
    ends = np.array([(0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3)])
    points = np.vstack([corners, corners[ends].mean(axis=1)])
    path = tmp_path / "f.vtu"
    write_vtu(path, MeshArrays(points, np.arange(10)[None], {}), {"u": points[:, 0]}, {})
    assert np.allclose(read_vtu(path, ["u"])[1][0], points[:, 0])
    path.write_bytes(path.read_bytes()[:-40])
    with pytest.raises(Unfit, match="is not as its step wrote it"):
        read_vtu(path, ["u"])


def test_a_failed_write_leaves_the_former_file(table: Path) -> None:
    before = table.read_bytes()
    with pytest.raises(KeyError):
        write_csv(table, ("a",), ROWS)
    assert table.read_bytes() == before
    assert len(read_csv(table)) == len(ROWS)
    assert {path.name for path in table.parent.iterdir()} == {"t.csv", sealed.SEALS}


LIMITED = """
import sys; from pathlib import Path
from analysis.tables.files import write_csv
write_csv(Path(sys.argv[1]), ("a",), ({"a": "x" * 100} for _ in range(1000)))
"""


def test_no_room_left_is_an_error_and_leaves_nothing(tmp_path: Path) -> None:
    """A file size limit stands for a full disk: the write fails after 4,096 bytes."""
    limited = subprocess.run(
        [sys.executable, "-c", LIMITED, str(tmp_path / "t.csv")],
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096)),
        capture_output=True,
        text=True,
        check=False,
    )
    assert limited.returncode != 0
    assert "File too large" in limited.stderr
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []

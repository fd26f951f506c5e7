"""Pictures of the bores where a table has only its heading: allowed where the arm's file says nothing for it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from analysis.pictures.bores import draw
from params.steps.problems import Unfit
from tests.arms import ARMS


def folder(root: Path, table: str, heading: str, **sections: Any) -> Path:
    """An arm's folder with one table of the bores, which holds nothing but its heading."""
    data = yaml.safe_load((ARMS / "bench-lever.yaml").read_text())
    data |= sections
    (root / "arm.yaml").write_text(yaml.safe_dump(data))
    (root / "bores").mkdir()
    (root / "bores" / f"{table}.csv").write_text(heading)
    for name in ("growth", "survival") if table == "cracks" else ():
        (root / "bores" / f"{name}.csv").write_text("crack,size,years,value,date\n")
    return root


@pytest.mark.parametrize("table", ["around", "materials", "cracks", "inspection"])
def test_a_heading_without_rows_is_named(tmp_path: Path, table: str) -> None:
    with pytest.raises(Unfit, match="below its heading") as error:
        draw(folder(tmp_path, table, "arm,material,region\n"))
    assert str(error.value).startswith(str(tmp_path / "bores" / f"{table}.csv"))


def test_no_found_cracks_is_a_picture_that_says_so(tmp_path: Path) -> None:
    (result,) = draw(folder(tmp_path, "cracks", "crack,years\n", found_cracks=[]))
    assert result.name == "cracks.png"
    assert result.read_bytes().startswith(b"\x89PNG")

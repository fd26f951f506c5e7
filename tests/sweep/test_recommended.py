"""Lives of the recommended design: a table without rows where there is none, or where the file says nothing of bores."""

from analysis.contracts.recommended import Recommended
from analysis.fatigue.table import COLUMNS
from analysis.sweep.recommended_life import main
from analysis.tables.files import read_csv, write_json
from tests.arms import ARMS
from tests.record.standin import without


def heads(folder):
    return (folder / "sweep" / "life.csv").read_text().strip().split(",")


def test_no_recommendation_no_rows(tmp_path):
    write_json(tmp_path / "sweep" / "recommended.json", {"id": None, "reason": "none holds"})
    main(tmp_path)
    assert heads(tmp_path) == [*COLUMNS, "caution"] and read_csv(tmp_path / "sweep" / "life.csv") == []


def test_a_file_without_bores_has_no_lives(tmp_path):
    place = tmp_path / "designs" / "d000001"
    place.mkdir(parents=True)
    lines = without((ARMS / "bench-lever.yaml").read_text().splitlines(), ("bores", "found_cracks", "cracks"))
    (place / "arm.yaml").write_text("\n".join(lines) + "\n")
    best = Recommended(
        id="d000001",
        mass_kg=1.0,
        saved_kg=0.0,
        saved_percent=0.0,
        hand_margin=0.1,
        hand_governing="",
        mesh_margin=0.1,
        mesh_governing="",
        sizes_mm={},
        explain=(),
    )
    write_json(tmp_path / "sweep" / "recommended.json", best)
    main(tmp_path)
    assert read_csv(tmp_path / "sweep" / "life.csv") == [] and not (place / "bores").exists()

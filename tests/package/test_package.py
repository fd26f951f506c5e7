"""The package: made twice the same, taken apart again, and every kind of damage told."""

import hashlib
import json
import re
import shutil
import xml.etree.ElementTree as ET
import zipfile
from functools import cache

import numpy as np
import pytest

from analysis.package import archive, verify
from analysis.package.__main__ import main
from analysis.package.package import MANIFEST, SOLID, Missing, manifest, pack, pieces
from analysis.package.revision import PARAMETERS
from geometry.step import read_step
from tests.arms import ARMS, demo
from tests.package.made import issue

OUTSIDE = [
    "../evil",
    "/evil",
    "solid/../../evil",
    "a\\..\\evil",
    "C:evil",
    "solid//evil",
    "x/./y",
    ".hidden",
    "a/b/c/d/e/f",
]


@pytest.fixture(scope="module")
def package(tmp_path_factory):
    folder = tmp_path_factory.mktemp("one")
    return issue(folder / "work", folder / "issued")


WHOLE = ("test_it_holds_and_every_entry_is_listed", "test_a_solid_that_is_not_the_parameter_files")


regenerated = cache(verify.regenerated)


@pytest.fixture(autouse=True)
def what_it_is_made_from(request, monkeypatch):
    """Plates, pattern and pieces are made again only where a whole package is looked at, and in test_made_again; the solid is made
    again once for the same bytes of file and STEP: the CAD is slow."""
    monkeypatch.setattr(verify, "regenerated", regenerated)
    if request.node.name not in WHOLE:
        monkeypatch.setattr(verify, "blank_findings", lambda entries: [])


def remade(package, target, change):
    """The package with its entries changed by a function, hashes left as they are."""
    with zipfile.ZipFile(package) as file:
        entries = {info.filename: file.read(info) for info in file.infolist()}
    change(entries)
    with zipfile.ZipFile(target, "w") as result:
        for name, data in entries.items():
            result.writestr(zipfile.ZipInfo(name), data)
    return target


def faults(path):
    return [finding.text for finding in verify.verified(path) if not finding.good]


def test_made_twice_in_different_places_it_has_the_same_bytes(package, tmp_path):
    again = issue(tmp_path / "elsewhere" / "work", tmp_path / "elsewhere" / "issued")
    assert again.read_bytes() == package.read_bytes()


def test_it_holds_and_every_entry_is_listed(package, capsys):
    assert main(["verify", str(package)]) == 0
    assert "not a release" in capsys.readouterr().out
    with zipfile.ZipFile(package) as file:
        assert file.testzip() is None
        names = set(file.namelist())
    assert {MANIFEST, SOLID, PARAMETERS, "requirements/requirements.pdf", "display/model.3mf"} <= names
    assert any(name.endswith(".dxf") for name in names)


def test_it_holds_its_material_and_says_from_what_it_was_made(package):
    """The material file byte by byte; the manifest's origin has the SHA-256 of the parameter file that is in it."""
    with zipfile.ZipFile(package) as file:
        made = json.loads(file.read(MANIFEST))
        material, parameters = file.read("parameters/material/a572-50.yaml"), file.read(PARAMETERS)
    assert material == (ARMS.parent / "materials" / "a572-50.yaml").read_bytes()
    assert "parameters/material/a572-50.yaml" in made["files"]
    assert made["origin"]["arm"] == hashlib.sha256(parameters).hexdigest()
    assert re.fullmatch(r"[0-9a-f]{64}", made["origin"]["program"])


def test_what_stays_with_the_owner_is_not_in_it(package, tmp_path):
    """No price, no penalty, no day of the outage or of its order: words and dates of the demo's own route and outage files."""
    outage = (ARMS.parent / "outages" / "late-autumn.yaml").read_text()
    days = re.findall(r"^(?:order|opens|closes): (\S+)", outage, re.MULTILINE)
    assert len(days) == 3
    with zipfile.ZipFile(package) as file:
        texts = {
            name: file.read(name).decode(errors="replace")
            for name in file.namelist()
            if name.endswith((".yaml", ".json", ".csv"))
        }
    assert "parameters/route/welded.yaml" in texts
    for name, text in texts.items():
        found = re.findall(r"\b(?:EUR|USD|lateness|per_day|per_kg|tasks|likely)\b", text)
        assert (name, found, [day for day in days if day in text]) == (name, [], [])


def test_a_route_file_with_prices_is_told(package, tmp_path):
    """The owner's whole file put in by hand, the manifest made anew."""
    name = "parameters/route/welded.yaml"

    def change(entries):
        entries[name] = (ARMS.parent / "routes" / "welded.yaml").read_bytes()
        listed = json.loads(entries[MANIFEST])
        listed["files"][name]["sha256"] = hashlib.sha256(entries[name]).hexdigest()
        entries[MANIFEST] = json.dumps(listed).encode()

    (line,) = faults(remade(package, tmp_path / "a.zip", change))
    own = "materials, calendars, causes, tasks, cost, lateness"
    assert line == f"{name}: holds what stays with the owner: {own}"


def test_number_and_day_of_issue_stand_in_the_manifest(package):
    with zipfile.ZipFile(package) as file:
        made = json.loads(file.read(MANIFEST))
    assert (made["number"], made["revision"], made["issued"]) == ("bench-lever", "A", None)
    assert made["revisions"] == []
    row = {"revision": "A", "date": "2026-06-15", "reason": "First"}
    arm = demo("linkspan-rocker")
    facts = {
        "drawing": arm.drawing.model_dump(mode="json"),
        "number": "LR-100",
        "route": {"name": "deposited"},
        "design": "",
        "mass_kg": 1.0,
        "changes": None,
        "revisions": [row],
    }
    listed = manifest(arm, facts, {}, {})
    assert (listed["number"], listed["revision"], listed["issued"]) == ("LR-100", "A", "2026-06-15")
    assert listed["revisions"] == [row]
    assert (listed["route"], listed["design"], listed["material"]) == ("deposited", "as written", "er100s-1")


def test_step_inside_is_read_again_with_its_named_bores(package, tmp_path):
    with zipfile.ZipFile(package) as file:
        (tmp_path / "a.step").write_bytes(file.read(SOLID))
    text = (tmp_path / "a.step").read_text()
    assert "AP242" in text and all(f"'{name}_bore'" in text for name in ("pivot", "input", "output"))
    bore = demo("bench-lever").geometry.pivot
    radii = [face.radius() for face in read_step(tmp_path / "a.step").Edges() if face.geomType() == "CIRCLE"]
    assert min(abs(radius - bore.bore / 2.0) for radius in radii) < 1e-6


def test_corrupted_entry(package, tmp_path):
    raw = bytearray(package.read_bytes())
    place = raw.find(b"ISO-10303-21")
    raw[place + 5000] ^= 0x01
    (tmp_path / "a.zip").write_bytes(raw)
    assert any(text.startswith(f"{SOLID}: is corrupted") for text in faults(tmp_path / "a.zip"))


def test_changed_entry_with_a_good_checksum(package, tmp_path):
    def change(entries):
        entries["drawing/general-arrangement.dxf"] += b"\n"

    path = remade(package, tmp_path / "a.zip", change)
    assert faults(path) == [
        "drawing/general-arrangement.dxf: its SHA-256 differs from the one in the manifest"
    ]


def test_truncated_file(package, tmp_path):
    raw = package.read_bytes()
    for share in (0.0, 0.01, 0.5, 0.999):
        (tmp_path / "a.zip").write_bytes(raw[: int(share * len(raw))])
        (lines,) = faults(tmp_path / "a.zip")
        assert "cannot be read as a zip" in lines


def test_bytes_behind_the_end(package, tmp_path):
    (tmp_path / "a.zip").write_bytes(package.read_bytes() + b"MZ and more")
    assert faults(tmp_path / "a.zip") == ["a.zip: there are bytes after the end of the zip"]


def test_renamed_missing_and_added_entries(package, tmp_path):
    def rename(entries):
        entries["solid/part.step"] = entries.pop(SOLID)

    lines = faults(remade(package, tmp_path / "a.zip", rename))
    assert f"{SOLID}: is missing; a file with its content is there as solid/part.step" in lines
    assert "solid/part.step: is not in the manifest" in lines
    lines = faults(remade(package, tmp_path / "b.zip", lambda entries: entries.pop(MANIFEST)))
    assert any("so no file can be checked against its " in text for text in lines)


@pytest.mark.parametrize("name", OUTSIDE)
def test_names_that_lead_out_of_the_folder(tmp_path, name):
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as file:
        file.writestr(zipfile.ZipInfo(name), b"x")
        file.writestr("good.txt", b"y")
    entries, lines = archive.read(tmp_path / "a.zip")
    assert set(entries) == {"good.txt"}
    assert len(lines) == 1 and "its name points outside the folder" in lines[0]
    with pytest.raises(ValueError, match="points outside"):
        archive.write({name: b"x"}, tmp_path / "b.zip")


def test_an_escaping_entry_makes_the_package_fail_and_writes_nothing(package, tmp_path):
    path = remade(package, tmp_path / "a.zip", lambda entries: entries.update({"../evil": b"x"}))
    assert faults(path) == [
        "'../evil': its name points outside the folder or has characters that are not allowed"
    ]
    assert sorted(item.name for item in tmp_path.iterdir()) == ["a.zip"]


def test_links_and_doubles_are_refused(package, tmp_path):
    shutil.copy(package, tmp_path / "a.zip")
    with zipfile.ZipFile(tmp_path / "a.zip", "a") as file:
        link = zipfile.ZipInfo("solid/link")
        link.external_attr = 0o120777 << 16
        file.writestr(link, "/etc/passwd")
        with pytest.warns(UserWarning, match="Duplicate"):
            file.writestr(SOLID, b"other")
    lines = faults(tmp_path / "a.zip")
    assert "'solid/link': is a link or a device, not a file" in lines
    assert f"'{SOLID}': occurs 2 times" in lines


def test_a_solid_that_is_not_the_parameter_files(package, tmp_path):
    """The manifest made anew for another bore: only the solid's comparison can tell."""

    def change(entries):
        text = (
            entries[PARAMETERS]
            .decode()
            .replace("bore: 40 mm", "bore: 41 mm")
            .replace("diameter: 39.9 mm", "diameter: 40.9 mm")
        )
        entries[PARAMETERS] = text.encode()
        listed = json.loads(entries[MANIFEST])
        listed["files"][PARAMETERS]["sha256"] = hashlib.sha256(entries[PARAMETERS]).hexdigest()
        entries[MANIFEST] = json.dumps(listed).encode()

    lines = faults(remade(package, tmp_path / "a.zip", change))
    assert lines and all(
        text.startswith(("solid:", "volume:", "area:", "pivot_", "outside:", "plate hub:")) for text in lines
    )


def test_a_package_whose_manifest_leaves_out_what_it_must_have(package, tmp_path):
    """Solid or sheets taken out of the zip and of its manifest: every hash agrees, and the package holds no part."""
    gone = (SOLID, "requirements/requirements.pdf")

    def change(entries):
        listed = json.loads(entries[MANIFEST])
        for name in gone:
            del entries[name], listed["files"][name]
        entries[MANIFEST] = json.dumps(listed).encode()

    lines = faults(remade(package, tmp_path / "a.zip", change))
    assert lines == [f"{name}: is missing; every package must have it" for name in gone]


def test_too_much(tmp_path):
    with zipfile.ZipFile(tmp_path / "a.zip", "w", zipfile.ZIP_DEFLATED) as file:
        for number in range(archive.MOST_ENTRIES + 1):
            file.writestr(f"f{number}", b"")
    (lines,) = faults(tmp_path / "a.zip")
    assert "is too large" in lines


def test_an_entry_that_is_not_there_is_named(tmp_path):
    shutil.copy(ARMS / "bench-lever.yaml", tmp_path / "arm.yaml")
    with pytest.raises(Missing, match=r"facts\.json: is missing"):
        pack(demo("bench-lever"), tmp_path / "arm.yaml", tmp_path, tmp_path / "a.zip")


def test_pieces_go_with_the_best_design_of_a_route_only(tmp_path):
    for folder in ("deposited/best", "deposited/pieces", "other"):
        (tmp_path / folder).mkdir(parents=True)
    for name in ("hub.step", "hub.stl", "near-net.step", "pieces.json"):
        (tmp_path / "deposited" / "pieces" / name).write_text(name)
    actual = pieces(tmp_path / "deposited" / "best" / "arm.yaml")
    assert set(actual) == {f"near-net/pieces/{name}" for name in ("hub.step", "pieces.json", "plan.json")}
    assert pieces(tmp_path / "other" / "arm.yaml") == {}


def test_display_model_is_closed_and_has_the_scaled_volume(package, tmp_path):
    with zipfile.ZipFile(package) as file:
        (tmp_path / "m.3mf").write_bytes(file.read("display/model.3mf"))
        (tmp_path / "a.step").write_bytes(file.read(SOLID))
    with zipfile.ZipFile(tmp_path / "m.3mf") as file:
        root = ET.fromstring(file.read("3D/3dmodel.model"))
    space = {"m": "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"}
    points = np.array([[float(v.get(k)) for k in "xyz"] for v in root.iterfind(".//m:vertex", space)])
    facets = np.array(
        [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in root.iterfind(".//m:triangle", space)]
    )
    sides = np.vstack([facets[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
    there, back = {tuple(side) for side in sides}, {tuple(side[::-1]) for side in sides}
    assert len(there) == len(sides) and there == back  # every edge once each way: closed, one way out
    a, b, c = points[facets].transpose(1, 0, 2)
    scale = demo("bench-lever").drawing.display_scale
    whole = read_step(tmp_path / "a.step").Volume() * scale**3
    assert np.sum(a * np.cross(b, c)) / 6.0 == pytest.approx(
        whole, rel=0.01
    )  # facets cut the curved faces off

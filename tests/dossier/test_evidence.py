"""Records in the dossier: printed with what they are about, photos with their captions, and what is missing said."""

from __future__ import annotations

import io
from collections import OrderedDict
from pathlib import Path

import pytest
from pypdf import PdfReader

from jointcalc.check import check
from jointcalc.dossier import Options, make_dossier, photos
from jointcalc.dossier.evidence import missing
from jointcalc.dossier.photos import photo_faults
from jointcalc.model.project import Project, load_project
from tests.dossier.conftest import plain, png
from tests.small_project import small_project

FILE = small_project({"S1": "floor", "S2": "floor"}, floor="DC04")
RECORDS = """
[[evidence]]
sort = "certificate"
sheets = ["floor"]
heat = "H-4711"
yield_strength = "130 MPa"
[[evidence]]
sort = "photo"
items = ["S1"]
title = "The lap before welding, from below"
file = "a.png"
[[evidence]]
sort = "coupons"
items = ["S1"]
welder = "initials"
machine = "the yard's"
settings = "9 kA, 12 cycles"
button = "5.6 5.8 mm"
passed = true
"""


def _project(folder: Path, text: str) -> Project:
    (folder / "a.png").write_bytes(png())
    (folder / "project.toml").write_text(text, encoding="utf-8")
    return load_project(folder)


def test_records_stand_with_their_items_and_a_low_certificate_on_page_one(tmp_path: Path) -> None:
    project = _project(tmp_path, FILE + RECORDS)
    results = [check(item) for item in project.items]
    reader = PdfReader(io.BytesIO(make_dossier(project, results, Options(steps="none"))))
    pages = [plain(page.extract_text()) for page in reader.pages]
    assert "2 hold; 1 STOP below" in pages[0]
    # EN 10130 gives DC04 no least yield strength: 140 MPa is assumed of it, and the certificate says less
    assert "STOP (S1, S2): The certificate heat H-4711 states fy = 130 MPa, below the 140 MPa of DC04" in pages[0]
    text = " ".join(pages)
    assert "The lap before welding, from below" in text
    assert "a.png" not in text.split("photo a.png")[0]
    assert "welder initials; machine the yard's; 9 kA, 12 cycles; buttons 5.6 mm, 5.8 mm; passed" in text
    assert sum(len(page.images) for page in reader.pages) == 1


def test_what_is_missing_is_said_and_no_more_than_that(tmp_path: Path) -> None:
    bare = _project(tmp_path, FILE)
    results = {item.id: check(item) for item in bare.items}
    told = missing(bare, bare.items, results, "metric")
    assert told == [
        "No mill certificate of sheet floor (governs in S1, S2).",
        "No coupons are recorded for S1, S2.",
        "Nothing says who welded S1, S2, with which machine and settings.",
        "No photo of any item.",
    ]
    full = _project(tmp_path, FILE + RECORDS)
    told = missing(full, full.items, {item.id: check(item) for item in full.items}, "metric")
    assert told == [
        "No coupons are recorded for S2.",
        "Nothing says who welded S2, with which machine and settings.",
        "No photo of S2.",
    ]


@pytest.mark.parametrize(("name", "why"), [("b.png", "no such file"), ("../a.png", "outside the project's folder")])
def test_a_file_that_is_not_there_is_a_fault(tmp_path: Path, name: str, why: str) -> None:
    folder = tmp_path / "p"
    folder.mkdir()
    project = _project(folder, FILE + RECORDS.replace("a.png", name))
    faults = photo_faults(project, project.items)
    assert len(faults) == 1
    assert why in str(faults[0])
    assert "evidence" in str(faults[0])


def test_photos_are_kept_up_to_a_size_and_made_anew_beyond_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for n in range(3):
        (tmp_path / f"{n}.png").write_bytes(png(8 + n, 6))
    project = _project(tmp_path, FILE)
    made: list[bytes] = []
    real = photos._made
    monkeypatch.setattr(photos, "_made", lambda data, sha: made.append(data) or real(data, sha))
    monkeypatch.setattr(photos, "_MADE", OrderedDict())
    monkeypatch.setattr(photos, "MOST_KEPT", 2 * len(png(10, 6)))
    first = photos.read_photo(project, "0.png")
    for name in ("1.png", "0.png", "2.png", "0.png"):
        photos.read_photo(project, name)
    assert len(made) == 3
    assert photos.read_photo(project, "0.png") is first
    photos.read_photo(project, "1.png")
    assert len(made) == 4

"""An invented project that is quickly judged, for the page: markup in its texts, one item that stops the work."""

from __future__ import annotations

from typing import Any

from jointcalc.model.project import Project, read_project

EVIL = '</script><script>document.title="broken"</script><img src=x onerror="document.title=1"> & "quoted" \'single\''


def data(**changes: Any) -> dict[str, Any]:
    """The project as TOML data; `changes` go into its seam."""
    sheets = {"a": {"thickness": "3 mm", "grade": "S355MC"}, "b": {"thickness": "1.2 mm", "grade": "DC04"}}
    seam = {
        "id": "S1", "title": EVIL, "sheets": ["b", "b"], "weld_diameter": "5.5 mm", "pitch": "40 mm",
        "length": "400 mm", "edge": "9 mm", "shear": "2 kN", "reason": "short & <simple>", "place": "0 0 400 0 mm",
        **changes,
    }  # fmt: skip
    plug = {
        "id": "P <1>", "sheets": ["b", "a"], "hole": "8 mm", "length": "200 mm", "pitch": "50 mm", "edge": "12 mm",
        "shear": "30 kN", "place": "0 100 200 100 mm",
    }  # fmt: skip
    bolts = {
        "id": "M1", "title": "Seat", "holes": ["0 0 mm", "60 0 mm"], "bolt": "M8 8.8", "sheets": ["b"],
        "edge": "20 mm", "force": "0.5 0 0 kN", "at": "30 0 0 mm", "purpose": ["seat"],
    }  # fmt: skip
    fillet = {
        "id": "W1", "lines": ["0 0 80 0 mm"], "leg": "3 mm", "sheet": "a", "filler": "E70", "force": "0 -1 0 kN",
        "at": "40 0 0 mm",
    }  # fmt: skip
    about = {"title": f"Bench {EVIL}", "vehicle": "invented van", "open_points": ["coupons <to> be pulled"]}
    return {"project": about, "sheet": sheets, "seam": [seam], "plug": [plug], "bolts": [bolts], "fillet": [fillet]}


def project(**changes: Any) -> Project:
    """The same, read."""
    return read_project(data(**changes))

"""`jointcalc brace`: the document, the table, the search, the plot, and what is refused."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

HAT = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"
SKIN = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"
BASE = ("--over", "webs", "--grade", "S355MC", "--span", "1000 mm", "--point", "750 N @ 500 mm")


def test_document_of_one_and_of_several(say) -> None:
    for profiles in ((HAT,), (HAT, SKIN, "tube:od=38mm,t=2mm")):
        options = [word for p in profiles for word in ("--profile", p)]
        answer = say("brace", *options, *BASE, "--spread", "0.1 N/mm", "--ends", "5e7 1e7 N*mm/rad", "--json")
        assert answer.code == 0, answer.err
        document = json.loads(answer.out)
        assert document["kind"] == "comparison"
        assert [item["kind"] for item in document["items"]] == ["brace"] * len(profiles)
        for item in document["items"]:
            assert item["values"]["deflection_max"]["unit"] == "mm"
            assert item["status"] == "ok"
            assert item["checks"][0]["steps"]
        if len(profiles) > 1:
            assert document["items"][1]["values"]["required_pitch"]["value"] > 5


def test_answer_for_the_eye(say) -> None:
    answer = say(
        "brace", "--profile", HAT, "--profile", SKIN, *BASE, "--limit-deflection", "L/100", "--steps", "--full"
    )
    assert answer.code == 0
    for text in ("mass", "to A", "30 mm high", "holds", "limit", "closes at the weld lines", "Bending, EN (sagging)",
                 "required", "M_c", "Working"):  # fmt: skip
        assert text in answer.out or text == "M_c", text
    drawn = [line for line in answer.out.splitlines() if any("\u2800" < c < "\u28ff" for c in line)]
    assert 5 <= len(drawn) < 20
    assert max(len(line) for line in drawn) <= 80
    # the ratio of the second candidate's mass to the first's
    row = next(line for line in answer.out.splitlines()[::-1] if line.startswith("B    "))
    assert float(row.split()[1]) == pytest.approx(2.2 / 1.254, abs=0.01)


def test_drawing_is_to_scale(say) -> None:
    answer = say("brace", "--profile", "box:depth=40mm,width=80mm,t=2mm", *BASE)
    drawn = [line.strip() for line in answer.out.splitlines() if any("\u2800" < c < "\u28ff" for c in line)]
    # two dots across and four dots up to a character: 80 x 40 mm is four characters wide for each one high
    assert max(map(len, drawn)) / len(drawn) == pytest.approx(4, rel=0.1)


def test_inch(say) -> None:
    answer = say("brace", "--profile", HAT, *BASE, "--units", "inch")
    assert "kip in²" in answer.out
    assert "1.18 in high" in answer.out


def test_exit_code_tells(say) -> None:
    over = say("brace", "--profile", HAT, "--profile", SKIN, *BASE, "--limit-deflection", "2.5 mm", "--json")
    assert over.code == 1
    assert [item["status"] for item in json.loads(over.out)["items"]] == ["over", "ok"]
    outside = say(
        "brace", "--profile", "zed:web=40mm,flange=20mm,t=1.2mm,r=2mm", *BASE[:-2], "--point", "50 N @ 500 mm"
    )
    assert outside.code == 1
    assert "CANNOT BE JUDGED" in outside.out


def test_find_lightest(say) -> None:
    ranged = "hat:top=40mm,depth=20mm..50mm,flange=20mm,t=0.8mm..1.5mm,r=2mm"
    answer = say("brace", "--profile", ranged, *BASE, "--limit-deflection", "3 mm", "--find", "lightest", "--json")
    assert answer.code == 0
    assert answer.err == ""
    document = json.loads(answer.out)
    item = document["items"][0]
    assert item["values"]["deflection_service"]["value"] <= 3
    masses = [one["mass_per_metre"]["value"] for one in document["pareto"]]
    assert masses == sorted(masses)
    assert masses[0] == item["values"]["mass_per_metre"]["value"]
    shown = say("brace", "--profile", ranged, *BASE, "--limit-deflection", "3 mm", "--find", "lightest")
    assert "Found lightest of 155 candidates" in "\n".join(shown.out.splitlines()[-20:])
    assert "Stiffer for more mass" in shown.out


def test_find_pitch(say) -> None:
    answer = say("brace", "--profile", SKIN, *BASE, "--find", "pitch", "--json")
    assert answer.code == 0
    values = json.loads(answer.out)["items"][0]["values"]
    assert values["found"]["value"] == values["pitch"]["value"] > 0


def test_plot(say, tmp_path: Path) -> None:
    file = tmp_path / "braces.svg"
    first = say("brace", "--profile", HAT, "--profile", SKIN, *BASE, "--plot", str(file))
    assert first.code == 0, first.err
    made = file.read_text(encoding="utf-8")
    root = ElementTree.fromstring(made)
    assert root.tag.endswith("svg")
    assert "deflection [mm]" in made
    assert HAT in made
    assert made.count("stroke-dasharray") >= 1  # told apart without colour
    again = say("brace", "--profile", HAT, "--profile", SKIN, *BASE, "--plot", str(file))
    assert again.code == 0
    assert file.read_text(encoding="utf-8") == made
    assert [p.name for p in tmp_path.iterdir()] == ["braces.svg"]


def test_plot_of_signature_curves(say, tmp_path: Path) -> None:
    """With --buckling the file shows the curve and the loads on it by name, in the reader's units."""
    file = tmp_path / "curve.svg"
    for units, unit in (("metric", "MPa"), ("inch", "ksi")):
        answer = say("brace", "--profile", HAT, *BASE, "--buckling", "--plot", str(file), "--units", units)
        assert answer.code in (0, 1), answer.err
        made = file.read_text(encoding="utf-8")
        assert f"stress at the pressed face [{unit}]" in made
        assert ">local<" in made
        assert "half-wavelength" in made


@pytest.mark.parametrize(
    "options, words",
    [
        (("--profile", "hat:top=4mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"), ("--profile", "top", "at least 6.4 mm")),
        (("--profile", "hat:top=40mm,depth=30,flange=20mm,t=1.2mm"), ("no unit",)),
        (("--profile", "hat:top=-40mm,depth=30mm,flange=20mm,t=1.2mm"), ("negative",)),
        (("--profile", "hat:top=40mm,depth=20mm..50mm,flange=20mm,t=1.2mm"), ("range",)),
        (("--profile", HAT, "--point", "1 N @ 2000 mm"), ("--point", "off the beam")),
        (("--profile", HAT, "--ends", "free"), ("--ends", "pinned")),
        (("--profile", HAT, "--find", "lightes"), ("--find", "lightest")),
        (("--profile", HAT, "--find", "lightest"), ("no range",)),
        (("--profile", HAT, "--plot", "x.png"), ("--plot", ".svg")),
        (("--profile", HAT, "--plot", "/nowhere/at/all/x.svg"), ("cannot be written",)),
        (("--profile", HAT, "--grade", "DC04"), ("2 grades for 1 profiles",)),
        (("--profile", HAT, "--units", "feet"), ("--units",)),
        (("--profile", HAT, "--limit-deflection", "L/1"), ("--limit-deflection",)),
    ],
)
def test_bad_input_goes_to_stderr_with_code_2(say, options: tuple[str, ...], words: tuple[str, ...]) -> None:
    answer = say("brace", *BASE, *options)
    assert answer.code == 2, answer.out
    assert answer.out == ""
    for word in words:
        assert word in answer.err


def test_quick_command_loads_nothing_heavy(cli) -> None:
    answer = cli("brace", "--profile", HAT, *BASE, PYTHONPROFILEIMPORTTIME="1")
    assert answer.code == 0
    # of scipy LAPACK comes alone (`jointcalc.lapack`)
    for heavy in ("matplotlib", "scipy.linalg", "scipy.special", "numpy.f2py", "pint", "typst", "ezdxf"):
        assert f" {heavy}\n" not in answer.err


def test_buckling_is_named_and_drawn(say) -> None:
    """Euler: fixed ends raise the overall load of a strut; curve and modes are drawn in dots, within 80 columns."""
    options = (
        "brace",
        "--profile",
        HAT,
        *BASE,
        "--compression",
        "1 kN",
        "--eccentricity",
        "0 mm",
        "--lies",
        "crown-up",
    )
    plain = say(*options).out
    answer = say(*options, "--ends", "fixed", "--buckling")
    assert answer.code == say(*options, "--ends", "fixed").code
    drawn = answer.out.split("Elastic buckling of the section ")[1:]
    assert [part.partition(":")[0] for part in drawn] == [
        "bent, the top pressed", "bent, the bottom pressed", "pressed all over",
    ]  # fmt: skip
    for part in drawn:
        for word in ("1 local: ", "ends that turn", "with fixed ends"):
            assert word in " ".join(part.split())
        assert len([line for line in part.splitlines() if any("\u2800" < c < "\u28ff" for c in line)]) > 10
        assert max(len(line) for line in part.splitlines()) <= 80
    assert "Elastic buckling of the section" not in plain
    cantilever = say("brace", "--profile", HAT, "--over", "webs", "--grade", "S355MC", "--span", "300 mm", "--point",
                     "50 N @ 300 mm", "--ends", "cantilever", "--buckling").out  # fmt: skip
    assert "no overall load is named for a cantilever" in cantilever
    tube = say("brace", "--profile", "tube:od=38mm,t=2mm", *BASE, "--buckling")
    assert "Elastic buckling" not in tube.out


def test_sections_below_each_other_have_one_scale() -> None:
    """At 40 columns a third section has a row of its own: one as high as the first is drawn as high."""
    from jointcalc.section.profile import parse_profile
    from jointcalc.show.brace import sections

    texts = ("hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm",
             "box:depth=30mm,width=30mm,t=1.5mm,r=1.5mm")  # fmt: skip
    lines = sections([(name, parse_profile(text).outline()) for name, text in zip("ABC", texts)], 40, "metric")
    first = next(n for n, line in enumerate(lines) if " A " in line)
    hat = sum(bool(line[:14].strip()) for line in lines[:first])
    box = len(lines) - 1 - first - 1
    assert abs(hat - box) <= 1, lines

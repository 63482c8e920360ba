"""The page for the bench as a file: what stands on it, what cannot break it, the same bytes, its size, its drawings.

The reader is the standard library's HTML parser: nothing of ours reads what we write.
"""

from __future__ import annotations

import hashlib
import re
import struct
import xml.etree.ElementTree as ET
import zlib
from base64 import b64decode, b64encode
from html import escape, unescape
from html.parser import HTMLParser
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from jointcalc.bench import make_bench
from jointcalc.bench.drawing import inline, palette
from jointcalc.bench.markup import Markup, tag
from jointcalc.bench.page import spare
from jointcalc.check import check
from jointcalc.dossier.words import unflagged
from jointcalc.layout.places import places
from jointcalc.model.project import read_project
from jointcalc.show.checklist import checklist
from tests.benchpage.projects import EVIL, data, project
from tests.dossier.test_figures import ITEMS, SHEETS

VOID = {"meta", "input", "link", "br", "img", "hr", "col", "wbr"}


class Tree(HTMLParser):
    """Elements as (name, attributes, text inside), in order; fails where a tag is closed that is not open."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, dict[str, str], list[str]]] = []
        self._open: list[tuple[str, dict[str, str], list[str]]] = []
        self.feed(text)
        self.close()
        assert not self._open, [one[0] for one in self._open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        assert len(set(names)) == len(names), (tag, names)
        one = (tag, {name: value or "" for name, value in attrs}, [])
        self.found.append(one)
        if tag not in VOID:
            self._open.append(one)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}, []))

    def handle_endtag(self, tag: str) -> None:
        assert self._open, tag
        assert self._open.pop()[0] == tag

    def handle_data(self, data: str) -> None:
        for one in self._open:
            one[2].append(data)

    def all(self, name: str, **having: str) -> list[tuple[dict[str, str], str]]:
        return [
            (attributes, " ".join("".join(text).split()))
            for tag, attributes, text in self.found
            if tag == name and all(attributes.get(k) == v for k, v in having.items())
        ]


@pytest.fixture(scope="module")
def results() -> list[Any]:
    return [check(item) for item in project().items]


@pytest.fixture(scope="module")
def page(results: list[Any]) -> str:
    return make_bench(project(), results).decode("utf-8")


@pytest.fixture(scope="module")
def tree(page: str) -> Tree:
    return Tree(page)


def test_nothing_a_builder_types_becomes_markup(page: str, tree: Tree) -> None:
    assert len(tree.all("script")) == 1
    assert not tree.all("img")
    assert page.count("onerror") == page.count("onerror=&quot;") + page.count('onerror="document.title=1"&gt;')
    assert tree.all("h1")[0][1] == " ".join(f"Bench {EVIL}".split())
    assert any(EVIL in text for _, text in tree.all("h2"))
    assert {a["data-item"] for a, _ in tree.all("article")} == {"S1", "P <1>", "M1", "W1"}


def test_it_asks_for_nothing_and_lets_no_other_script_run(tree: Tree) -> None:
    policy = tree.all("meta", **{"http-equiv": "Content-Security-Policy"})[0][0]["content"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    script = next("".join(text) for name, _, text in tree.found if name == "script")
    said = re.fullmatch(r"'sha256-([A-Za-z0-9+/=]+)'", rules["script-src"])
    assert said, "no script but our own"
    assert b64decode(said[1]) == hashlib.sha256(script.encode()).digest()
    assert rules["form-action"] == rules["base-uri"] == "'none'"
    outside = [
        a for _, a, _ in tree.found for k, v in a.items() if k in ("src", "href", "action") and not v.startswith("#")
    ]
    assert not outside
    assert not any("http" in "".join(text) for name, _, text in tree.found if name in ("style", "script"))


def test_every_name_is_used_once_and_every_reference_is_there(page: str, tree: Tree) -> None:
    names = [a["id"] for _, a, _ in tree.found if "id" in a]
    assert len(set(names)) == len(names)
    known = set(names)
    for _, a, _ in tree.found:
        for name in ("aria-labelledby", "for"):
            assert set(a.get(name, "").split()) <= known, a
        if a.get("href", "").startswith("#"):
            assert a["href"][1:] in known, a
    assert set(re.findall(r"url\(#([^)]+)\)", page)) <= known


def test_what_must_be_read_is_on_it(page: str, tree: Tree, results: list[Any]) -> None:
    text = " ".join("".join(next(t for n, _, t in tree.found if n == "body")).split())
    assert "DOES NOT HOLD" in text
    assert "a licensed engineer and local rules decide" in text
    assert "coupons <to> be pulled" in text
    for result in results:
        for caution in result.cautions:  # whole, the stops above all
            assert " ".join(unflagged(caution.text).split()) in text, caution.code
    stop = next(c.text for r in results for c in r.cautions if c.severity == "stop")
    assert text.index(str(stop)) < text.index("Summary, the worst first"), "what stops the work stands first"
    order = [t for _, t in tree.all("th", scope="row", role="rowheader")][:3]
    assert set(order[:2]) == {"M1", "P <1>"}, "the worst first"
    assert order[2] in ("S1", "W1"), "and last what holds"
    for phrase in ("in this browser only", "never shown as if it were of today", "by hand"):
        assert phrase in text


def test_every_spot_and_every_line_of_the_checklist_has_its_place(tree: Tree) -> None:
    for item in project().items:
        at = next(n for n, (tag_, a, _) in enumerate(tree.found) if tag_ == "article" and a["data-item"] == item.id)
        rest = [a for _, a, _ in tree.found[at + 1 :]]
        end = next((n for n, a in enumerate(rest) if "data-item" in a), len(rest))
        own = rest[:end]
        ticks = [a["data-no"] for a in own if "data-no" in a]
        assert ticks == [row[0] for group in places(item, "metric") for row in group.rows]
        assert [a["data-entry"] for a in own if "data-entry" in a] == [e.key for e in checklist(item)]
    # counted by hand: ten spots, four plugs, two bolts, one weld
    assert len([a for _, a, _ in tree.found if "data-no" in a]) == 17
    fields = [a["data-field"] for _, a, _ in tree.found if "data-field" in a]
    assert {fields.count(name) for name in ("measured", "accepted", "by", "date")} == {len(fields) // 4}


def test_headings_descend_by_steps_and_tables_have_heads(tree: Tree) -> None:
    levels = [int(name[1]) for name, _, _ in tree.found if re.fullmatch("h[1-6]", name)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b <= a + 1 for a, b in pairwise(levels))
    tables = len(tree.all("table"))
    assert tables == 1 + len(project().items)
    assert len(tree.all("thead")) == tables
    assert all(a["scope"] in ("row", "col") for a, _ in tree.all("th"))
    assert tree.all("html")[0][0]["lang"] == "en"
    for name, a, _ in tree.found:
        if name == "svg":
            assert a["role"] == "img"


def test_the_same_project_gives_the_same_bytes_and_a_changed_one_another_key(page: str, results: list[Any]) -> None:
    assert make_bench(project(), results).decode() == page
    changed = project(pitch="38 mm")
    other = make_bench(changed, [check(changed.items[0]), *results[1:]]).decode()

    def keys(text: str) -> tuple[str, str, dict[str, str]]:
        found = Tree(text)
        body = found.all("body")[0][0]
        return (
            body["data-project"],
            body["data-inputs"],
            {a["data-item"]: a["data-of"] for a, _ in found.all("article")},
        )

    a, b = keys(page), keys(other)
    assert a[0] == b[0], "the same project"
    assert a[1] != b[1], "in another state"
    assert [name for name in a[2] if a[2][name] != b[2][name]] == ["S1"], "and only one item of it has changed"


def test_some_items_alone_say_so(results: list[Any]) -> None:
    text = make_bench(project(), results, items=["M1"]).decode()
    assert (
        "This page holds 1 of the project&#x27;s 4 items." in text
        or "This page holds 1 of the project's 4 items." in text
    )
    assert 'data-item="S1"' not in text


def test_inches_are_for_an_inch_reader(results: list[Any]) -> None:
    text = make_bench(project(), results, units="inch").decode()
    assert 'data-units="inch"' in text
    assert "from left in" in text
    assert "25/32" in text  # 20 mm is 0.787 in, 25/32 of an inch


def png(width: int = 2, height: int = 2) -> bytes:
    """A picture of one colour, after ISO/IEC 15948 (PNG): signature, header, one compressed block, end."""

    def chunk(name: bytes, held: bytes) -> bytes:
        return struct.pack(">I", len(held)) + name + held + struct.pack(">I", zlib.crc32(name + held))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    rows = (b"\0" + b"\x80\x40\x20" * width) * height
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def test_photos_come_with_their_captions_and_records_in_words(results: list[Any], tmp_path: Path) -> None:
    (tmp_path / "lap.png").write_bytes(png())
    own = data(photo="lap.png")
    own["evidence"] = [
        {"sort": "photo", "file": "lap.png", "title": "The lap, cut & <etched>", "items": ["S1"]},
        {"sort": "certificate", "items": ["M1"], "heat": "H<7>", "tensile_strength": "300 MPa"},
        {"sort": "welding", "welder": "A. B.", "machine": "spot gun 3"},
    ]
    made = read_project(own, path=tmp_path / "project.toml")
    tree = Tree(make_bench(made, results).decode())
    pictures = tree.all("img")
    assert len(pictures) == 1
    assert pictures[0][0]["src"] == "data:image/png;base64," + b64encode(png()).decode()
    assert "The lap, cut & <etched>" in pictures[0][0]["alt"]
    assert "The lap, cut & <etched>" in [text for _, text in tree.all("figcaption")]
    listed = [text for _, text in tree.all("li")]
    assert any("H<7>" in text and "300 MPa" in text for text in listed)
    assert any("A. B." in text and "spot gun 3" in text for text in listed)
    assert any("coupons" in text for text in listed), "what is missing is an open point"


def test_a_photo_of_two_items_is_put_into_the_page_once(results: list[Any], tmp_path: Path) -> None:
    (tmp_path / "lap.png").write_bytes(png())
    own = data(photo="lap.png")
    first, second = [one.id for one in results][:2]
    own["evidence"] = [{"sort": "photo", "file": "lap.png", "title": "Both laps", "items": [first, second]}]
    page = make_bench(read_project(own, path=tmp_path / "project.toml"), results).decode()
    tree = Tree(page)
    assert page.count("data:image/png") == len(tree.all("img")) == 1
    link = re.search(r'<p>Both laps: photo at <a href="#(.*?)">(.*?)</a></p>', page)
    assert link
    heading = next(text for a, text in tree.all("h2") if a.get("id") == link[1])
    assert heading.startswith(unescape(link[2]))
    assert unescape(link[2]) in (first, second)


def test_a_photo_of_a_camera_is_made_smaller_stands_upright_and_says_nothing_of_its_place(
    results: list[Any], tmp_path: Path
) -> None:
    # EXIF 2.3: tag 0x0112 is the orientation, 6 means that the camera was turned a quarter; 0x8825 points to the place
    camera = Image.effect_noise((2400, 1800), 60).convert("RGB")
    about = Image.Exif()
    about[0x0112] = 6
    about[0x010E] = "taken at home"
    camera.save(tmp_path / "camera.jpg", quality=95, exif=about)
    assert (tmp_path / "camera.jpg").stat().st_size > 2e6
    tree = Tree(make_bench(read_project(data(photo="camera.jpg"), path=tmp_path / "project.toml"), results).decode())
    held = b64decode(tree.all("img")[0][0]["src"].partition(",")[2])
    assert len(held) < 1e6
    assert b"taken at home" not in held
    with Image.open(BytesIO(held)) as shown:
        assert shown.size == (1200, 1600), "turned upright, its longer side 1600 pixels"


def test_nobody_reads_of_a_command_line(page: str) -> None:
    told = Tree(re.sub(r"<script>.*?</script>", "", page, flags=re.DOTALL))
    body = "".join(next(t for n, _, t in told.found if n == "body"))
    assert "Handbook minimums are divided by" in body, "a caution that names an option in the terminal"
    assert re.findall(r"(?<![\w-])--[a-z][a-z-]*|`", body) == []


def test_a_caution_of_several_items_is_told_once_and_each_of_them_leads_there(
    page: str, tree: Tree, results: list[Any]
) -> None:
    raised = [(c.code, str(c.text)) for r in results for c in r.cautions]
    shared = {one for one in raised if raised.count(one) >= 3}
    assert shared
    for code, text in shared:
        assert page.count(f"{escape(unflagged(text), quote=False)}<small>") == 1, code
        links = [words for a, words in tree.all("a") if a.get("href", "").startswith("#caution-")]
        assert links.count(code.replace("-", " ")) == raised.count((code, text)), code


def test_thirty_items_stay_small(page: str) -> None:
    """Two megabytes for thirty items without photos, were they all as large as the largest of these."""
    articles = [len(one.encode()) for one in re.findall(r"<article.*?</article>", page, re.DOTALL)]
    assert len(articles) == 4
    assert len(page.encode()) - sum(articles) + 30 * max(articles) < 2e6


def test_a_margin_is_never_printed_too_large() -> None:
    assert spare(0.259) == "+25 %"
    assert spare(-0.5049) == "−51 %"
    assert spare(None) == "-"
    assert spare(8000.0) == "> 999 %"


# --- markup and drawings -----------------------------------------------------------------------------------------------


def test_markup_escapes_what_is_no_markup() -> None:
    assert (
        tag("p", "a < b & c", class_="x", data_no=3, hidden=True, id=None)
        == '<p class="x" data-no="3" hidden>a &lt; b &amp; c</p>'
    )
    assert tag("p", Markup("<b>c</b>"), ["d", None]) == "<p><b>c</b>d</p>"
    assert tag("input", value='"><script>') == '<input value="&quot;&gt;&lt;script&gt;">'


def test_lettering_of_a_drawing_is_kept_to_the_letter() -> None:
    svg = (
        '<?xml version="1.0"?><svg viewBox="0 0 9 9"><metadata>m</metadata><style type="text/css">*{a: b}</style>'
        '<g id="patch_1"><path id="m1" d="M 1.23456 2.5 L 3.00004 4" style="fill: #000000; stroke: #eef4f9"/></g>'
        '<use xlink:href="#m1" transform="matrix(0.70711 0 0 0.70711 1.23456 0)"/>'
        "<text style=\"font: 7px 'DejaVu Sans Mono'\">0.04724 in of #000000</text></svg>"
    )
    made = inline(svg, "d1", "words & <more>")
    assert "0.04724 in of #000000" in made
    assert 'd="M 1.23 2.5 L 3 4"' in made
    assert "matrix(0.70711 0 0 0.70711 1.23456 0)" in made
    assert 'id="d1-m1"' in made
    assert 'href="#d1-m1"' in made
    assert "patch_1" not in made
    assert "fill: var(--ink); stroke: var(--c-eef4f9)" in made
    assert "<style" not in made
    assert "words &amp; &lt;more&gt;" in made
    ET.fromstring(made)
    assert palette(made).count("--c-eef4f9:") == 2
    assert palette("") == ""


def test_a_curve_keeps_every_point_that_bends_it() -> None:
    # a parabola of 401 points: what is kept lies within 0.05 points of every point that was left out
    points = [(k, round(0.0025 * (k - 200) ** 2, 6)) for k in range(401)]
    d = "M " + " L ".join(f"{x} {y:.6f}" for x, y in points)
    made = inline(f'<svg viewBox="0 0 9 9"><path d="{d}" style="fill: none"/></svg>', "d1", "w")
    kept = [(float(x), float(y)) for x, y in re.findall(r"[ML] (\S+) ([^\s\"]+)", made)]
    assert kept[0] == points[0]
    assert kept[-1] == points[-1]
    assert 10 < len(kept) < 80
    for x, y in points:
        a, b = next((a, b) for a, b in pairwise(kept) if a[0] <= x <= b[0])
        assert abs(a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]) - y) < 0.15
    dashes = " ".join(f"M {k} 0 L {k} {k % 7}" for k in range(30))
    assert inline(f'<svg viewBox="0 0 9 9"><path d="{dashes}" style="fill: none"/></svg>', "d1", "w").count("M ") == 30


# --- places ------------------------------------------------------------------------------------------------------------


def rows_of(kind: str, **changes: Any) -> list[tuple[str, int, tuple[str, ...]]]:
    own = {"project": {"title": "t"}, "sheet": SHEETS, kind: [{"id": "X1", **ITEMS[kind], **changes}]}
    return [(g.what, len(g.rows), g.rows[0]) for g in places(read_project(own).items[0], "metric")]


def test_places_of_every_kind_by_hand() -> None:
    assert rows_of("seam") == [("spots", 10, ("1", "20", "380"))]
    assert rows_of("plug") == [("slots", 6, ("1", "25", "275"))] * 2
    own = {"project": {"title": "t"}, "sheet": SHEETS, "plug": [{"id": "X1", **ITEMS["plug"]}]}
    titles = [g.title for g in places(read_project(own).items[0], "metric")]
    assert titles == ["Row 1 of 2, from the edge", "Row 2 of 2, from the edge"]
    assert rows_of("bolts") == [("fasteners", 4, ("1", "0", "0"))]
    assert rows_of("fillet") == [("welds", 3, ("1", "1", "0", "100"))]
    # stitches of 20 at most 45 apart on 100 mm: from 0, 40 and 80
    own = {
        "project": {"title": "t"},
        "sheet": SHEETS,
        "fillet": [{"id": "X1", **ITEMS["fillet"], "stitch": "20 45 mm"}],
    }
    stitches = places(read_project(own).items[0], "metric")[0]
    assert [row[2] for row in stitches.rows[:3]] == ["0", "40", "80"]
    assert rows_of("brace") == []
    closed = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm"
    assert rows_of("brace", profile=closed, pitch="50 mm") == [("spots", 20, ("1", "25", "975"))] * 2
    # five beads 75 mm apart about the middle of 400 mm
    assert rows_of("panel") == [("beads", 5, ("1", "50", "350"))]
    # one bolt at each of four feet
    assert [(w, n) for w, n, _ in rows_of("mount")] == [("bolts", 4)]


def test_spots_of_a_weld_line_are_ticked_once() -> None:
    own: dict[str, Any] = {
        "project": {"title": "t"}, "sheet": SHEETS,
        "seam": [{"id": "S1", **ITEMS["seam"], "length": "1000 mm", "sheets": ["b", "b"]}],
        "brace": [{"id": "B1", **ITEMS["brace"], "welded_by": "S1",
                   "profile": "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1.2mm",
                   "grade": "DC04", "skin_grade": "DC04"}],
    }  # fmt: skip
    del own["seam"][0]["shear"]
    seam, brace = read_project(own).items
    assert places(seam, "metric") == ()
    assert [len(g.rows) for g in places(brace, "metric")] == [25, 25]

"""The finished PDF, read back with pypdf: what it holds, and that nothing typed into a project can break it."""

from __future__ import annotations

import datetime
import io
import math
import re
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from jointcalc.check import check
from jointcalc.dossier import Options, figures, make_dossier
from jointcalc.dossier.content import dated
from jointcalc.dossier.cover import project_hash
from jointcalc.dossier.words import unflagged
from jointcalc.errors import InputError
from jointcalc.explore.sensitivity import sensitivity, thinner
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.model.project import Project, load_project
from jointcalc.quantity.show import percent, show_in
from jointcalc.result import Result
from jointcalc.show.summary import summarise
from tests.dossier.conftest import demo_data, judged, made, outline_titles, plain, png, tags, tight, words_of

SECTIONS = ["Plan of the floor", "Materials", "Inputs, values and alternatives", "Working", "Cautions", "Methods",
            "Sources", "Tables that were read"]  # fmt: skip


def test_every_section_and_every_item_has_its_bookmark(demo_reader: PdfReader) -> None:
    titles = outline_titles(demo_reader)
    for section in SECTIONS:
        assert section in titles
    order = [t for t in titles if t in SECTIONS]
    assert order == SECTIONS
    for seam in demo_data()["seam"]:
        assert f"{seam['id']} {seam['title']}" in titles


def test_the_file_is_tagged_and_every_picture_and_formula_has_words(demo_reader: PdfReader) -> None:
    # PDF/UA-1 (ISO 14289-1) 7.1, 7.3 and 7.7: marked content, alternative text for figures and formulas; 7.2: language
    root = demo_reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert demo_reader.metadata is not None
    assert demo_reader.metadata.title == demo_data()["project"]["title"]
    found = tags(demo_reader)
    pictures = [alt for tag, alt in found if tag == "/Figure"]
    # the plan, and one drawing for each of four seams
    assert len(pictures) == 5
    assert all(len(alt) > 40 for alt in pictures)
    assert any("37 spot welds of 5.5 mm" in alt for alt in pictures)
    formulas = [alt for tag, alt in found if tag == "/Formula"]
    assert len(formulas) > 50
    assert all(formulas)
    assert any("2.7·√t·d_s·f_u" in alt for alt in formulas)


def test_text_holds_every_number_of_the_json_at_the_printed_precision(
    demo: tuple[Project, list[Result]], demo_text: str
) -> None:
    text = tight(demo_text).replace("²", "^2").replace("·", "*")
    for result in demo[1]:
        document = result.json()
        for check_ in document["checks"]:
            for name in ("capacity", "demand"):
                if check_["status"] != "outside" and check_[name] and check_[name]["value"] is not None:
                    assert tight(show_in(check_[name]["value"], check_[name]["unit"])) in text, (check_["key"], name)
            for step in check_["steps"]:
                if abs(step["value"]) < 1e6:
                    number = f"{step['value']:.4g}"
                    assert "e" in number or number in text, (check_["key"], step)
        for name, amount in document["values"].items():
            if "cycles" not in amount["unit"]:
                assert tight(show_in(amount["value"], amount["unit"])) in text, name


def test_factors_are_rounded_down_and_required_ones_up(demo: tuple[Project, list[Result]], demo_text: str) -> None:
    text = demo_text
    rounded_differently = 0
    for result in demo[1]:
        governing = next(c for c in result.json()["checks"] if c["key"] == result.governing)
        actual, needs = governing["safety_factor"], governing["required_factor"]
        below, above = math.floor(actual * 100) / 100, math.ceil(needs * 100 - 1e-9) / 100
        used = math.ceil(governing["utilisation"] * 100 - 1e-9)
        assert f"safety factor {below:.2f}, required {above:.2f}, {used} % used" in text
        rounded_differently += round(actual, 2) != below
    assert rounded_differently, "the demo must hold a factor that nearest rounding would print higher"


def test_values_from_memory_and_typical_strengths_are_marked_in_text(demo: tuple[Project, list[Result]]) -> None:
    # the table of methods alone and the working alone must each carry the marks
    bare = tight(words_of(make_dossier(*demo, Options(items=("S3",), steps="none"))).partition("Methods AISI")[0])
    full = tight(words_of(make_dossier(*demo, Options(items=("S3",), steps="full"))))
    marked = [c for c in demo[1][2].checks if c.provenance in ("from memory", "second-hand")]
    assert len(marked) > 8
    for check_ in marked:
        text = tight(f"{check_.title} [{check_.provenance}]")
        in_tables = check_.status != "outside"
        assert (bare.count(text) >= 1) == in_tables, check_.key
        assert full.count(text) >= in_tables + bool(check_.trace), check_.key
    # DC04: EN 10130 states no minimum yield strength, only a maximum
    assert "[typicalstrength]" in bare


def test_what_the_builder_wrote_is_printed(demo: tuple[Project, list[Result]], demo_text: str) -> None:
    for item in demo[0].items:
        assert plain(item.reason) in demo_text
        assert item.typed("length") in demo_text
    assert "A wider lap with two rows of spots" in demo_text
    for point in demo[0].about.open_points:
        assert point in demo_text
    for case in demo[0].cases:
        assert tight(case.title) in tight(demo_text)
        assert tight(case.source) in tight(demo_text)
    for role in ("Calculated", "Checked", "Welded"):
        assert role in demo_text


def test_every_source_caution_and_table_is_listed(demo: tuple[Project, list[Result]], demo_text: str) -> None:
    text = tight(demo_text)
    for result in demo[1]:
        for check_ in result.checks:
            assert tight(str(check_.method.source)) in text, check_.key
        for caution in result.cautions:
            assert tight(unflagged(caution.text)) in text, caution.code
    for table in ("materials", "spot_optimum", "spot_aisi1996"):
        assert table in text


@pytest.mark.parametrize(("paper", "width", "height"), [("a4", 210 / 25.4 * 72, 297 / 25.4 * 72), ("letter", 612, 792)])
def test_paper_is_a4_or_letter(paper: str, width: float, height: float) -> None:
    # ISO 216: 210 x 297 mm; ANSI/ASME Y14.1: 8.5 x 11 in
    reader = PdfReader(io.BytesIO(made(demo_data(), paper=paper, summary=True)))
    for page in reader.pages:
        assert float(page.mediabox.width) == pytest.approx(width, abs=0.01)
        assert float(page.mediabox.height) == pytest.approx(height, abs=0.01)


def test_what_is_read_first_fills_page_one_where_the_plan_does_not_fit() -> None:
    """The plan wants a hand of room: where less is left below the signatures it stands on page 2, and no page is half."""
    data = demo_data()
    where = []
    for points in (2, 26):
        data["project"]["open_points"] = [f"Point {n} is open" for n in range(points)]
        pages = [page.extract_text() for page in PdfReader(io.BytesIO(made(data, paper="letter", steps="none"))).pages]
        where.append([next(n for n, text in enumerate(pages) if word in text)
                      for word in ("Plan of the floor", "Every item is judged by every published method")])  # fmt: skip
    assert where == [[0, 0], [1, 0]]


def test_inch_units_change_the_numbers_and_keep_the_working(demo: tuple[Project, list[Result]]) -> None:
    text = words_of(make_dossier(*demo, Options(units="inch", paper="letter", items=("S1",))))
    # 1480 mm / 25.4 = 58.27 in, 14 kN / 4.4482216 N = 3147 lbf (exact definitions of inch and pound-force)
    assert "58.27 in" in text
    assert "3147 lbf" in text
    tearing = 2.7 * math.sqrt(1.2) * 5.5 * 270
    assert f"{tearing:.0f} N ({tearing / 4.4482216152605:.4g} lbf)" in text
    assert "1480 mm" in text  # as typed
    held = tight(text).replace("²", "^2").replace("·", "*")
    for check_ in demo[1][0].checks:
        for amount in (check_.capacity, check_.demand):
            if check_.status != "outside" and amount is not None and amount.value is not None:
                assert tight(show_in(amount.value, amount.unit, "inch")) in held, check_.key
    for name, amount in demo[1][0].values.items():
        if "cycles" not in amount.unit and amount.value is not None:
            assert tight(show_in(amount.value, amount.unit, "inch")) in held, name


def test_steps_none_short_and_full(demo: tuple[Project, list[Result]]) -> None:
    sizes: list[int] = []
    texts = []
    for steps in ("none", "short", "full"):
        pdf = make_dossier(*demo, Options(items=("S3",), steps=steps))  # type: ignore[arg-type]
        reader = PdfReader(io.BytesIO(pdf))
        sizes.append(sum(tag == "/Formula" for tag, _ in tags(reader)))
        texts.append(words_of(reader))
    none, _, full = texts
    # the calculation that governs stands on the item's page whatever is left out
    assert sizes[0] <= sizes[1] < sizes[2]
    assert "The calculation that governs" in none
    assert "Range: " not in none
    assert "Range: " in full
    # the verdicts stay, whatever is left out
    for text in texts:
        assert "HOLDS" in text
        assert "All methods, side by side" in text


def test_the_short_dossier_names_each_source_once_with_all_that_it_gives(demo: tuple[Project, list[Result]]) -> None:
    text = tight(words_of(make_dossier(*demo, Options(steps="none"))).rpartition("Methods ")[2])
    titles: dict[str, set[str]] = {}
    for result in demo[1]:
        for check_ in result.checks:
            titles.setdefault(tight(check_.method.source.cited), set()).add(tight(check_.method.title))
    assert max(len(found) for found in titles.values()) > 1
    for source, found in titles.items():
        assert text.count(f":{source}") == 1, source
        assert all(title in text for title in found)


def test_item_limits_the_sheets_and_says_so(demo: tuple[Project, list[Result]]) -> None:
    pdf = make_dossier(*demo, Options(items=("S2",), steps="none"))
    titles = outline_titles(PdfReader(io.BytesIO(pdf)))
    assert [t for t in titles if re.match(r"S\d ", t)] == ["S2 Floor to brace flange, each line"]
    assert "This copy holds 1 of the project's 4 items only." in words_of(pdf)


def test_sensitivity_stands_in_every_sheet_and_not_in_the_summary(demo: tuple[Project, list[Result]]) -> None:
    project, results = demo
    shown = words_of(make_dossier(project, results, Options(items=("S3",), steps="short")))
    item, result = project.items[2], results[2]
    for change in sensitivity(item, result):
        assert change.result is not None
        assert change.result.worst is not None
        actual = change.result.worst.safety_factor
        assert actual is not None
        assert f"{math.floor(actual * 100) / 100:.2f}" in shown, change.what
        assert tight(change.what[1:]) in tight(shown)
    # EN 10131: 0.08 to 0.10 mm at 1.2 mm (from memory); of sheet with zinc the table says nothing
    assert "1.2 mm may be 0.08 to 0.10 mm (7 to 9 %, more the wider it is) thin by EN 10131 [from memory]" in shown
    assert "EN 10131" not in words_of(make_dossier(project, results, Options(summary=True)))


def test_alternatives_written_as_profiles_stand_beside_the_chosen_one() -> None:
    data = demo_data()
    data["brace"] = [{"id": "B1", "profile": "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm", "grade": "S355MC",
                      "span": "1120 mm", "point": "1200 N @ 560 mm", "reason": "stiff enough",
                      "alternatives": ["hat:top=50mm,depth=30mm,flange=25mm,t=1.5mm; too soft", "a tube: no way to weld it"]}]  # fmt: skip
    project, results = judged(data)
    result = results[-1]
    text = words_of(make_dossier(project, results, Options(items=("B1",), steps="short")))
    shown = text.split("Why this one")[1]
    lower = check(build(Brace, {**data["brace"][0], "profile": "hat:top=50mm,depth=30mm,flange=25mm,t=1.5mm"}))
    for one, words in ((result, "chosen"), (lower, "too soft")):
        assert tight(show_in(one.values["deflection_max"].value or 0.0, "mm")) in tight(shown)
        assert tight(show_in(one.values["mass_per_metre"].value or 0.0, "kg/m")) in tight(shown)
        assert words in shown
    assert "stiff enough" in shown
    assert "a tube: no way to weld it" in shown


def test_a_line_worked_twice_is_printed_once(demo: tuple[Project, list[Result]]) -> None:
    text = words_of(make_dossier(*demo, Options(items=("S1",))))
    load = "14 320 N / 37 spots, in-plane, equal shares"
    # on the item's page, and in the working of the first method; the others point there
    assert text.count(load) == 2
    assert text.count("As above: ") > 4


def test_numbers_of_a_working_are_no_heading(demo: tuple[Project, list[Result]]) -> None:
    # a block that began with "=" once became a heading, and the numbers a line of their own in the bookmarks
    found = tags(PdfReader(io.BytesIO(make_dossier(*demo, Options()))))
    assert not [tag for tag, _ in found if tag in ("/H4", "/H5", "/H6")]
    data = demo_data()
    data["brace"] = [{"id": "B1", "profile": "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm", "grade": "S355MC",
                      "span": "1120 mm", "point": "1200 N @ 560 mm"}]  # fmt: skip
    first, one = (
        sum(tag == "/H1" for tag, _ in tags(PdfReader(io.BytesIO(pdf))))
        for pdf in (made(data, items=("S1",)), made(data, items=("B1",)))
    )
    assert first + 1 == one  # a brace has its section properties besides


def test_page_one_holds_the_decision_even_with_200_items_and_long_names() -> None:
    data = demo_data()
    seams = []
    for n in range(200):
        seam = {**data["seam"][n % 4], "id": f"Ωμέγα-{'W' * (n % 40)}-{n:03d}", "title": "Wide words " * 12}
        seams.append(seam | ({"shear": "200 kN"} if n % 3 == 0 else {}))
    reader = PdfReader(io.BytesIO(made(data | {"seam": seams}, summary=True, paper="letter")))
    first = plain(reader.pages[0].extract_text())
    for words in ("67 do not hold", "DOES NOT HOLD", "Farthest over its limit", "Thin sheet", "Unverified", "Open points",
                  "Calculated", "Checked", "Welded", "Revision"):  # fmt: skip
        assert words in first, words
    assert re.search(r"\d+ more on the next page", first)
    text = tight(words_of(reader))
    assert all(text.count(f"-{n:03d}") >= 1 for n in range(200))


def test_page_one_says_margin_reason_thin_sheet_stops_and_what_is_missing(demo_reader: PdfReader) -> None:
    text = plain(demo_reader.pages[0].extract_text())
    project, results = judged(demo_data())
    summary = summarise(results, thin={i.id: thinner(i, r) for i, r in zip(project.items, results)})
    for line in summary.lines:
        assert tight(line.title) in tight(text)
        assert line.judged.governs in text
        assert percent(line.judged.used) in text
        assert line.thin is not None
        assert line.thin.judged is not None
        assert percent(line.thin.judged.used) in text
    assert summary.worst is not None
    assert f"Nearest its limit: {summary.worst.id}" in text
    assert plain(summary.trust) in text
    for point in demo_data()["project"]["open_points"]:
        assert point in text
    for words in ("No mill certificate of", "No coupons are recorded for S1, S2, S3, S4", "No photo of any item",
                  "Nothing says who welded", project_hash(project)):  # fmt: skip
        assert words in text, words


def test_all_hold_but_thin_sheet_turns_one_over_is_said_first() -> None:
    data = demo_data()
    # sheet 8 % thinner carries 8 % less and more: what is used to 97 % does not
    seam = data["seam"][0] | {"across": "0 N", "id": "T1"}
    used = check(judged(data | {"seam": [seam]})[0].items[0]).worst
    assert used is not None
    seam["shear"] = f"{14 * 0.97 / (used.utilisation or 1.0):.3f} kN"
    text = words_of(made(data | {"seam": [seam]}, summary=True))
    assert "1 hold; with thin sheet 1 turns over" in text
    assert "Every sheet 8 % thinner, 1 of the 1 that hold turns over: T1." in text


def test_a_stop_stands_whole_on_page_one_and_at_its_item() -> None:
    data = demo_data()
    data["seam"] = [data["seam"][0] | {"purpose": ["seat"]}, data["seam"][1]]
    stop = next(c for c in judged(data)[1][0].cautions if c.severity == "stop")
    reader = PdfReader(io.BytesIO(made(data, steps="none")))
    pages = [tight(page.extract_text()) for page in reader.pages]
    assert tight(f"STOP (S1): {stop.text}") in pages[0]
    assert any(tight(f"STOP: {stop.text}") in page for page in pages[1:])
    # without its working an item takes a page, and page 1 and the small print no more than three
    assert len(pages) <= len(data["seam"]) + 3


def test_an_item_takes_two_pages_at_most_and_the_whole_three_an_item(demo_reader: PdfReader) -> None:
    pages = [plain(page.extract_text()) for page in demo_reader.pages]
    starts = [next(n for n, text in enumerate(pages) if f"{s['id']} {s['title']}" in text and n and "gives way first" in text)
              for s in demo_data()["seam"]]  # fmt: skip
    ends = [*starts[1:], next(n for n, text in enumerate(pages) if "Inputs, values and alternatives" in text)]
    assert all(end - start <= 2 for start, end in zip(starts, ends))
    assert len(pages) <= 3 * len(starts)


def test_what_is_typed_is_found_and_copied_and_no_number_breaks() -> None:
    data = demo_data()
    profile = "hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1.2mm,weld=10mm"
    data["seam"] = data["seam"][:1]
    data["brace"] = [
        {"id": "B1", "profile": profile, "grade": "S355MC", "span": "1120 mm", "point": "900 lbf @ 560 mm"}
    ]
    reader = PdfReader(io.BytesIO(made(data, items=("B1",), units="inch", paper="letter")))
    raw = "\n".join(page.extract_text() for page in reader.pages)
    assert "\u200b" not in raw
    assert profile in raw
    assert not re.search(r"\d\.?m\nm|=\d+\.\n\d", raw)
    assert "900 lbf" in plain(raw)
    for dust in (r"e-1\d", r"10⁻¹[1-9]", r"--[a-z]"):
        assert not re.search(dust, raw), dust


def test_an_item_that_is_not_judged_shows_no_factor() -> None:
    data = demo_data()
    data["seam"] = [data["seam"][2] | {"peel": "600 N", "cycles": None}]
    seam = {k: v for k, v in data["seam"][0].items() if k not in ("peel_arm", "cycles")}
    project, results = judged(data | {"seam": [seam]})
    assert results[0].status == "outside"
    text = plain(PdfReader(io.BytesIO(make_dossier(project, results, Options(steps="none")))).pages[0].extract_text())
    row = text.split("Thin sheet Page")[1].split("Open points")[0]
    assert "NOT JUDGED - - -" in row


# --- the same bytes -----------------------------------------------------------------------------------


def test_same_inputs_same_bytes(demo_pdf: bytes) -> None:
    assert made(demo_data()) == demo_pdf


def test_no_clock_reaches_the_file(demo_pdf: bytes) -> None:
    reader = PdfReader(io.BytesIO(demo_pdf))
    assert reader.metadata is not None
    day = reader.metadata.creation_date
    assert day is not None
    assert day.date() == datetime.date(2026, 11, 25)  # the project's own date
    data = demo_data()
    data["project"]["date"] = ""
    undated = PdfReader(io.BytesIO(made(data, summary=True)))
    assert undated.metadata is not None
    assert "/CreationDate" not in undated.metadata
    assert "/ModDate" not in undated.metadata


def test_date_is_the_projects_else_source_date_epoch(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    assert dated("2026-11-25") == (datetime.date(2026, 11, 25), "2026-11-25")
    assert dated("spring 2026") == (None, "spring 2026")
    assert dated("2026-13-45") == (None, "2026-13-45")
    assert dated("") == (datetime.date(1970, 1, 2), "1970-01-02")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    with pytest.raises(InputError, match="SOURCE_DATE_EPOCH"):
        dated("")


# --- nothing typed can break it --------------------------------------------------------------------------

NASTY = [
    '#panic("boom")',
    "$ x^2 $ *bold* _it_ `raw` \\ <lab> @ref",
    '#include "/etc/passwd" // comment /* open',
    "= Heading",
    "- list [ x ] { y } #{1/0}",
    "\"quotes\" 'single' ”curly” & < > </text> ]]> &amp; %",
    "$\\frac{a}{b}$ #set page(width: 1pt)",
    '#eval("1+1") #sys.inputs #read("data.json") #image("0.svg")',
    "{{name}} ${PATH} %s {0} \\n \\u{41}",
]


def _nasty_data(text: str) -> dict[str, Any]:
    data = demo_data()
    data["project"] |= {"title": text, "vehicle": text, "builder": text, "revision": text, "notes": text,
                        "open_points": [text]}  # fmt: skip
    seam = {**data["seam"][0], "id": text, "title": text, "reason": text, "alternatives": [text], "photo": text,
            "case": text, "place": "0 0 1 1 mm"}  # fmt: skip
    return data | {"case": [{"id": text, "title": text, "source": text}], "seam": [seam]}


def test_markup_is_printed_and_never_run() -> None:
    data = _nasty_data(" ".join(NASTY))
    seam = data["seam"][0]
    data["seam"] = [{**seam, "id": text, "title": text, "reason": text, "alternatives": [text]} for text in NASTY]
    reader = PdfReader(io.BytesIO(made(data, steps="none")))
    found = tight(words_of(reader))
    for text in NASTY:
        assert found.count(tight(text)) >= 6, text
    # the page is as it always is: nothing set another size or added pages
    assert {round(float(page.mediabox.width)) for page in reader.pages} == {595}
    assert len(reader.pages) <= 12 + 3 * len(NASTY)
    assert [t for t in outline_titles(reader) if t in SECTIONS] == ["Plan of the floor", "Cautions", "Methods"]


def test_unprintable_characters_become_their_code_points() -> None:
    text = "漢😀\u0301evil שלום"  # what obeys a terminal is refused when the project is read
    pdf = made(_nasty_data(text), steps="none")
    found = tight(words_of(pdf))
    for code in ("U+6F22", "U+1F600", "U+0301", "U+05E9"):
        assert code in found, code
    assert "evil" in found


def test_long_words_stay_on_the_paper() -> None:
    word = "W" * 150 + "x" * 300
    pdf = made(_nasty_data(word), steps="short", paper="letter")
    reader = PdfReader(io.BytesIO(pdf))
    right = 0.0

    def visit(text: str, cm: Any, tm: Any, font: Any, size: float) -> None:
        nonlocal right
        if text.strip():
            # no letter of these runs is narrower: W is 0.9 em, x and all others 0.4 em wide
            wide = abs(size * tm[0] * cm[0]) * sum(0.9 if c == "W" else 0.4 for c in text.strip() if c.isalpha())
            right = max(right, tm[4] * cm[0] + tm[5] * cm[2] + cm[4] + wide)

    for page in reader.pages:
        page.extract_text(visitor_text=visit)
    assert 500 < right < 612
    assert tight(words_of(reader)).count("x" * 300) >= 3


def test_empty_and_blank_texts_are_no_fault() -> None:
    data = _nasty_data("S1")
    data["project"] |= {"title": "  \n ", "builder": " ", "open_points": ["", " "]}
    data["seam"][0] |= {"title": "", "reason": "\n\n", "alternatives": [""], "photo": " "}
    text = words_of(made(data, steps="none"))
    assert "(no title)" in text


# --- photos ------------------------------------------------------------------------------------------------


def _with_photo(folder: Path, photo: str) -> bytes:
    lines = ['[project]', 'title = "P"', '[[seam]]', 'id = "S1"', 'weld_diameter = "5.5 mm"', 'pitch = "40 mm"',
             'length = "400 mm"', 'edge = "9 mm"', 'shear = "1 kN"', f'photo = "{photo}"',
             'sheets = [{thickness = "1.2 mm", grade = "DC04"}, {thickness = "1.2 mm", grade = "DC04"}]']  # fmt: skip
    (folder / "project.toml").write_text("\n".join(lines), encoding="utf-8")
    project = load_project(folder)
    return make_dossier(project, [check(i) for i in project.items], Options(steps="none"))


def test_photo_beside_the_project_is_attached(tmp_path: Path) -> None:
    (tmp_path / "lap.png").write_bytes(png())
    pdf = _with_photo(tmp_path, "lap.png")
    reader = PdfReader(io.BytesIO(pdf))
    assert any(alt.startswith("Photo attached by the builder") for tag, alt in tags(reader) if tag == "/Figure")
    assert sum(len(page.images) for page in reader.pages) == 1
    text = words_of(reader)
    assert "photo lap.png" in text  # in the list of files, with its checksum
    assert "Photo lap.png" not in text  # a caption is no file name
    assert "not attached" not in text


@pytest.mark.parametrize(
    ("photo", "why"),
    [("missing.png", "no such file"), ("../outside.png", "outside the project's folder"),
     ("broken.png", "cannot be read"), ("text.png", "cannot be read"), ("project.toml", "cannot be read")],
)  # fmt: skip
def test_photo_that_cannot_be_attached_is_told(tmp_path: Path, photo: str, why: str) -> None:
    folder = tmp_path / "p"
    folder.mkdir()
    (tmp_path / "outside.png").write_bytes(png())
    (folder / "broken.png").write_bytes(png()[:40] + b"\0" * 30)
    (folder / "text.png").write_text("no picture")
    text = words_of(_with_photo(folder, photo))
    assert "is not attached" in text
    assert why in text


def test_a_kind_without_a_figure_still_gets_a_complete_sheet(
    demo: tuple[Project, list[Result]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(figures, "figures_of", lambda result, system: [])
    text = words_of(make_dossier(*demo, Options(items=("S1",), steps="short")))
    for part in ("As typed", "All methods, side by side", "Assumed or given", "Working", "Cautions"):
        assert part in text
    assert "First end" not in text
    assert judged(demo_data())[1][0].governing is not None

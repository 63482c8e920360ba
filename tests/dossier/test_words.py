"""Text that is safe to print, and maths that is nothing but maths."""

from __future__ import annotations

import json

import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.dossier.figures.canvas import Canvas
from jointcalc.dossier.words import (
    BREAK,
    PRINTABLE,
    THIN,
    TIE,
    amount,
    breakable,
    clean,
    maths,
    paragraphs,
    short,
    symbol,
)
from jointcalc.formula.core import load_all, trees
from jointcalc.formula.printed import typst as typeset
from jointcalc.formula.printed import typst_name


def _set(source: str, **held: bytes) -> bytes:
    head = '#set document(title: "T")\n#set text(lang: "en", font: ("Libertinus Serif", "New Computer Modern", "DejaVu Sans Mono"))\n'
    return typst.compile({"main.typ": (head + source).encode(), **held}, format="pdf", ignore_system_fonts=True,
                         pdf_standards=["ua-1"], timestamp=0)  # fmt: skip


def test_every_printable_character_is_in_the_fonts() -> None:
    """PDF/UA-1 forbids a missing glyph (ISO 14289-1, 7.21.8): the typesetter refuses the file when one is missing."""
    text = " ".join(chr(c) for first, last in PRINTABLE for c in range(first, last + 1) if c != 0x20)
    canvas = Canvas(10)
    canvas.text(5, 5, "x")
    svg = canvas.picture("a", "c").svg.replace(
        b">x<", b">" + text.replace("&", "&amp;").replace("<", "&lt;").encode() + b"<"
    )
    held = {"d.json": json.dumps(text).encode(), "f.svg": svg}
    source = '#let t = json("d.json")\n#t\n\n*#t*\n\n#raw(t)\n#image("f.svg", alt: "a")'
    assert _set(source, **held).startswith(b"%PDF")


def test_the_typesetter_refuses_a_missing_glyph() -> None:
    with pytest.raises(typst.TypstError, match="could not be displayed"):
        _set('#json("d.json")', **{"d.json": json.dumps("漢").encode()})


@given(st.text(max_size=60))
def test_clean_text_holds_printable_characters_only(text: str) -> None:
    allowed = {c for first, last in PRINTABLE for c in range(first, last + 1)}
    shown = clean(text)
    assert all(ord(c) in allowed for c in shown)
    assert shown == " ".join(shown.split())
    assert breakable(text, 5).replace(BREAK, "") == shown
    assert len(short(text, 10)) <= 10


def test_clean_keeps_words_and_shows_code_points() -> None:
    assert clean("  a\tb\n c ") == "a b c"
    assert clean("e\u0301") == "é"  # composed, NFC
    assert clean("x\u0007") == "x⟨U+0007⟩"
    assert clean("\U0001f600") == "⟨U+1F600⟩"
    assert paragraphs("a\n\nb\r\nc") == ["a", "b", "c"]
    word = "W" * 30
    assert breakable(word, 20) == BREAK.join([word[:8], word[8:16], word[16:24], word[24:]])
    profile = "hat:top=50mm,depth=40mm,t=1.5mm"
    assert breakable(profile, 8) == BREAK.join(["hat:", "top=50mm,", "depth=40mm,", "t=1.5mm"])
    assert breakable("abc def", 3) == "abc def"


def test_amounts_stay_together() -> None:
    assert amount("3 543 N") == f"3{THIN}543{TIE}N"
    assert amount("1.2e7 N*mm") == f"1.2·10⁷{TIE}N·mm"
    assert amount("5.5 mm^2") == f"5.5{TIE}mm²"
    assert amount("-0.5") == "-0.5"
    assert amount("12.9 cycles at 60 Hz") == f"12.9{TIE}cycles at 60 Hz"
    assert amount("2.1e-5 1") == f"2.1·10⁻⁵{TIE}1"


@pytest.mark.parametrize(
    "text", ["#panic()", 'x#read("d")', "a $ b", "a \\ b", "[x]", "a @b", '"a#b"', "{x}", "`x`", "~", "a & b", "a'"]
)
def test_maths_lets_no_code_through(text: str) -> None:
    assert maths(text) == ""


def test_every_registered_formula_is_maths_and_sets() -> None:
    """All formulas of the package through the typesetter's maths mode, in symbols and with numbers put in."""
    lines = []
    for formula in load_all().values():
        lines.append(symbol(formula.symbol))
        lines.append(maths(typst_name(formula.symbol)))
        for _, tree in trees(formula):
            plain = typeset(tree)
            assert maths(plain) == plain, (formula.key, plain)
            numbers = dict.fromkeys(formula.parameters, -1.2345e-7) | {"t": 1234567.0}
            put_in = typeset(tree, numbers)
            assert maths(put_in) == put_in, (formula.key, put_in)
            lines += [plain, put_in]
    assert all(lines)
    assert len(lines) > 400
    source = '#for l in json("d.json") { math.equation(block: true, alt: "f", eval(l, mode: "math").body) }'
    assert _set(source, **{"d.json": json.dumps(lines).encode()}).startswith(b"%PDF")

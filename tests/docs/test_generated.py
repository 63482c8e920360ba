"""The generated pages say what the code says today, and the drawings carry every letter."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from functools import cache

import pytest

from jointcalc.check import all_methods
from jointcalc.formula.core import load_all
from jointcalc.section.profile import FAMILIES

from .blocks import ROOT
from .drawings import PROFILES, drawing, letters
from .generate import pages


@cache
def made() -> dict[str, str]:
    return pages()


def test_nothing_is_stale() -> None:
    for name, text in made().items():
        path = ROOT / "docs" / name
        assert path.exists(), f"docs/{name} is not there: run `python -m tests.docs`"
        assert path.read_text(encoding="utf-8") == text, f"docs/{name} is stale: run `python -m tests.docs`"


def test_every_method_and_formula_is_listed() -> None:
    text = made()["methods.md"]
    for key in all_methods():
        assert f"`{key}`" in text
    for formula in load_all().values():
        assert f"**{formula.title}**" in text


@pytest.mark.parametrize("kind", FAMILIES)
def test_drawing_shows_every_letter(kind: str) -> None:
    assert set(FAMILIES[kind].letters()) <= letters(kind)
    root = ElementTree.fromstring(drawing(kind))
    width, height = float(root.attrib["width"]), float(root.attrib["height"])
    for element in root.iter("{http://www.w3.org/2000/svg}text"):
        half = 4.2 * len(element.text or "")
        x, y = float(element.attrib["x"]), float(element.attrib["y"])
        start = x - {"middle": half, "end": 2 * half, "start": 0.0}[element.attrib["text-anchor"]]
        assert start >= 0, f"{element.text} is clipped"
        assert start + 2 * half <= width, f"{element.text} is clipped"
        assert 10 <= y <= height
    page = (ROOT / "docs" / "2-choosing-a-brace.md").read_text(encoding="utf-8")
    assert f"(drawings/{kind}.svg)" in page
    assert set(PROFILES) == set(FAMILIES)

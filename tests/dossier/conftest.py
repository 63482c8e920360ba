"""What the dossier's tests share: projects, finished files, and how a PDF is read back (pypdf, test-only)."""

from __future__ import annotations

import io
import re
import struct
import tomllib
import unicodedata
import zlib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import pytest
from pypdf import PdfReader

from jointcalc.check import check
from jointcalc.dossier import Options, make_dossier
from jointcalc.model.project import Project, read_project
from jointcalc.result import Result

LOADS = {
    "S1": {"shear": "14 kN", "across": "3 kN"},
    "S2": {"shear": "9 kN"},
    "S3": {"shear": "16 kN", "across": "4 kN", "peel": "600 N"},
    "S4": {"shear": "4 kN"},
}
"""Loads of the demo's seams for these tests, so that they do not move with what gives loads there."""


def demo_data() -> dict[str, Any]:
    """The demo project as TOML data: its seams only, so that these tests do not move with other kinds."""
    data = tomllib.loads(files("jointcalc.starter").joinpath("demo.toml").read_text(encoding="utf-8"))
    data = {key: data[key] for key in ("project", "sheet", "case", "seam")}
    for n, seam in enumerate(data["seam"]):
        # the loads of the demo come from its other tables
        del seam["load"]
        seam |= {"case": "racking", **LOADS[seam["id"]]}
        seam["place"] = f"0 {200 * n} 1200 {200 * n} mm"
    data["seam"][0]["alternatives"] = ["A wider lap with two rows of spots"]
    return data


def judged(data: dict[str, Any]) -> tuple[Project, list[Result]]:
    """The project and its results."""
    project = read_project(data)
    return project, [check(item) for item in project.items]


def made(data: dict[str, Any], **options: Any) -> bytes:
    """The PDF of such data."""
    project, results = judged(data)
    return make_dossier(project, results, Options(**options))


def words_of(pdf: bytes | PdfReader) -> str:
    """All text of a file in one line: blanks single, zero-width and soft breaks gone."""
    reader = pdf if isinstance(pdf, PdfReader) else PdfReader(io.BytesIO(pdf))
    return plain(" ".join(page.extract_text() for page in reader.pages))


def plain(text: str) -> str:
    """Text with blanks of any sort as one space and without zero-width characters."""
    kept = "".join(c for c in text if unicodedata.category(c) != "Cf")
    return re.sub(r"[\s\u00a0\u2009\u202f]+", " ", kept)


def tight(text: str) -> str:
    """Text without any blanks: where a line broke plays no part."""
    return plain(text).replace(" ", "")


def outline_titles(reader: PdfReader) -> list[str]:
    """Bookmarks, all levels, in order."""

    def walk(entries: list[Any]) -> Iterator[str]:
        for entry in entries:
            if isinstance(entry, list):
                yield from walk(entry)
            else:
                yield plain(str(entry.title)).strip()

    return list(walk(reader.outline))


def tags(reader: PdfReader) -> list[tuple[str, str]]:
    """(tag, alternative text) of every element of the structure tree, in order."""
    found: list[tuple[str, str]] = []
    stack = [reader.trailer["/Root"]["/StructTreeRoot"]["/K"]]
    while stack:
        node = stack.pop()
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            stack.extend(reversed(node))
        elif isinstance(node, dict):
            if "/S" in node:
                found.append((str(node["/S"]), str(node.get("/Alt", ""))))
            if "/K" in node:
                stack.append(node["/K"])
    return found


def png(width: int = 8, height: int = 6) -> bytes:
    """A small grey picture (PNG, ISO/IEC 15948)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    rows = b"".join(b"\0" + b"\x80" * width for _ in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


@pytest.fixture(scope="session")
def demo() -> tuple[Project, list[Result]]:
    """The demo's seams, judged."""
    return judged(demo_data())


@pytest.fixture(scope="session")
def demo_pdf(demo: tuple[Project, list[Result]]) -> bytes:
    """The demo's dossier: A4, metric, full working."""
    return make_dossier(*demo, Options())


@pytest.fixture(scope="session")
def demo_reader(demo_pdf: bytes) -> PdfReader:
    """The same, read back."""
    return PdfReader(io.BytesIO(demo_pdf))


@pytest.fixture(scope="session")
def demo_text(demo_reader: PdfReader) -> str:
    """Its text."""
    return words_of(demo_reader)

"""Write the generated pages of the documentation: `python -m tests.docs`, from the checkout."""

from __future__ import annotations

from .blocks import ROOT
from .generate import pages

for name, text in pages().items():
    target = ROOT / "docs" / name
    target.parent.mkdir(exist_ok=True)
    if not target.exists() or target.read_text(encoding="utf-8") != text:
        target.write_text(text, encoding="utf-8")
        print(f"written: docs/{name}")

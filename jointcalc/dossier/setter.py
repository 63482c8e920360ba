"""The typesetter of one part of a dossier, here or in a process of its own.

Run as a program, it does what it reads, a word a line, and answers with a line of JSON: what it used is the machine's
again when it ends.  It imports nothing of ours, so that it is up at once.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any


class Setter:
    """Sets part `part` of the dossier in `folder`: template.typ, part-<n>.json, pages.json and the pictures."""

    def __init__(self, folder: str, part: int) -> None:
        self.folder, self.part = folder, part

    def _compiler(self) -> Any:
        """What reads the folder as it now stands; pages laid out before are not laid out again."""
        import typst

        return typst.Compiler(
            str(Path(self.folder, "template.typ")), root=self.folder, font_paths=[], ignore_system_fonts=True,
            sys_inputs={"part": str(self.part)},
        )  # fmt: skip

    def find(self) -> Any:
        """How many pages it takes, and on which everything stands that others refer to."""
        return _found(self._compiler())

    def make(self) -> Any:
        """The same, with the file `part-<n>.pdf` made."""
        compiler = self._compiler()
        made = compiler.compile(format="pdf", pdf_standards=["ua-1"], timestamp=0)
        Path(self.folder, f"part-{self.part}.pdf").write_bytes(made)
        return _found(compiler)


def _found(compiler: Any) -> Any:
    return json.loads(compiler.query("<found>", field="value", one=True))


def main(folder: str, part: str) -> None:
    """Answer the words on standard input until it ends."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_DFL)  # Ctrl-C ends it without a word: who asked answers for it
    setter = Setter(folder, int(part))
    for line in sys.stdin:
        try:
            answer = {"find": setter.find, "make": setter.make}[line.strip()]()
        except Exception as error:
            answer = {"fault": str(error)}
        sys.stdout.write(json.dumps(answer) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(*sys.argv[1:])

"""The dossier: one PDF that documents a project for an inspector.

`make_dossier` turns a project and its results into the bytes of the file.  What is said is gathered view by view
(`cover`, `sheet`, `inputs`, `working`, `compared`, `lists`), `figures` draws, `typeset` lays it out; nothing here
judges anything.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jointcalc.dossier.content import Options as Options
    from jointcalc.dossier.typeset import make_dossier as make_dossier

__all__ = ["Options", "make_dossier"]


def __getattr__(name: str) -> Any:
    if name in __all__:
        from jointcalc.dossier import typeset

        return getattr(typeset, name)
    raise AttributeError(f"module 'jointcalc.dossier' has no attribute '{name}'")

"""The page for the bench: one HTML file that a phone opens from its storage, to build and to inspect by.

`make_bench` turns a project and its results into the bytes of the file.  It asks nothing of a network, holds what is
ticked and measured in the browser, and reads without scripts; nothing here judges anything.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jointcalc.bench.page import make_bench as make_bench

__all__ = ["make_bench"]


def __getattr__(name: str) -> Any:
    if name in __all__:
        from jointcalc.bench import page

        return getattr(page, name)
    raise AttributeError(f"module 'jointcalc.bench' has no attribute '{name}'")

"""Texts that carry what they say: a program that has made a profile or a bead hands it over, and nothing is parsed."""

from __future__ import annotations

from typing import Any

from pydantic import ValidatorFunctionWrapHandler, WrapValidator


class Spelled(str):
    """A text for the reader with the thing `made` that it says, for a field that a builder writes as a text.

    The field keeps it as it is; the model takes `made` and reads no text.
    """

    __slots__ = ("made",)
    made: Any

    def __new__(cls, text: str, made: Any = None) -> Spelled:
        """`text` is what a builder would write."""
        spelled = super().__new__(cls, text)
        spelled.made = made
        return spelled


def _kept(value: Any, read: ValidatorFunctionWrapHandler) -> Any:
    return value if isinstance(value, Spelled) else read(value)


KEPT = WrapValidator(_kept)
"""Of a text field: a `Spelled` stays one."""

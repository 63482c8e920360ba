"""`jointcalc tables`."""

from __future__ import annotations

from typing import Annotated

import typer

from jointcalc.cli.common import Json

EXAMPLES = """Examples:

  jointcalc tables

  jointcalc tables methods

  jointcalc tables show spot_optimum

  jointcalc tables show materials --only DC04

  jointcalc tables show materials --only "A1008 SS" --only A36
"""


def command(
    what: Annotated[
        str, typer.Argument(help="Nothing: list the tables; 'methods': list the check keys; 'show': print one.")
    ] = "list",
    name: Annotated[str | None, typer.Argument(help="The table to show.")] = None,
    only: Annotated[
        list[str] | None,
        typer.Option(
            "--only",
            help='Only rows with these words ("DC04", "A1008 33") or this value of a column ("gauge=18"); '
            "repeat for more.",
        ),
    ] = None,
    json: Json = False,
) -> None:
    """List the tables with their provenance, list every method key, or print one table."""
    from jointcalc.errors import InputError, nearest

    words = ("list", "methods", "show")
    if what not in words:
        raise InputError(
            f"'{what}' is not understood{nearest(what, words)} (accepted: {', '.join(words)})", field="tables"
        )
    if what == "show" and name is None:
        raise InputError("which one? `jointcalc tables` lists the names", field="tables show")
    if what != "show" and name is not None:
        raise InputError(
            f"'{name}' is not expected here; `jointcalc tables show {name}` prints a table", field="tables"
        )
    from jointcalc.show import reference

    if what == "methods":
        reference.print_methods(json, only or ())
    elif what == "show":
        reference.print_table(str(name), json, only or ())
    else:
        reference.print_tables(json, only or ())

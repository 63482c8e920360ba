"""`jointcalc new`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

EXAMPLES = """Examples:

  jointcalc new shop

  jointcalc new van --demo

  jointcalc new --schema > project.schema.json
"""


def command(
    folder: Annotated[
        Path | None, typer.Argument(help="Folder to write the project into; made if it is not there.")
    ] = None,
    demo: Annotated[bool, typer.Option("--demo", help="Write the demo project (an invented van) instead.")] = False,
    schema: Annotated[
        bool, typer.Option("--schema", help="Print the JSON Schema of a project file, for editors.")
    ] = False,
) -> None:
    """Write a commented starter project, or the demo, or print the schema of a project file."""
    from importlib.resources import files

    from jointcalc.cli.common import write
    from jointcalc.errors import InputError
    from jointcalc.files import write_files

    if schema:
        from jointcalc.model.schema import project_schema
        from jointcalc.show.document import dumps

        write(dumps(project_schema()))
        return
    if folder is None:
        raise InputError("which folder? write `jointcalc new FOLDER`", field="FOLDER")
    target = folder / "project.toml"
    if target.exists():
        raise InputError(
            "is already there and is left as it is; take another folder or move it away", where=str(target)
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError(f"cannot be made: {error.strerror}", where=str(folder)) from error
    kept = files("jointcalc.starter")
    made = {target: kept.joinpath("demo.toml" if demo else "starter.toml").read_text(encoding="utf-8")}
    if demo and not (folder / "coupons.csv").exists():
        made[folder / "coupons.csv"] = kept.joinpath("coupons.csv").read_text(encoding="utf-8")
    write_files(dict(made))
    write(f"Wrote {target}. Next: jointcalc check {target}")

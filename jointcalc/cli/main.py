"""Finds the command, runs it, and turns errors into one message and an exit code.

Exit codes: 0 all hold; 1 something is over or outside; 2 the input is wrong; 3 a fault of ours;
130 interrupted.
"""

from __future__ import annotations

import os
import sys
from importlib import import_module
from typing import NoReturn

COMMANDS: dict[str, tuple[str, str]] = {
    "seam": ("jointcalc.cli.seam", "Spot-welded seam: does this pitch, sheet and spot carry the load?"),
    "fillet": ("jointcalc.cli.fillet", "Arc welds along lines: fillets, flare and butt welds, single or as a group."),
    "plug": ("jointcalc.cli.plug", "Plug (rosette), slot and arc spot welds: hole, pitch, shear and uplift."),
    "bolts": ("jointcalc.cli.bolts", "Bolts, rivet nuts and blind rivets in sheet, alone or in a group, with plates."),
    "check": ("jointcalc.cli.check", "Judge every item of a project file."),
    "tables": ("jointcalc.cli.tables", "List the tables and methods with their sources, or print one table."),
    "new": ("jointcalc.cli.new", "Write a commented starter project, or the demo."),
}
"""Command -> (module with a function `command`, one-line help)."""

EXAMPLES = """Examples:

  jointcalc new shop --demo && jointcalc check shop/project.toml

  jointcalc seam --sheet "1.2 mm" --sheet "1.2 mm" --grade DC04 --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm" --shear "12 kN"
"""  # noqa: E501 - a command line to copy


def _app(only: str | None) -> object:
    """The typer application, with one command or (for the help page) with all of them."""
    import typer

    app = typer.Typer(
        name="jointcalc",
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        add_completion=True,
        help="Strength of welded and bolted sheet-metal structure, by every published method that applies.",
        epilog=EXAMPLES,
    )

    @app.callback(invoke_without_command=True)
    def top(
        version: bool = typer.Option(False, "--version", help="Print the version and stop."),
    ) -> None:
        """Strength of welded and bolted sheet-metal structure, by every published method that applies."""
        if version:
            from jointcalc.version import VERSION

            typer.echo(f"jointcalc {VERSION}")
            raise typer.Exit

    for name, (module, line) in COMMANDS.items():
        if only is None or only == name:
            found = import_module(module)
            app.command(name, help=found.command.__doc__, short_help=line, epilog=getattr(found, "EXAMPLES", None))(
                found.command
            )
    return app


def run(argv: list[str] | None = None) -> NoReturn:
    """Entry point of the `jointcalc` command."""
    import gc

    # a short-lived process that mostly imports: collecting while it does costs a tenth of its time
    gc.set_threshold(100_000, 50, 50)
    # jointcalc uses no pydantic plugin; searching the environment for some costs as much as a check
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    args = list(sys.argv[1:] if argv is None else argv)
    sys.exit(_run(args))


def _run(args: list[str]) -> int:
    from jointcalc.errors import InputError

    only = next((a for a in args if not a.startswith("-")), None)
    if only not in COMMANDS:
        if only is not None and not any(v.startswith("_JOINTCALC_COMPLETE") for v in os.environ):
            from jointcalc.errors import nearest

            return _say(f"'{only}' is not a command{nearest(only, COMMANDS)} (commands: {', '.join(COMMANDS)})", 2)
        only = None
    try:
        app = _app(only)
        code = app(args=args, prog_name="jointcalc", standalone_mode=False)  # type: ignore[operator]
    except InputError as error:
        return _say(str(error), 2)
    except KeyboardInterrupt:
        return _say("interrupted", 130)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        return _typer_error(error)
    return int(code) if isinstance(code, int) else 0


def _typer_error(error: Exception) -> int:
    """Usage errors of the option parser as one message; anything else is a fault of ours."""
    kind = type(error).__name__
    if kind == "Exit":
        return int(getattr(error, "exit_code", 0))
    if kind == "Abort":
        return _say("interrupted", 130)
    if hasattr(error, "format_message") and hasattr(error, "exit_code"):
        context = getattr(error, "ctx", None)
        where = getattr(context, "command_path", "jointcalc")
        return _say(f"{error.format_message()} (`{where} --help` shows what is accepted)", 2)
    if os.environ.get("JOINTCALC_TRACEBACK"):
        raise error
    return _say(
        f"a fault of jointcalc's own ({kind}: {error}); nothing was judged. Please report it with the command you ran; "
        "JOINTCALC_TRACEBACK=1 shows where.",
        3,
    )


def _say(message: str, code: int) -> int:
    sys.stdout.flush()
    print(f"jointcalc: {message}", file=sys.stderr)  # noqa: T201 - the one place messages leave by
    return code

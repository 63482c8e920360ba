"""Finds the command, runs it, and turns errors into one message and an exit code.

Exit codes: 0 all hold; 1 something is over or outside; 2 the input is wrong; 3 a fault of ours;
130 interrupted.
"""

from __future__ import annotations

import os
import re
import sys
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, NoReturn

from jointcalc.files import flush_stdout, lost
from jointcalc.registry import KINDS

COMMANDS: dict[str, tuple[str, str]] = {
    **{name: (kind.command.partition(":")[0], kind.help) for name, kind in KINDS.items()},
    "frame": ("jointcalc.kinds.frame.command", "Floor frames of a project file: deflection, member forces, reactions."),
    "body": ("jointcalc.cli.body", "The body of a project file: what its twist and bending put on each part."),
    "check": ("jointcalc.cli.check", "Judge every item of a project file."),
    "dossier": ("jointcalc.cli.dossier", "Write the dossier: one PDF with drawings, methods, working and sources."),
    "layout": ("jointcalc.cli.layout", "Mark out: DXF and full-size PDF of every joint and blank, and the cut list."),
    "coupons": ("jointcalc.cli.coupons", "Your own welds: a log of coupons, what strength they show, which to make."),
    "tables": ("jointcalc.cli.tables", "List the tables and methods with their sources, or print one table."),
    "add": ("jointcalc.cli.add", "Ask for an item, question by question, and add it to a project file."),
    "new": ("jointcalc.cli.new", "Write a commented starter project, or the demo."),
}
"""Command -> (module with a function `command`, one-line help)."""

INTERRUPTED = 130

EXAMPLES = """Examples:

  jointcalc new shop --demo && jointcalc check shop/project.toml

  jointcalc seam --sheet "1.2 mm" --sheet "1.2 mm" --grade DC04 --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm" --shear "12 kN"
"""  # noqa: E501 - a command line to copy


WIDE = 76
"""Columns of a help page that an example may take."""


def folded(examples: str) -> str:
    """The examples as a help page shows them: long lines broken between options so that they can still be copied."""
    told = []
    for line in examples.splitlines():
        if not line.startswith("  "):
            told.append(line)
            continue
        rows = [""]
        for word in re.split(r" (?=--?[a-z]|&&|> )", line.strip()):
            if rows[-1] and len(rows[-1]) + len(word) > WIDE - 2:
                rows[-1] += " \\"
                rows.append("    " + word)
            else:
                rows[-1] += f" {word}" if rows[-1] else word
        # the mark keeps the help page from filling the lines again
        told += ["\b", *rows]
    return "\n".join(told)


def _app(only: str | None, *, whole: bool = False) -> object:
    """The typer application: with one command, with the names of all for the help page, or `whole` for completion."""
    import typer

    app = typer.Typer(
        name="jointcalc",
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        add_completion=True,
        help="Strength of welded and bolted sheet-metal structure, by every published method that applies.",
        epilog=folded(EXAMPLES),
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
        if only is None and not whole:
            app.command(name, short_help=line)(_listed)  # the help page shows its name and line, and imports nothing
        elif only is None or only == name:
            found = import_module(module)
            how = {"help": found.command.__doc__, "short_help": line, "epilog": folded(found.EXAMPLES)}
            app.command(name, cls=_grouped(), **how)(found.command)
    return app


@cache
def _grouped() -> Any:
    """A command whose help page shows its options in the groups they name; what names none answers."""
    from typer.core import TyperCommand

    from jointcalc.cli.options import ANSWER, GROUPS

    class Grouped(TyperCommand):
        def format_options(self, ctx: Any, formatter: Any) -> None:
            told: dict[str, list[tuple[str, str]]] = {"Arguments": [], **{group: [] for group in GROUPS}}
            named = any(getattr(one, "rich_help_panel", None) for one in self.params)
            for one in self.get_params(ctx):
                record = one.get_help_record(ctx)
                if record is not None:
                    own = getattr(one, "rich_help_panel", None) or (ANSWER if named else "Options")
                    told.setdefault("Arguments" if one.param_type_name == "argument" else own, []).append(record)
            for group, records in told.items():
                if records:
                    with formatter.section(group):
                        formatter.write_dl(records)

    return Grouped


def _listed() -> None:
    """Stands for a command on the help page of all."""


WRITTEN = {str: "text", int: "count", float: "number", Path: "path"}
"""What a builder writes after an option, in his words."""


def _say_what_is_written(command: Any, function: Any) -> None:
    """A help page shows `<text>`, not the name of a type; `...` where the option may be repeated."""
    from typing import get_args, get_origin, get_type_hints

    hints = get_type_hints(function)
    for option in command.params:
        hint = hints.get(option.name)
        kinds = [k for k in (get_args(hint) if get_origin(hint) is not list else (hint,)) or (hint,) if k is not None]
        inner = [k for k in (*kinds, *(a for k in kinds for a in get_args(k))) if k in WRITTEN]
        if inner and any(name.startswith("-") for name in option.opts):
            option.metavar = f"<{WRITTEN[inner[0]]}>" + ("..." if any(get_origin(k) is list for k in kinds) else "")


def run(argv: list[str] | None = None) -> NoReturn:
    """Entry point of the `jointcalc` command."""
    import atexit
    import gc

    # a short-lived process that mostly imports: collecting while it does costs a tenth of its time (the dossier of the
    # demo makes some 150,000 things that may point to each other, and is through without)
    gc.set_threshold(250_000, 50, 50)
    # and walking all that was judged once more before the process ends another tenth
    atexit.register(gc.freeze)
    # jointcalc uses no pydantic plugin; searching the environment for some costs as much as a check
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # the systems solved here are small: on a busy machine threads wait for one another five times longer than they work
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    args = list(sys.argv[1:] if argv is None else argv)
    if sys.stdout is None:  # closed by the caller: there is nowhere to print an answer
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - lives as long as the process
        sys.exit(_say("stdout is closed; there is nowhere to print the answer", 2))
    if sys.stderr is None:  # nobody hears a message, but the exit code tells
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - the same
    for stream in (sys.stdout, sys.stderr):
        # where the terminal's encoding lacks a character of a drawing or a source, a question mark stands for it
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    sys.exit(_run(args))


def _run(args: list[str]) -> int:
    from jointcalc.errors import InputError

    completing = any(name.startswith("_JOINTCALC_COMPLETE") for name in os.environ)
    if not args and not completing:
        args = ["--help"]
    only = next((a for a in args if not a.startswith("-")), None)
    if only not in COMMANDS:
        if only is not None and not completing:
            from jointcalc.errors import nearest

            return _say(f"'{only}' is not a command{nearest(only, COMMANDS)} (commands: {', '.join(COMMANDS)})", 2)
        only = None
    try:
        from typer.main import get_command

        group = get_command(_app(only, whole=completing))  # type: ignore[arg-type]
        if only is not None:
            command = group.commands[only]  # type: ignore[attr-defined]
            _refuse_twice(command, args)
            if "--help" in args:
                _say_what_is_written(command, import_module(COMMANDS[only][0]).command)
        code = group.main(args=args, prog_name="jointcalc", standalone_mode=False)
        if code == INTERRUPTED:
            return _say("interrupted", code)
        flush_stdout()
    except InputError as error:
        return _say(str(error), 2)
    except KeyboardInterrupt:
        return _say("interrupted", INTERRUPTED)
    except Exception as error:
        return _typer_error(error, args)
    return int(code) if isinstance(code, int) else 0


def _refuse_twice(command: Any, args: list[str]) -> None:
    """An option given twice that takes one value: the parser would keep the last and say nothing."""
    from jointcalc.errors import InputError

    once = {name for p in command.params if not getattr(p, "multiple", False) for name in getattr(p, "opts", ())}
    seen: set[str] = set()
    for word in args:
        name = word.partition("=")[0]
        if name in once and name.startswith("--"):
            if name in seen:
                raise InputError("is given twice, but takes one value; leave one of them out", field=name)
            seen.add(name)


def _typer_error(error: Exception, args: list[str]) -> int:
    """Usage errors of the option parser as one message; anything else is a fault of ours."""
    kind = type(error).__name__
    if kind == "Exit":
        return int(getattr(error, "exit_code", 0))
    if kind == "Abort":
        return _say("interrupted", INTERRUPTED)
    if hasattr(error, "format_message") and hasattr(error, "exit_code"):
        context = getattr(error, "ctx", None)
        where = getattr(context, "command_path", "jointcalc")
        named = next((a for a in args if a in COMMANDS), "")
        where = where if context is not None or not named else f"jointcalc {named}"
        message = _not_a_number(error, args) or error.format_message()
        return _say(f"{message} (`{where} --help` shows what is accepted)", 2)
    if os.environ.get("JOINTCALC_TRACEBACK"):
        raise error
    return _say(
        f"a fault of jointcalc's own ({kind}: {error}); nothing was judged. Please report it with the command you ran; "
        "JOINTCALC_TRACEBACK=1 shows where.",
        3,
    )


def _not_a_number(error: Exception, args: list[str]) -> str:
    """The option parser's jargon for a text that is no number, as option, value and what is accepted."""
    told = str(getattr(error, "message", ""))
    options = [o for o in getattr(getattr(error, "param", None), "opts", ()) if o.startswith("--")]
    if not any(words in told for words in ("unable to parse", "is not a valid")) or not options:
        return ""
    read, word = (int, "a whole number") if "integer" in told else (float, "a number")
    pairs = [(a, b) for a, b in zip([*args, ""], [*args[1:], ""]) if a in options]
    pairs += [(a.partition("=")[0], a.partition("=")[2]) for a in args if "=" in a]
    for option, value in pairs:
        if option in options:
            try:
                read(value)
            except ValueError:
                return f"{option}: '{value[:60]}' is not {word}"
    return ""


def nowhere_to(error: OSError) -> int:
    """The exit code of an answer that stdout did not take: a reader who has gone is no fault, a full disk is told."""
    from jointcalc.errors import InputError

    try:
        lost(error)
    except InputError as told:
        return _say(str(told), 2)
    return 0


def _say(message: str, code: int) -> int:
    flush_stdout()
    from jointcalc.quantity.letters import spelt

    # what was typed is told back; a control character in it must not reach the terminal
    message = spelt(message.replace("\t", " "))
    print(f"jointcalc: {message}", file=sys.stderr)  # noqa: T201 - the one place messages leave by
    return code

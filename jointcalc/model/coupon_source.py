"""The `[coupons]` of a project: which log, and which machine of it makes the seams and the plugs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar

from pydantic import model_validator

from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.model.fields import Described, Said, build, refuse
from jointcalc.model.sheet import Sheet

if TYPE_CHECKING:  # the reader of logs is imported where a project names one
    from jointcalc.model.coupon_log import CouponLog, Group


class CouponSource(Described):
    """Where the coupons of a project are logged, and which machine of the log welds what.

    A log holds coupons of several machines; which of them makes the seams and which the plugs is said here, because
    nobody else knows.
    """

    word: ClassVar[str] = "log"
    file: Annotated[str, Said("The log, a CSV file beside the project.")]
    machine: Annotated[str, Said("Machine that makes the seams, by its name in the log.")] = ""
    plug_machine: Annotated[str, Said("Machine that makes plug and arc spot welds, in the same way.")] = ""

    @model_validator(mode="after")
    def _machines(self) -> Any:
        from jointcalc.model.coupon_log import same_name

        if not (self.machine.strip() or self.plug_machine.strip()):
            raise refuse(
                "machine: is missing; say which machine of the log makes the seams ('plug_machine': the plugs)"
            )
        if same_name(self.machine) == same_name(self.plug_machine):
            raise refuse(
                "plug_machine: is the machine of the seams; a log could not tell spots from plugs then, so give the "
                "two different names in it"
            )
        return self


@dataclass(frozen=True, eq=False)
class Tested:
    """What a row of welds may be matched with: the groups of the log that its machine made."""

    groups: tuple[Group, ...]
    log: str
    own: tuple[Group, ...] = ()
    """Those of the stack that the project describes."""

    def of(self, sheets: Iterable[Sheet], *, turned: bool) -> tuple[Group, ...]:
        """The groups of that stack; `turned` takes it from either side.

        Of a stack that is asked for in trial (the same with sheets at their thinnest) and has none, those of the stack
        that was described: a method must not drop out where the joint gets weaker.
        """
        from jointcalc.model.coupon_log import sheet_key

        keys = [sheet_key(sheet) for sheet in sheets]
        wanted = {" + ".join(keys), *({" + ".join(reversed(keys))} if turned else ())}
        return tuple(group for group in self.groups if group.stack.key in wanted) or self.own


def log_of(source: CouponSource, project: Path | None) -> CouponLog:
    """The log that a project names.  Raises InputErrors: it is not there, cannot be read, or lacks the machine."""
    from jointcalc.model.coupon_log import read_log, same_name

    if project is None:
        raise InputError("a log is found beside a project's file; this project was not read from one", field="file")
    place = project.parent / source.file
    if not place.exists():
        raise InputError(
            f"there is no '{source.file}' beside the project; `jointcalc coupons add` begins one", field="file"
        )
    log = read_log(place)
    known = {same_name(c.machine): c.machine for c in log.coupons}
    for field in ("machine", "plug_machine"):
        name = getattr(source, field)
        if name and same_name(name) not in known:
            names = sorted(filter(None, known.values()))
            told = ", ".join(names) or "none is named"
            raise InputError(f"the log has no coupon of '{name}'{nearest(name, names)} (machines: {told})", field=field)
    return log


def tested_by(log: CouponLog, source: CouponSource, sheets: Iterable[Sheet], *, plugs: bool) -> Tested | None:
    """What the machine of the seams, or of the plugs, has in the log; None where none is named.

    A group that says it is of the other sort of weld is left out.
    """
    from jointcalc.model.coupon_log import same_name

    machine = source.plug_machine if plugs else source.machine
    if not machine.strip():
        return None
    own = same_name(machine)
    groups = (g for g in log.groups if same_name(g.first.machine) == own and (plugs or not g.of_arc_weld))
    found = Tested(tuple(groups), log.name)
    return replace(found, own=found.of(sheets, turned=not plugs))


def named_log(
    found: list[InputError], head: Any, where: str, project: Path | None
) -> tuple[CouponSource | None, CouponLog | None]:
    """What a project's `[coupons]` says and the log it names, read once for all; faults go into `found`."""
    if head is None:
        return None, None
    if not isinstance(head, Mapping):
        found.append(InputError("write it as one table, [coupons]", where=where))
        return None, None
    source = None
    try:
        source = build(CouponSource, head, where=where, written=True)
        return source, log_of(source, project)
    except InputErrors as error:
        found += [fault.at(where=where) for fault in error.faults]
    except InputError as error:
        found.append(error.at(where=where))
    return source, None


def beside_coupons(items: Iterable[Any], source: CouponSource | None, log: CouponLog | None) -> list[Any]:
    """The items, every seam and row of plugs beside the coupons of its machine."""
    if source is None or log is None:
        return list(items)
    from jointcalc.model.plug import PlugRow
    from jointcalc.model.row import WeldRow

    return [
        one.with_tests(tested_by(log, source, one.sheets, plugs=isinstance(one, PlugRow)))  # type: ignore[attr-defined]
        if isinstance(one, WeldRow)
        else one
        for one in items
    ]

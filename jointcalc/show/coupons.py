"""Coupons for a reader: each group with its loads drawn over time, limits, tests by name, marks; JSON, SVG."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jointcalc.check.coupon_limits import LEAST_FOR_SHAPE, SIGNIFICANT, Sample
from jointcalc.check.coupon_marks import sample_of
from jointcalc.check.coupons import check_group
from jointcalc.model.coupon_log import Group, same_name
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, show_in
from jointcalc.result import Result, collect
from jointcalc.show import terminal
from jointcalc.show.canvas import Canvas
from jointcalc.show.document import overall
from jointcalc.version import VERSION

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

VERDICT = {"ok": "PASSES", "over": "FAILS ITS MARK", "outside": "NO CONCLUSION"}
WIDE, HIGH = 116, 44
"""Dots of the plot."""
LIMITS = {
    "normal": "normal", "lognormal": "log-normal", "weibull": "Weibull", "rank": "no distribution",
    "anova": "over batches",
}  # fmt: skip
Line = tuple[str, float]


def document(results: Sequence[Result]) -> dict[str, Any]:
    """The JSON of a log: one group gives its values directly, several stand in `items`.

    Where all that carry loads are of one stack and test, the values over all of them stand on top as well: settings and
    days are their batches.
    """
    told = [_group(result) for result in results]
    if len(told) == 1:
        return told[0]
    together = over_all(results)
    return {
        "jointcalc": VERSION, "kind": "coupons", "status": overall(results), "items": told,
        **({} if together is None else {"values": {n: a.json() for n, a in together.values.items()}}),
        "cautions": [c.json() for c in collect(c for r in results for c in r.cautions)],
    }  # fmt: skip


def over_all(results: Sequence[Result]) -> Result | None:
    """All coupons with loads as one set, where they are of one stack and test; None where they are not."""
    loaded = [r.model for r in results if r.model.loaded]
    same = {(g.stack.key or same_name(g.first.stack), g.test, g.of_arc_weld) for g in loaded}
    if len(same) != 1:
        return None
    return check_group(Group(tuple(sorted((c for g in loaded for c in g.coupons), key=lambda c: c.line))))


def _group(result: Result) -> dict[str, Any]:
    group: Group = result.model
    first = group.first
    return {
        **result.json(), "unjudged": [str(text) for text in result.unjudged], "machine": first.machine,
        "setting": first.setting, "stack": first.stack, "test": first.test, "coupons": len(group.coupons),
        "first_day": min(c.date for c in group.coupons).isoformat(),
        "last_day": max(c.date for c in group.coupons).isoformat(), "tests": tests(sample_of(group)),
    }  # fmt: skip


def tests(sample: Sample) -> dict[str, Any]:
    """The tests by name: what each found and what it is held against; None where it could not be made."""
    found: dict[str, Any] = {
        "anderson_darling": {"significance": sample.normality, "doubted_below": SIGNIFICANT},
        "shapiro_wilk": {"significance": sample.shapiro, "doubted_below": SIGNIFICANT},
        "maximum_normed_residual": None, "k_sample_anderson_darling": None, "f_test": None, "trend": None,
    }  # fmt: skip
    if sample.outlier:
        load, residual, critical = sample.outlier
        found["maximum_normed_residual"] = {
            "load": load, "value": residual, "critical": critical, "outlier": residual > critical,
        }  # fmt: skip
    if sample.batches_differ:
        statistic, critical, tail = sample.batches_differ
        found["k_sample_anderson_darling"] = {
            "value": statistic, "critical": critical, "differ": statistic > critical,
        }  # fmt: skip
        found["f_test"] = {"significance": tail, "batches": len(sample.by_batch)}
    if sample.trend:
        slope, chance = sample.trend
        over = "day" if len(set(sample.days)) >= 3 else "coupon"
        found["trend"] = {"slope": slope, "per": over, "significance": chance, "falling": sample.falling}
    return found


# --- terminal -------------------------------------------------------------------------------------------------------


def print_groups(results: Sequence[Result], out: Out, system: System) -> None:
    """Every group in full, then the cautions of all."""
    for result in results:
        _print(result, out, system)
    together = over_all(results)
    if together is not None and sum(bool(r.model.loaded) for r in results) > 1:
        told = ", ".join(
            f"{words} {_amount(together, name, system)}"
            for words, name in (
                ("mean", "mean"),
                ("normal 90/95", "normal_90_95"),
                ("over batches 90/95", "anova_90_95"),
            )
        )
        terminal.hang(out, "", f"all {together.values['n'].value:g} loads of this stack and test together: {told}")
        out.print()
    terminal.print_cautions(collect(c for r in results for c in r.cautions), out, system)


def _print(result: Result, out: Out, system: System) -> None:
    group: Group = result.model
    sample = sample_of(group)
    terminal.hang(out, "", f"coupons: {group.title}; {len(group.coupons)} of {group.dates}")
    out.print(VERDICT[result.status], style=terminal.STYLE[result.status])
    for why in result.unjudged:
        terminal.hang(out, "", printed(why, system), style="bold")
    if group.stack.why:
        terminal.hang(out, "  - ", f"the stack is only a name here, so nothing is compared: {group.stack.why}")
    if group.of_arc_weld:
        terminal.hang(
            out, "  - ", "coupons of arc welds: no mark of a resistance spot and no handbook stands beside them"
        )
    if group.test == "torsion" and sample.n:
        terminal.hang(out, "  - ", "torsion: the load is the force at the lever, comparable only at the same arm")
    for line in plot(result, system):
        out.print(line)
    if sample.n:
        _limits(result, out, system)
        _design(result, out, system)
        _tests(sample, out, system)
    for check in result.checks:
        capacity, demand = (
            "-" if a is None or a.value is None else show_in(a.value, a.unit, system)
            for a in (check.capacity, check.demand)
        )
        if check.status == "outside":
            terminal.hang(out, "  ", f"{check.title}: not judged, {printed(check.note, system)}")
            continue
        word = "ok" if check.status == "ok" else "TOO SMALL"
        told = (
            f"{check.title} {capacity}, at least {demand} asked: {word} ({check.source}; {printed(check.note, system)})"
        )
        terminal.hang(out, "  ", told)
    out.print()


def _amount(result: Result, name: str, system: System) -> str:
    found = result.values.get(name)
    return "-" if found is None or found.value is None else show_in(found.value, found.unit, system)


def _limits(result: Result, out: Out, system: System) -> None:
    n = result.values["n"].value or 0
    variation = result.values["variation"].value
    spread = "" if variation is None else f", {variation:.1%} of the mean"
    mean, deviation, least = (_amount(result, name, system) for name in ("mean", "deviation", "least"))
    out.print(f"  {n:g} loads: mean {mean}, deviation {deviation}{spread}, least {least}")
    out.print(f"  {'lower limit, 95 % confidence':<30}{'90 of 100 pass':>15}{'99 of 100 pass':>15}")
    notes: dict[str, list[str]] = {}
    for which, words in LIMITS.items():
        cells = [_amount(result, f"{which}_{name}", system) for name in ("90_95", "99_95")]
        out.print(f"    {words:<28}{cells[0]:>15}{cells[1]:>15}".rstrip())
        for name in ("90_95", "99_95"):
            note = result.values[f"{which}_{name}"].note
            if note:
                notes.setdefault(note, []).append(f"{words} {name.replace('_', '/')}")
    for note, of in notes.items():
        terminal.hang(out, "    - ", f"{', '.join(of)}: {note}")


def _design(result: Result, out: Out, system: System) -> None:
    omega = result.values["aisi_omega"]
    rows = [
        ("5 % value of the next weld (EN 1990 D7.2)", "en1990_characteristic"),
        ("design value directly (EN 1990 D7.3)", "en1990_design"),
        (
            f"mean / {omega.value:.2f} (AISI S100 K2.1.1)" if omega.value else "mean / Ω (AISI S100 K2.1.1)",
            "aisi_allowable",
        ),
    ]
    said = ""
    for words, name in rows:
        note = result.values[name].note
        out.print(f"    {words:<44}{_amount(result, name, system):>14}")
        if note and note != said:
            terminal.hang(out, "    - ", note)
        said = note


def _tests(sample: Sample, out: Out, system: System) -> None:
    told = []
    if sample.normality is not None:
        told.append(
            f"normal? Anderson-Darling {sample.normality:.2g}, Shapiro-Wilk {sample.shapiro:.2g} (doubted below 0.05)"
        )
    elif sample.n < LEAST_FOR_SHAPE:
        told.append(f"normal? not tested below {LEAST_FOR_SHAPE} coupons")
    if sample.outlier:
        load, residual, critical = sample.outlier
        word = "an outlier" if residual > critical else "none"
        told.append(
            f"outlier? {word}: {show_in(load, 'N', system)} lies {residual:.2f} deviations off, {critical:.2f} is "
            "critical (maximum normed residual)"
        )
    if sample.batches_differ:
        statistic, critical, tail = sample.batches_differ
        word = "THEY DIFFER" if sample.differing else "alike"
        told.append(
            f"days alike? {word}: k-sample Anderson-Darling {statistic:.2f}, {critical:.2f} is "
            f"critical; F test {tail:.2g}"
        )
    if sample.trend:
        slope, chance = sample.trend
        over = "day" if len(set(sample.days)) >= 3 else "coupon"
        word = "FALLING" if sample.falling else "no fall beyond chance"
        told.append(f"tip wear? {word}: {show_in(slope, 'N', system, 3)} a {over}, chance {chance:.2g}")
    for line in told:
        terminal.hang(out, "    ", line)


def lines_of(result: Result) -> list[Line]:
    """The level lines of a plot: mean, limit, what the handbook gives."""
    found: list[Line] = []
    for words, name in (("mean", "mean"), ("90/95", "normal_90_95"), ("handbook", "handbook")):
        amount = result.values.get(name)
        if amount is not None and amount.value is not None:
            found.append((words, amount.value))
    return found


def points_of(group: Group) -> list[tuple[float, float]]:
    """(days from the first, or number in the log; load [N]) of every coupon with a load."""
    loaded = group.loaded
    if len({c.date for c in loaded}) >= 2:
        start = min(c.date for c in loaded).toordinal()
        return [(float(c.date.toordinal() - start), float(c.load or 0.0)) for c in loaded]
    return [(float(n), float(c.load or 0.0)) for n, c in enumerate(loaded)]


def plot(result: Result, system: System) -> list[str]:
    """Loads over time in dots, mean, limit and handbook as level lines named at their right end."""
    group: Group = result.model
    points, level = points_of(group), lines_of(result)
    if len(points) < 2:
        return []
    values = [y for _, y in points] + [y for _, y in level]
    low, high = min(values), max(values)
    if high - low < 1e-9 * max(high, 1.0):
        return []
    last = max(x for x, _ in points) or 1.0
    canvas = Canvas(WIDE, HIGH)

    def up(value: float) -> float:
        return 3 + (HIGH - 7) * (value - low) / (high - low)

    for words, value in level:
        step = {"mean": 1, "90/95": 3, "handbook": 6}[words]
        canvas.dots((float(x), up(value)) for x in range(0, WIDE, step))
    for x, y in points:
        at = 3 + (WIDE - 7) * x / last
        canvas.dots((at + i, up(y) + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
    rows = canvas.lines()
    names: dict[int, list[str]] = {}
    for words, value in level:
        row = len(rows) - 1 - int(up(value)) // 4
        names.setdefault(row, []).append(f"{words} {show_in(value, 'N', system, 3)}")
    drawn = []
    for k, dots in enumerate(rows):
        drawn.append(f"  {dots.ljust(WIDE // 2)} {', '.join(names.get(k, []))}".rstrip())
    first = min(c.date for c in group.loaded)
    same = len({c.date for c in group.loaded}) < 2
    foot = (
        f"{len(points)} coupons in the order of the log" if same else f"{first} to {max(c.date for c in group.loaded)}"
    )
    return [*drawn, f"  {foot}"]


# --- SVG ------------------------------------------------------------------------------------------------------------


def write_svg(results: Sequence[Result], path: Path, system: System) -> None:
    """The plots of all groups with loads, one above the other.  Raises InputError when there is nothing to plot."""
    from io import BytesIO

    from matplotlib import rc_context
    from matplotlib.figure import Figure

    from jointcalc.errors import InputError
    from jointcalc.files import write_file
    from jointcalc.quantity.units import POUND_FORCE

    shown = [r for r in results if r.model.loaded]
    if not shown:
        raise InputError("no coupon of this log has a load; there is nothing to plot", field="--svg")
    factor, unit = (1e-3, "kN") if system == "metric" else (1 / POUND_FORCE, "lbf")
    with rc_context({"svg.hashsalt": "jointcalc", "svg.fonttype": "none", "font.size": 8}):
        figure = Figure(figsize=(7.0, 2.6 * len(shown)), layout="constrained")
        for n, result in enumerate(shown):
            _axes(figure.add_subplot(len(shown), 1, n + 1), result, factor, unit)
        made = BytesIO()
        figure.savefig(made, format="svg", metadata={"Date": None, "Creator": "jointcalc"})
    write_file(path, made.getvalue())


def _axes(axes: Any, result: Result, factor: float, unit: str) -> None:
    group: Group = result.model
    points = points_of(group)
    axes.plot(
        [x for x, _ in points], [y * factor for _, y in points], "o", color="#000000", markersize=4, gid="coupons"
    )
    dashes = {"mean": "-", "90/95": "--", "handbook": ":"}
    for words, value in lines_of(result):
        axes.axhline(value * factor, linestyle=dashes[words], color="#404040", linewidth=0.9, gid=words)
        axes.annotate(
            f"{words} {value * factor:.3g} {unit}", (1.0, value * factor), xycoords=("axes fraction", "data"),
            xytext=(4, 0), textcoords="offset points", va="center",
        )  # fmt: skip
    same = len({c.date for c in group.loaded}) < 2
    axes.set_xlabel("coupon" if same else f"days from {min(c.date for c in group.loaded)}")
    axes.set_ylabel(f"load [{unit}]")
    axes.set_title(group.title.replace("$", r"\$"), fontsize=8, loc="left")

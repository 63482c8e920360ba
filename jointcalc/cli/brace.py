"""`jointcalc brace`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer

from jointcalc.cli.common import HandbookFactor, Json, LoadFactor, Purpose, Steps, Units

EXAMPLES = """Examples:

  jointcalc brace --profile "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm" --profile "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm" --grade S355MC --span "1000 mm" --point "750 N @ 500 mm" --spread "1 N/mm" --lies crown-up --over webs --held both --limit-deflection "L/160"

  jointcalc brace --profile "hat:top=30mm..60mm,depth=20mm..50mm,flange=20mm,t=0.8mm..2mm,r=2mm" --grade S355MC --span "1000 mm" --point "750 N @ 500 mm" --over webs --limit-deflection "3 mm" --find lightest
"""  # noqa: E501 - command lines to copy

FINDS = ("lightest", "pitch")
LONG = 20_000
"""Candidates from which on a progress bar is worth its line."""


def command(
    profile: Annotated[
        list[str],
        typer.Option("--profile", help='A profile, such as "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm".'),
    ],
    grade: Annotated[list[str], typer.Option("--grade", help="Grade of all profiles, or one for each.")],
    span: Annotated[str, typer.Option("--span", help='The span, or several: "1000 mm", "800 600 mm".')],
    point: Annotated[
        list[str] | None, typer.Option("--point", help='A force and its place: "750 N @ 500 mm" (repeat for more).')
    ] = None,
    spread: Annotated[
        list[str] | None,
        typer.Option("--spread", help='A load per length: "1 N/mm", or "1 N/mm @ 200 mm..600 mm" for a part.'),
    ] = None,
    moment: Annotated[
        list[str] | None, typer.Option("--moment", help='A couple, clockwise: "50 N*m @ 300 mm".')
    ] = None,
    mass: Annotated[
        list[str] | None, typer.Option("--mass", help='A mass that rides along, for the frequency: "15 kg @ 500 mm".')
    ] = None,
    ends: Annotated[
        str, typer.Option("--ends", help='pinned, fixed, cantilever, "fixed pinned", or "5e7 1e7 N*mm/rad".')
    ] = "pinned",
    compression: Annotated[str, typer.Option("--compression", help="Service compression along the brace.")] = "0 N",
    tension: Annotated[str, typer.Option("--tension", help="Service tension along the brace.")] = "0 N",
    eccentricity: Annotated[
        str | None,
        typer.Option("--eccentricity", help="How far compression or tension acts above or below the centroid."),
    ] = None,
    effective_length: Annotated[
        float, typer.Option("--effective-length", help="Factor on the span for buckling as a strut.")
    ] = 1.0,
    held: Annotated[
        str, typer.Option("--held", help="Face kept from moving sideways: none, top, bottom or both.")
    ] = "none",
    lies: Annotated[
        str | None,
        typer.Option("--lies", help="Which way up: crown-up (as drawn) or flanges-up; both are judged if left out."),
    ] = None,
    over: Annotated[
        str | None,
        typer.Option("--over", help="Loads stand over the webs, or on the flat; the flat is judged if left out."),
    ] = None,
    bearing: Annotated[
        str | None, typer.Option("--bearing", help="Length over which supports and loads press on the webs.")
    ] = None,
    overhang: Annotated[
        str, typer.Option("--overhang", help="How far the brace runs on beyond the bearings at its ends.")
    ] = "0 mm",
    fastened: Annotated[
        bool, typer.Option("--fastened/--loose", help="Welded or bolted to its supports, or lying on them.")
    ] = True,
    limit_deflection: Annotated[
        str | None, typer.Option("--limit-deflection", help='Greatest deflection: "L/240" or "3 mm".')
    ] = None,
    coating: Annotated[str, typer.Option("--coating", help='Zinc, such as "Z275" or "G90".')] = "",
    skin_grade: Annotated[
        str, typer.Option("--skin-grade", help="Grade of the skin or of the upper sheet of a lap.")
    ] = "",
    skin_coating: Annotated[
        str, typer.Option("--skin-coating", help="Zinc of the skin or of the upper sheet of a lap.")
    ] = "",
    weld_diameter: Annotated[
        str, typer.Option("--weld-diameter", help='Spot diameter on the weld line, or "minimum", "usual", "target".')
    ] = "usual",
    pitch: Annotated[
        str | None, typer.Option("--pitch", help="Pitch of the spots on a weld line; judged when given.")
    ] = None,
    yield_strength: Annotated[
        str | None, typer.Option("--yield-strength", help="Yield strength from a mill certificate.")
    ] = None,
    tensile_strength: Annotated[
        str | None, typer.Option("--tensile-strength", help="Tensile strength from a mill certificate.")
    ] = None,
    die: Annotated[str | None, typer.Option("--die", help="Opening of the V die (default: eight thicknesses).")] = None,
    k_factor: Annotated[
        float | None, typer.Option("--k-factor", help="K of the bend allowance (default: DIN 6935).")
    ] = None,
    find: Annotated[
        str | None, typer.Option("--find", help='Find the "lightest" of ranges ("depth=20mm..50mm"), or the "pitch".')
    ] = None,
    plot: Annotated[
        Path | None, typer.Option("--plot", help="Draw deflection lines and sections into an SVG file.")
    ] = None,
    buckling: Annotated[
        bool, typer.Option("--buckling", help="Draw how the section buckles: signature curve, loads with their names.")
    ] = False,
    purpose: Purpose = None,
    load_factor: LoadFactor = 1.5,
    handbook_factor: HandbookFactor = 3.0,
    coupons: Annotated[
        bool, typer.Option("--coupons", help="Coupons of these sheets and settings were made and passed.")
    ] = False,
    id: Annotated[str, typer.Option("--id", help="Name of the brace in the answer.")] = "-",
    json: Json = False,
    units: Units = "metric",
    steps: Steps = False,
) -> None:
    """Compare braces: stiffness, strength by every method that applies, frequency, blank; find the lightest."""
    from jointcalc.cli.common import as_options, given, system, write
    from jointcalc.errors import InputError, nearest
    from jointcalc.explore.brace import PITCH_FOUND, Choice, find_lightest, judge, with_pitch_found
    from jointcalc.model.brace import Brace
    from jointcalc.model.fields import build
    from jointcalc.result import Result

    shown = system(units)
    if find is not None and find not in FINDS:
        raise InputError(
            f"'{find}' cannot be searched{nearest(find, FINDS)} (accepted: {', '.join(FINDS)})", field="--find"
        )
    if plot is not None and plot.suffix.lower() != ".svg":
        raise InputError(f"'{plot.name}' does not end in .svg; the plot is an SVG file", field="--plot")
    if len(grade) not in (1, len(profile)):
        raise InputError(
            f"{len(grade)} grades for {len(profile)} profiles; give one, or one for each profile", field="--grade"
        )
    grades = grade * len(profile) if len(grade) == 1 else grade
    base: dict[str, Any] = given(
        id=id, span=span, point=tuple(point or ()), spread=tuple(spread or ()), moment=tuple(moment or ()),
        mass=tuple(mass or ()), ends=ends, compression=compression, tension=tension, eccentricity=eccentricity,
        effective_length=effective_length, lies=lies, held=held, over=over, bearing=bearing, overhang=overhang,
        fastened=fastened,
        limit_deflection=limit_deflection, coating=coating, skin_grade=skin_grade, skin_coating=skin_coating,
        weld_diameter=weld_diameter,
        pitch=pitch, yield_strength=yield_strength, tensile_strength=tensile_strength, die=die, k_factor=k_factor,
        purpose=tuple(purpose or ()), load_factor=load_factor, handbook_factor=handbook_factor, coupons=coupons,
    )  # fmt: skip
    results: list[Result] = []
    pareto: tuple[Choice, ...] = ()
    found = ""
    try:
        if find == "lightest":
            if len(set(grades)) > 1:
                raise InputError("a search for the lightest takes one grade", field="--grade")
            bar = _bar()
            try:
                answer = find_lightest({**base, "grade": grades[0]}, profile, shown, bar)
            finally:
                bar(0, 0)
            results, pareto, found = [answer.result], answer.pareto, answer.text
        else:
            for text, one in zip(profile, grades):
                data = {**base, "profile": text, "grade": one}
                if find == "pitch":
                    results.append(with_pitch_found(data, shown))
                    found = PITCH_FOUND
                else:
                    results.append(judge(build(Brace, data), shown))
    except InputError as error:
        raise as_options(error, {"profile": "--profile"}) from error
    if plot is not None:
        from jointcalc.show.brace import plot as draw

        draw(results, plot, shown)
    if json:
        from jointcalc.show.document import comparison_document, dumps

        document = comparison_document(results)
        if pareto:
            document["pareto"] = [
                {
                    "profile": one.profile,
                    "mass_per_metre": {"value": one.mass_per_metre, "unit": "kg/m"},
                    "deflection": {"value": one.deflection, "unit": "mm"},
                }
                for one in pareto
            ]
        write(dumps(document))
    else:
        from jointcalc.show.brace import print_comparison
        from jointcalc.show.terminal import console

        print_comparison(results, console(), system=shown, steps=steps, found=found, pareto=pareto)
        if buckling:
            from jointcalc.explore.curves import curves
            from jointcalc.show.curves import print_curves

            for result in results:
                print_curves(curves(result), console(), shown)
    raise typer.Exit(0 if all(r.status == "ok" for r in results) else 1)


def _bar() -> Callable[[int, int], None]:
    """Says how far a long search is, on stderr, when somebody is watching; (0, 0) clears the line."""
    shown = False

    def tell(done: int, total: int) -> None:
        nonlocal shown
        if not sys.stderr.isatty() or (total < LONG and not shown):
            return
        if total == 0:
            sys.stderr.write("\r\x1b[K")
        else:
            shown = True
            part = done / total
            sys.stderr.write(f"\rsearching [{'#' * int(30 * part):30}] {part:4.0%} of {total}")
        sys.stderr.flush()

    return tell

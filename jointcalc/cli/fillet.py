"""`jointcalc fillet`."""

from __future__ import annotations

from typing import Annotated

import typer

from jointcalc.cli.common import HandbookFactor, Json, LoadFactor, Purpose, Steps, Units

EXAMPLES = """Examples:

  jointcalc fillet --line "0 0 100 0 mm" --leg "5 mm" --sheet "3 mm" --grade S355MC --filler E70 --force "0 -4 0 kN" --at "150 0 0 mm"

  jointcalc fillet --line "0 0 0 60 mm" --line "40 0 40 60 mm" --joint lap --leg "2 mm" --sheet "2 mm" --sheet "4 mm" --grade S355MC --force "0 8 0 kN" --at "20 30 0 mm" --find leg

  jointcalc fillet --line "0 0 40 0 mm" --line "40 0 40 40 mm" --line "40 40 0 40 mm" --line "0 40 0 0 mm" --leg "2 mm" --sheet "2 mm" --sheet "1.5 mm" --grade S355MC --force "0 0 0.8 kN" --at "20 20 0 mm" --between "300 mm"

  jointcalc fillet --line "0 0 80 0 mm" --leg "3 mm" --both-sides --sheet "3 mm" --grade S355MC --force "0 0 3 kN" --at "40 0 0 mm" --on backed --find length

  jointcalc fillet --line "0 0 600 0 mm" --leg "3 mm" --stitch "40 120 mm" --sheet "2 mm" --grade DC01 --force "3 0 0 kN" --at "300 0 0 mm" --voltage "18 V" --current "130 A" --speed "6 mm/s"
"""  # noqa: E501 - command lines to copy


def command(
    line: Annotated[list[str], typer.Option("--line", help='A weld, "x1 y1 x2 y2 mm", in the plane of the welds.')],
    sheet: Annotated[
        list[str], typer.Option("--sheet", help="The part welded along its edge or end; twice: the other part too.")
    ],
    grade: Annotated[list[str], typer.Option("--grade", help="Grade of both parts, or one for each.")],
    force: Annotated[str, typer.Option("--force", help='Service force, "x y z kN"; z out of the plane.')] = "0 0 0 N",
    at: Annotated[str | None, typer.Option("--at", help='Point the force acts at, "x y z mm".')] = None,
    moment: Annotated[
        str, typer.Option("--moment", help='Service moment on top of the force\'s own, "x y z N*m".')
    ] = "0 0 0 N*mm",
    leg: Annotated[str | None, typer.Option("--leg", help="Leg of the fillet.")] = None,
    throat: Annotated[
        str | None, typer.Option("--throat", help="Throat measured on cut coupons, instead of the leg's.")
    ] = None,
    filler: Annotated[
        str, typer.Option("--filler", help="Filler by classification: ER70S-6, E70, E6013, 5356 …")
    ] = "ER70S-6",
    kind: Annotated[str, typer.Option("--kind", help="fillet, flare-bevel, flare-V or butt.")] = "fillet",
    joint: Annotated[
        str, typer.Option("--joint", help="tee, or lap (the weld lies on the first sheet's edge).")
    ] = "tee",
    process: Annotated[str, typer.Option("--process", help="GMAW, FCAW-G, FCAW-S, SMAW, SAW or TIG.")] = "GMAW",
    radius: Annotated[str | None, typer.Option("--radius", help="Outside corner radius beside a flare weld.")] = None,
    fill_gap: Annotated[str, typer.Option("--fill-gap", help="How far a flare weld stays below flush.")] = "0 mm",
    lip: Annotated[str | None, typer.Option("--lip", help="Height of the bent flange behind a flare weld.")] = None,
    coating: Annotated[
        list[str] | None, typer.Option("--coating", help='Zinc, such as "Z275" or "G90"; once, or per sheet.')
    ] = None,
    stitch: Annotated[
        str | None, typer.Option("--stitch", help='Intermittent weld: length and pitch, "40 120 mm".')
    ] = None,
    full_size: Annotated[
        bool, typer.Option("--full-size", help="The welds have their full size up to their ends.")
    ] = False,
    width: Annotated[str | None, typer.Option("--width", help="Width of the lapped or stitched part.")] = None,
    overlap: Annotated[str | None, typer.Option("--overlap", help="Overlap of a lap joint.")] = None,
    both_sides: Annotated[
        bool, typer.Option("--both-sides", help="Every line is two fillets, one on each face of the first sheet.")
    ] = False,
    root_gap: Annotated[
        str, typer.Option("--root-gap", help="Gap between the parts at the root; the leg counts without it.")
    ] = "0 mm",
    on: Annotated[
        str, typer.Option("--on", help="What the welds sit on: sheet, box or tube (along x), or backed right behind.")
    ] = "sheet",
    between: Annotated[
        str | None,
        typer.Option(
            "--between", help="Distance between the sheet's supports; width of the box; diameter of the tube."
        ),
    ] = None,
    held: Annotated[
        str, typer.Option("--held", help="The sheet at those supports: continuous (runs on, welded), or simple.")
    ] = "continuous",
    free_edge: Annotated[
        str | None, typer.Option("--free-edge", help="Distance of the welds from a free edge of that sheet.")
    ] = None,
    patch: Annotated[
        str | None, typer.Option("--patch", help='Size of what stands on a lapped plate and pulls it, "40 40 mm".')
    ] = None,
    bend_radius: Annotated[
        str | None, typer.Option("--bend-radius", help="Inside radius of a bend within five thicknesses of the weld.")
    ] = None,
    taper: Annotated[str, typer.Option("--taper", help="Angle of a tapered 4130 joint.")] = "90 deg",
    cycles: Annotated[float | None, typer.Option("--cycles", help="Load changes, for the fatigue screen.")] = None,
    load_range: Annotated[
        float, typer.Option("--load-range", help="Part of the load that comes and goes: 1 all, 2 reversed.")
    ] = 1.0,
    detail: Annotated[str, typer.Option("--detail", help="Fatigue detail (`tables show fatigue_en1993_1_9`).")] = "",
    tested: Annotated[
        bool, typer.Option("--tested", help="Full penetration of a butt weld is proved by test.")
    ] = False,
    voltage: Annotated[str | None, typer.Option("--voltage", help="Arc voltage, for the heat.")] = None,
    current: Annotated[str | None, typer.Option("--current", help="Welding current, for the heat.")] = None,
    speed: Annotated[str | None, typer.Option("--speed", help="Travel speed, for the heat.")] = None,
    preheat: Annotated[str, typer.Option("--preheat", help="Temperature before welding.")] = "20 degC",
    analysis: Annotated[
        str, typer.Option("--analysis", help='Analysis of the steel in percent, "C=0.18 Mn=1.4".')
    ] = "",
    step: Annotated[str | None, typer.Option("--step", help="Length of one back-step run.")] = None,
    find: Annotated[
        str | None, typer.Option("--find", help="Find what holds: length, leg (size) or thickness.")
    ] = None,
    purpose: Purpose = None,
    load_factor: LoadFactor = 1.5,
    handbook_factor: HandbookFactor = 3.0,
    coupons: Annotated[
        bool, typer.Option("--coupons", help="Coupons of these sheets and settings were cut, etched and passed.")
    ] = False,
    id: Annotated[str, typer.Option("--id", help="Name of the welds in the answer.")] = "-",
    json: Json = False,
    units: Units = "metric",
    steps: Steps = False,
) -> None:
    """Judge arc welds along lines under a force anywhere in space, by every published method that applies."""
    from jointcalc.cli.common import as_options, conclude, given, sheets
    from jointcalc.errors import InputError

    data = given(
        id=id, lines=line, weld=kind, joint=joint, leg=leg, throat=throat, radius=radius, fill_gap=fill_gap, lip=lip,
        process=process, filler=filler, force=force, at=at, moment=moment, stitch=stitch, full_size=full_size,
        both_sides=both_sides, root_gap=root_gap, on=on, between=between, held=held, free_edge=free_edge, patch=patch,
        width=width, overlap=overlap, bend_radius=bend_radius, taper=taper, cycles=cycles, load_range=load_range,
        detail=detail, tested=tested, voltage=voltage, current=current, speed=speed, preheat=preheat,
        analysis=analysis, step=step, purpose=tuple(purpose or ()), load_factor=load_factor,
        handbook_factor=handbook_factor, coupons=coupons,
    )  # fmt: skip
    spelt = {"sheets": "--sheet", "lines": "--line", "weld": "--kind"}
    try:
        data["sheets"] = sheets(sheet, grade, coating)
    except InputError as error:
        raise as_options(error, spelt) from error
    conclude(
        data, "fillet", find=find, spelt=spelt, json=json, units=units, steps=steps,
    )  # fmt: skip

"""`jointcalc seam`."""

from __future__ import annotations

from typing import Annotated

import typer

from jointcalc.cli.common import HandbookFactor, Json, LoadFactor, Purpose, Steps, Units

EXAMPLES = """Examples:

  jointcalc seam --sheet "1.2 mm" --sheet "1.2 mm" --grade DC04 --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm" --shear "12 kN"

  jointcalc seam --sheet "18 ga" --sheet "16 ga" --grade "A1008 SS Gr 33" --weld-diameter usual --count 30 --length "48 in" --edge "3/8 in" --shear "2700 lbf" --find pitch --units inch
"""  # noqa: E501 - command lines to copy


def command(
    sheet: Annotated[
        list[str], typer.Option("--sheet", help='A sheet, from one outside to the other: "1.2 mm", "18 ga".')
    ],
    grade: Annotated[list[str], typer.Option("--grade", help="Grade of all sheets, or one for each.")],
    weld_diameter: Annotated[
        str, typer.Option("--weld-diameter", help='Measured spot diameter, or "minimum", "usual", "target".')
    ],
    length: Annotated[str, typer.Option("--length", help="Length of the seam.")],
    edge: Annotated[str, typer.Option("--edge", help="Distance from the row to the sheet's edge.")],
    pitch: Annotated[str | None, typer.Option("--pitch", help="Pitch of the spots; or give --count.")] = None,
    count: Annotated[int | None, typer.Option("--count", help="Spots in one row; or give --pitch.")] = None,
    rows: Annotated[int, typer.Option("--rows", help="Rows of spots.")] = 1,
    row_spacing: Annotated[str | None, typer.Option("--row-spacing", help="Distance between rows.")] = None,
    end: Annotated[str | None, typer.Option("--end", help="Distance of the first spot from the seam's end.")] = None,
    lap: Annotated[
        str | None, typer.Option("--lap", help="Width of the lap (default: twice the edge distance).")
    ] = None,
    coating: Annotated[
        list[str] | None, typer.Option("--coating", help='Zinc, such as "Z275" or "G90"; once, or per sheet.')
    ] = None,
    shear: Annotated[str, typer.Option("--shear", help="Service load along the seam, whole seam.")] = "0 N",
    across: Annotated[
        str, typer.Option("--across", help="Service pull across the seam, in the sheet's plane.")
    ] = "0 N",
    peel: Annotated[
        str, typer.Option("--peel", help="Service load that lifts one sheet off the other; needs --peel-arm.")
    ] = "0 N",
    peel_arm: Annotated[
        str | None,
        typer.Option(
            "--peel-arm", help="Distance from the row to the bend that is pulled; without it no peel is judged."
        ),
    ] = None,
    moment: Annotated[
        str, typer.Option("--moment", help="Moment that turns the seam in the sheets' plane, about its middle.")
    ] = "0 N*m",
    compression: Annotated[
        str | None, typer.Option("--compression", help="Compressive stress in the sheet along the seam.")
    ] = None,
    flat_beside: Annotated[
        str | None, typer.Option("--flat-beside", help="Flat width beside the row, for the pitch in compression.")
    ] = None,
    share: Annotated[
        list[float] | None,
        typer.Option("--share", help="Part of the load each interface of three sheets carries; at least 1 in all."),
    ] = None,
    cycles: Annotated[float | None, typer.Option("--cycles", help="Load changes that the spots must last.")] = None,
    load_range: Annotated[
        float, typer.Option("--load-range", help="Part of the load that comes and goes: 1 from nothing, 2 reversing.")
    ] = 1.0,
    find: Annotated[
        str | None, typer.Option("--find", help="Find what holds: pitch, weld-diameter or thickness.")
    ] = None,
    purpose: Purpose = None,
    load_factor: LoadFactor = 1.5,
    handbook_factor: HandbookFactor = 3.0,
    coupons: Annotated[
        bool, typer.Option("--coupons", help="Coupons of these sheets and settings were made and passed.")
    ] = False,
    id: Annotated[str, typer.Option("--id", help="Name of the seam in the answer.")] = "-",
    json: Json = False,
    units: Units = "metric",
    steps: Steps = False,
) -> None:
    """Judge a spot-welded seam by every published method that applies, and find the pitch, spot or sheet that holds."""
    from jointcalc.cli.common import as_options, conclude, given, sheets
    from jointcalc.errors import InputError

    data = given(
        id=id, weld_diameter=weld_diameter, length=length, edge=edge, pitch=pitch, count=count, rows=rows,
        row_spacing=row_spacing, end=end, lap=lap, shear=shear, across=across, peel=peel, peel_arm=peel_arm,
        moment=moment, compression=compression, flat_beside=flat_beside, shares=tuple(share or ()),
        purpose=tuple(purpose or ()),
        load_factor=load_factor, handbook_factor=handbook_factor, coupons=coupons,
        cycles=cycles, load_range=load_range,
    )  # fmt: skip
    spelt = {"sheets": "--sheet", "shares": "--share"}
    try:
        data["sheets"] = sheets(sheet, grade, coating)
    except InputError as error:
        raise as_options(error, spelt) from error
    conclude(
        data, model="model.seam:SpotSeam", judge="check.seam:check_seam", search="explore.seam:find_seam",
        find=find, spelt=spelt, json=json, units=units, steps=steps,
    )  # fmt: skip

"""`jointcalc plug`."""

from __future__ import annotations

from typing import Annotated

import typer

from jointcalc.cli.common import Json, LoadFactor, Purpose, Steps, Units

EXAMPLES = """Examples:

  jointcalc plug --sheet "1.2 mm" --sheet "1.5 mm" --grade DC04 --hole "8 mm" --pitch "40 mm" --length "600 mm" --edge "12 mm" --shear "6 kN"

  jointcalc plug --sheet "1.2 mm" --sheet "3 mm" --grade DC04 --grade S235JR --visible "20 mm" --count 6 --length "420 mm" --edge "32 mm" --shear "8 kN" --uplift "3 kN" --filler E70

  jointcalc plug --sheet "1.2 mm" --sheet "1.5 mm" --grade DC04 --pitch "40 mm" --length "600 mm" --edge "12 mm" --shear "6 kN" --find hole
"""  # noqa: E501 - command lines to copy


def command(
    sheet: Annotated[
        list[str],
        typer.Option("--sheet", help='A sheet, from the welded side: "1.2 mm", "18 ga"; the last lies underneath.'),
    ],
    grade: Annotated[list[str], typer.Option("--grade", help="Grade of all sheets, or one for each.")],
    length: Annotated[str, typer.Option("--length", help="Length of the row.")],
    edge: Annotated[str, typer.Option("--edge", help="Distance from the row to the sheet's edge.")],
    hole: Annotated[
        str | None, typer.Option("--hole", help="Diameter of the punched hole, or width of the slot.")
    ] = None,
    slot: Annotated[str | None, typer.Option("--slot", help="Overall length of a slot.")] = None,
    visible: Annotated[
        str | None, typer.Option("--visible", help="Visible diameter of an arc spot melted through the sheet.")
    ] = None,
    seam: Annotated[
        str | None, typer.Option("--seam", help="Length of an elongated arc spot between its end circles.")
    ] = None,
    interface: Annotated[
        str | None, typer.Option("--interface", help="Fused diameter measured on sectioned coupons.")
    ] = None,
    pitch: Annotated[str | None, typer.Option("--pitch", help="Pitch of the welds; or give --count.")] = None,
    count: Annotated[int | None, typer.Option("--count", help="Welds in one row; or give --pitch.")] = None,
    rows: Annotated[int, typer.Option("--rows", help="Rows of welds.")] = 1,
    row_spacing: Annotated[str | None, typer.Option("--row-spacing", help="Distance between rows.")] = None,
    end: Annotated[str | None, typer.Option("--end", help="Distance of the first weld from the row's end.")] = None,
    coating: Annotated[
        list[str] | None, typer.Option("--coating", help='Zinc, such as "Z275" or "G90"; once, or per sheet.')
    ] = None,
    filler: Annotated[str, typer.Option("--filler", help='Filler: "E70", "ER70S-6", "E6013", "ER308L" ...')] = "E70",
    fill: Annotated[str | None, typer.Option("--fill", help="Depth the hole is filled to (default: full).")] = None,
    shear: Annotated[str, typer.Option("--shear", help="Service load along the row, whole row.")] = "0 N",
    across: Annotated[str, typer.Option("--across", help="Service pull across the row, in the sheets' plane.")] = "0 N",
    uplift: Annotated[str, typer.Option("--uplift", help="Service load that lifts the sheets off.")] = "0 N",
    uplift_place: Annotated[
        str, typer.Option("--uplift-place", help="Where an arc spot is lifted: field, edge or side-lap.")
    ] = "field",
    deck: Annotated[bool, typer.Option("--deck", help="A deck or panel, for the factor on uplift.")] = False,
    weld_washer: Annotated[
        bool, typer.Option("--weld-washer", help="Arc spots in sheet under 0.7 mm are made through weld washers.")
    ] = False,
    find: Annotated[str | None, typer.Option("--find", help="Find what holds: hole, visible or pitch.")] = None,
    purpose: Purpose = None,
    load_factor: LoadFactor = 1.5,
    coupons: Annotated[
        bool, typer.Option("--coupons", help="Coupons of these sheets and settings were made and passed.")
    ] = False,
    id: Annotated[str, typer.Option("--id", help="Name of the row in the answer.")] = "-",
    json: Json = False,
    units: Units = "metric",
    steps: Steps = False,
) -> None:
    """Judge plug (rosette), slot or arc spot welds by every published method that applies; find hole, spot or pitch."""
    from jointcalc.cli.common import as_options, conclude, given, sheets
    from jointcalc.errors import InputError

    data = given(
        id=id, hole=hole, slot=slot, visible=visible, seam=seam, interface=interface, length=length, edge=edge,
        pitch=pitch, count=count, rows=rows, row_spacing=row_spacing, end=end, filler=filler, fill=fill, shear=shear,
        across=across, uplift=uplift, uplift_place=uplift_place, deck=deck, weld_washer=weld_washer,
        purpose=tuple(purpose or ()), load_factor=load_factor, coupons=coupons,
    )  # fmt: skip
    spelt = {"sheets": "--sheet"}
    try:
        data["sheets"] = sheets(sheet, grade, coating)
    except InputError as error:
        raise as_options(error, spelt) from error
    conclude(
        data, model="model.plug:PlugRow", judge="check.plug:check_plug", search="explore.plug:find_plug",
        find=find, spelt=spelt, json=json, units=units, steps=steps,
    )  # fmt: skip

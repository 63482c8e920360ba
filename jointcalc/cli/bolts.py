"""`jointcalc bolts`."""

from __future__ import annotations

from typing import Annotated

import typer

from jointcalc.cli.common import HandbookFactor, Json, LoadFactor, Purpose, Steps, Units

EXAMPLES = """Examples:

  jointcalc bolts --hole "0 0 mm" --hole "60 0 mm" --bolt "M8 8.8" --sheet "1.2 mm" --grade DC04 --outline "-200 -150 260 150 mm" --between "200 mm" --force "1.2 0 0.6 kN" --at "30 0 20 mm" --washer large

  jointcalc bolts --hole "0 0 mm" --bolt "M8 10.9" --sheet "1.2 mm" --grade DC04 --between "300 mm" --force "0 0 5 kN" --at "0 0 0 mm" --load-factor 1 --purpose seat --find plate

  jointcalc bolts --hole "0 0 mm" --hole "25 0 mm" --rivet "4.8 mm steel" --sheet "1 mm" --sheet "1.5 mm" --grade DC04 --edge "10 mm" --force "600 0 0 N" --at "12 0 0 mm"
"""  # noqa: E501 - command lines to copy


def command(
    hole: Annotated[list[str], typer.Option("--hole", help='A hole\'s centre, "x y mm", in the plane of the sheets.')],
    sheet: Annotated[
        list[str],
        typer.Option("--sheet", help='A sheet, from the head\'s side: "1.2 mm", "18 ga" (repeat for up to three).'),
    ],
    grade: Annotated[list[str], typer.Option("--grade", help="Grade of all sheets, or one for each.")],
    bolt: Annotated[
        str | None, typer.Option("--bolt", help='Size and class: "M8 8.8", "M10x1.25 10.9", "7/16-20 grade 5".')
    ] = None,
    rivet: Annotated[str | None, typer.Option("--rivet", help='Blind rivet: "4.8 mm steel".')] = None,
    rivnut: Annotated[str | None, typer.Option("--rivnut", help='Rivet nut and its screw: "M6 8.8".')] = None,
    force: Annotated[
        str | None, typer.Option("--force", help='Service force "x y z kN"; z pulls the fasteners.')
    ] = None,
    at: Annotated[str | None, typer.Option("--at", help='Where it acts: "x y z mm".')] = None,
    moment: Annotated[str | None, typer.Option("--moment", help='Service moment about x, y, z: "0 0 50 N*m".')] = None,
    pulled: Annotated[
        int | None,
        typer.Option(
            "--pulled",
            help="Which sheet brings the load, counted from the head (2 of 3: the middle one).",
        ),
    ] = None,
    hole_diameter: Annotated[
        str | None, typer.Option("--hole-diameter", help="Hole diameter (default: clearance hole, medium fit).")
    ] = None,
    slot: Annotated[
        str | None, typer.Option("--slot", help="Overall length of slotted holes; their width is the hole diameter.")
    ] = None,
    slot_along: Annotated[str, typer.Option("--slot-along", help="Which way the slots lie: x or y.")] = "x",
    edge: Annotated[
        str | None,
        typer.Option("--edge", help="Least distance from a hole's centre to an edge (default: 1.5 hole diameters)."),
    ] = None,
    outline: Annotated[
        list[str] | None,
        typer.Option(
            "--outline", help='Two corners of the sheet, "x1 y1 x2 y2 mm", in place of --edge; once, or per sheet.'
        ),
    ] = None,
    width: Annotated[
        str | None,
        typer.Option("--width", help="Width of the sheet across the force (default: from the holes and the edge)."),
    ] = None,
    washer: Annotated[
        str, typer.Option("--washer", help='Under head and nut: none, normal, large, or "24 2 mm".')
    ] = "none",
    plate: Annotated[str | None, typer.Option("--plate", help='Spreader plate under the nut: "75 50 3 mm".')] = None,
    plate_grade: Annotated[str, typer.Option("--plate-grade", help="Grade of the plate.")] = "S235JR",
    plate_hole: Annotated[
        str | None, typer.Option("--plate-hole", help="Hole in the plate (default: as in the sheets).")
    ] = None,
    between: Annotated[
        str | None,
        typer.Option(
            "--between", help="Distance between the rails or ribs that carry the sheet on both sides of the bolts."
        ),
    ] = None,
    dish: Annotated[
        str | None, typer.Option("--dish", help="How far the sheet may dish for good under a fastener (default: 5 mm).")
    ] = None,
    upright: Annotated[
        str | None,
        typer.Option(
            "--upright", help="Of a bracket: from the bolt's centre to the face of its upright, for bending and prying."
        ),
    ] = None,
    pull: Annotated[
        str | None,
        typer.Option(
            "--pull", help="How the pull comes to a head: even, or one-sided (a bracket's leg, a seat's foot)."
        ),
    ] = None,
    packing: Annotated[
        str | None, typer.Option("--packing", help="Thickness of loose packing between the sheets.")
    ] = None,
    countersunk: Annotated[bool, typer.Option("--countersunk", help="Countersunk heads, in the first sheet.")] = False,
    countersink: Annotated[
        str | None, typer.Option("--countersink", help="Depth of the countersink (default: the head's height).")
    ] = None,
    hole_growth: Annotated[
        str, typer.Option("--hole-growth", help="free, or limited: judge that the holes hardly grow.")
    ] = "free",
    threads: Annotated[str, typer.Option("--threads", help="Threads in or out of the shear plane.")] = "in",
    insert_tension: Annotated[
        str | None, typer.Option("--insert-tension", help="Maker's pull-out value of a rivet nut in this sheet.")
    ] = None,
    insert_shear: Annotated[
        str | None, typer.Option("--insert-shear", help="Maker's shear value of a rivet nut in this sheet.")
    ] = None,
    coating: Annotated[
        list[str] | None, typer.Option("--coating", help='Zinc, such as "Z275" or "G90"; once, or per sheet.')
    ] = None,
    find: Annotated[str | None, typer.Option("--find", help="Find what holds: bolt, plate, thickness or hole.")] = None,
    purpose: Purpose = None,
    load_factor: LoadFactor = 1.5,
    handbook_factor: HandbookFactor = 3.0,
    coupons: Annotated[
        bool, typer.Option("--coupons", help="Coupons of these sheets and settings were made and passed.")
    ] = False,
    id: Annotated[str, typer.Option("--id", help="Name of the group in the answer.")] = "-",
    json: Json = False,
    units: Units = "metric",
    steps: Steps = False,
) -> None:
    """Judge bolts, rivet nuts or blind rivets in sheet under a force anywhere; find bolt, plate, sheet or hole."""
    from jointcalc.cli.common import as_options, conclude, given, sheets
    from jointcalc.errors import InputError

    data = given(
        id=id, holes=tuple(hole), bolt=bolt, rivet=rivet, rivnut=rivnut, force=force, at=at, moment=moment,
        pulled=pulled, hole_diameter=hole_diameter, slot=slot, slot_along=slot_along, edge=edge,
        outline=tuple(outline or ()), width=width, washer=washer, plate=plate, plate_grade=plate_grade,
        plate_hole=plate_hole, between=between, dish=dish, upright=upright, pull=pull, packing=packing,
        countersunk=countersunk, countersink=countersink, hole_growth=hole_growth, threads=threads,
        insert_tension=insert_tension, insert_shear=insert_shear, purpose=tuple(purpose or ()),
        load_factor=load_factor, handbook_factor=handbook_factor, coupons=coupons,
    )  # fmt: skip
    spelt = {"sheets": "--sheet", "holes": "--hole", "hole": "--hole"}
    try:
        data["sheets"] = sheets(sheet, grade, coating)
    except InputError as error:
        raise as_options(error, spelt) from error
    conclude(
        data, "bolts", find=find, spelt=spelt, json=json, units=units, steps=steps,
    )  # fmt: skip

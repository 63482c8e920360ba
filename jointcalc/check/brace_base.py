"""What the checks of a brace share: their methods, their factors and their words."""

from __future__ import annotations

from jointcalc.check.common import ADDED, CHARACTERISTIC, INFORMATION, LIMIT
from jointcalc.formula import (
    bending_both_ways,
    column,
    direct_strength,
    forming,
    joint_flow,
    local_load,
    warping_torsion,
    web_aisi,
    web_en1993,
    wide_flange,
)
from jointcalc.formula.core import Source
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M1
from jointcalc.result import DETAILING, method
from jointcalc.result.factor import omega, partial

PARTIAL_0, PARTIAL_1 = partial("γ_M0", GAMMA_M0), partial("γ_M1", GAMMA_M1)
SUM = "sum of utilisations"

EN_BENDING_SOURCE = Source("EN 1993-1-3:2006", "6.1.4.1 with 5.5 and EN 1993-1-5 4.4", "from memory")
AISI_BENDING_SOURCE = Source("AISI S100-16", "F3.1, initiation of yielding, Appendix 1", "from memory")
EN_COMPRESSION_SOURCE = Source("EN 1993-1-3:2006", "6.2.2, 6.2.3 (EN 1993-1-1 6.3.1)", "from memory")
AISI_COMPRESSION_SOURCE = Source("AISI S100-16", "E2, E3.1", "from memory")
PRACTICE = Source("press-brake practice", "", "common practice")

EN_BENDING = method(
    "en1993-1-3.bending", "Bending, EN", EN_BENDING_SOURCE, per="member", basis=CHARACTERISTIC, factor=PARTIAL_0
)
AISI_BENDING = method(
    "aisi-s100.bending",
    "Bending, AISI",
    AISI_BENDING_SOURCE,
    per="member",
    basis="nominal",
    factor=omega(web_aisi.OMEGA_BENDING),
)
EN_SHEAR = method(
    "en1993-1-3.web-shear",
    "Shear of the webs, EN",
    web_en1993.EN_615,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_0,
)
AISI_SHEAR = method(
    "aisi-s100.web-shear",
    "Shear of the webs, AISI",
    web_aisi.G21,
    per="member",
    basis="nominal",
    factor=omega(web_aisi.OMEGA_SHEAR),
)
EN_SHEAR_YIELD = method(
    "en1993-1-1.shear-yield",
    "Elastic shear, EN",
    web_en1993.EN_626,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_0,
)
EN_CRIPPLING = method(
    "en1993-1-3.web-crippling",
    "Crippling of the webs, EN",
    web_en1993.EN_6173,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_1,
)
AISI_CRIPPLING = method(
    "aisi-s100.web-crippling",
    "Crippling of the webs, AISI",
    web_aisi.G5,
    per="member",
    basis="nominal",
    factor="Ω by row",
)
EN_BENDING_SHEAR = method(
    "en1993-1-3.bending-shear", "Bending with shear, EN", web_en1993.EN_6110, per="member", basis=SUM, factor=ADDED
)
AISI_BENDING_SHEAR = method(
    "aisi-s100.bending-shear", "Bending with shear, AISI", web_aisi.H2, per="member", basis=SUM, factor=ADDED
)
EN_BENDING_CRIPPLING = method(
    "en1993-1-3.bending-crippling",
    "Bending with crippling, EN",
    web_en1993.EN_6111,
    per="member",
    basis=f"sum of utilisations, at most {web_en1993.MOST_BENDING_CRIPPLING:g}",
    factor=ADDED,
)
AISI_BENDING_CRIPPLING = method(
    "aisi-s100.bending-crippling",
    "Bending with crippling, AISI",
    web_aisi.H3,
    per="member",
    basis=f"sum of nominal ratios, at most {web_aisi.MOST_BENDING_CRIPPLING:g} / Ω",
    factor=omega(web_aisi.OMEGA_BENDING_CRIPPLING),
)
EN_LTB = method(
    "en1993-1-1.lateral-torsional",
    "Lateral buckling, EN",
    column.EN_6322,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_1,
)
AISI_LTB = method(
    "aisi-s100.lateral-torsional",
    "Lateral buckling, AISI",
    column.AISI_F21,
    per="member",
    basis="nominal",
    factor=omega(web_aisi.OMEGA_BENDING),
)
EN_COMPRESSION = method(
    "en1993-1-3.compression", "Buckling as a strut, EN", EN_COMPRESSION_SOURCE, per="member", basis=CHARACTERISTIC,
    factor=PARTIAL_1,
)  # fmt: skip
AISI_COMPRESSION = method(
    "aisi-s100.compression", "Buckling as a strut, AISI", AISI_COMPRESSION_SOURCE, per="member", basis="nominal",
    factor=omega(web_aisi.OMEGA_COMPRESSION),
)  # fmt: skip
EN_BEAM_COLUMN = method(
    "en1993-1-3.beam-column", "Compression with bending, EN", column.EN_13_625, per="member", basis=SUM, factor=ADDED
)
AISI_BEAM_COLUMN = method(
    "aisi-s100.beam-column", "Compression with bending, AISI", column.AISI_H12, per="member", basis=SUM, factor=ADDED
)
EN_TENSION = method(
    "en1993-1-3.tension", "Tension yield, EN", web_en1993.EN_612, per="member", basis=CHARACTERISTIC, factor=PARTIAL_0
)
AISI_TENSION = method(
    "aisi-s100.tension",
    "Tension yield, AISI",
    web_aisi.D2,
    per="member",
    basis="nominal",
    factor=omega(web_aisi.OMEGA_TENSION_YIELD),
)
AISI_RUPTURE = method(
    "aisi-s100.tension-rupture",
    "Tension rupture, AISI",
    web_aisi.D3,
    per="member",
    basis="nominal",
    factor=omega(web_aisi.OMEGA_TENSION_RUPTURE),
)
EN_TENSION_BENDING = method(
    "en1993-1-3.tension-bending", "Tension with bending, EN", web_en1993.EN_616, per="member", basis=SUM, factor=ADDED
)
DEFLECTION = method(
    "limit.deflection",
    "Deflection",
    Source("the builder's own limit", "", "common practice", "no published limit for vehicle floors was found"),
    per="member",
    basis="limit",
    factor=LIMIT,
)
SPOT_LINE = method(
    "brace.spot-line",
    "Spots along the weld line",
    joint_flow.MECHANICS,
    per="spot",
    basis="governing method of the seam",
    factor="that of the seam's governing method",
)
AISI_TENSION_BENDING = method(
    "aisi-s100.tension-bending", "Tension with bending, AISI", web_aisi.H11, per="member", basis=SUM, factor=ADDED
)
LOCAL = method(
    "yield-line.local-load", "Local collapse under a load", local_load.YIELD_LINES, per="member",
    basis="plastic mechanism", factor=PARTIAL_1,
)  # fmt: skip
EN_TWIST = method(
    "en1993-1-3.torsion", "Bending with twisting, EN", warping_torsion.EN_616T, per="member", basis=CHARACTERISTIC,
    factor=PARTIAL_0,
)  # fmt: skip
EN_ASIDE = method(
    "en1993-1-1.bending-both-ways", "Bending both ways, EN", bending_both_ways.EN_6217, per="member", basis=SUM,
    factor=ADDED,
)  # fmt: skip
AISI_TWIST = method(
    "aisi-s100.bending-torsion", "Bending with twisting, AISI", warping_torsion.AISI_H4, per="member", basis="nominal",
    factor=omega(web_aisi.OMEGA_BENDING),
)  # fmt: skip
AISI_DISTORTION = method(
    "aisi-s100.distortional", "Distortional buckling, AISI", direct_strength.F4, per="member", basis="nominal",
    factor=omega(web_aisi.OMEGA_BENDING),
)  # fmt: skip
AISI_DISTORTION_COLUMN = method(
    "aisi-s100.distortional-compression", "Distortional buckling as a strut, AISI", direct_strength.E4, per="member",
    basis="nominal", factor=omega(web_aisi.OMEGA_COMPRESSION),
)  # fmt: skip
HOLES = method(
    "aisi-s100.member-holes", "Holes and cut-outs", Source("AISI S100-16", "G3, G6, Appendix 1 1.1", "from memory"),
    per="member", basis="nominal", factor="that of what gives way", covers=("holes",),
)  # fmt: skip
CURLING = method(
    "en1993-1-3.flange-curling", "Curling of wide flanges", wide_flange.EN_54, per="member",
    basis=wide_flange.LITTLE_CURL, bound="greatest", factor=LIMIT,
)  # fmt: skip
FOLD_RADIUS = method(
    "forming.radius",
    "Inside bend radius",
    Source("press-brake practice", "1 t, drawing steel 0.5 t; high strength by elongation", "common practice"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
FOLD_DIN = method(
    "forming.radius-din",
    "Inside radius by DIN 6935",
    Source("DIN 6935", "steel up to 390 MPa", "from memory"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
FOLD_LEG = method(
    "forming.flange",
    "Shortest leg on the die",
    forming.GEOMETRY,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
FOLD_LIST = method(
    "forming.bends", "Bend list", PRACTICE, per="mm", basis=DETAILING, bound="information", factor=INFORMATION
)

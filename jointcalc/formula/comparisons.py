"""What our formulas and methods were compared with, where somebody looked.

Everything is entered from memory until it has been held against print.  Here stands, formula by formula, what was
compared and what that allows: `read` where the document itself was seen, `second-hand` where a quotation, a
transcription or a published example was.  `register` and `method` put it into the source, whose note then says what was
compared.  Rows may be added with their words, never raised without.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

PRINT: Mapping[str, tuple[Literal["read", "second-hand"], str]] = {
    "own-page": ("read", "compared with EN 1993-1-8:2005 Table 3.4, its own page"),
    "env-1-3": ("read", "compared with ENV 1993-1-3:1996, clause 8"),
    "sheet-bolts": ("second-hand", "compared with a transcription of EN 1993-1-3:2006 Table 8.4"),
    "sheet-screws": ("second-hand", "compared with a transcription of EN 1993-1-3:2006 Table 8.2"),
    "s100-j": ("second-hand", "compared with a transcription of AISI S100-16 chapter J (fallible)"),
    "beginners-guide": ("second-hand", "compared with A Beginner's Guide to the Steel Construction Manual, Ex. 4.1"),
    "aisc-14th": ("second-hand", "compared with a published hand calculation by AISC 360-10"),
    "aisc-j3-2010": ("read", "compared with AISC 360-10 J3 as reprinted"),
    "aisc-limit-states": ("second-hand", "compared with a course page on AISC limit states"),
    "fe-handbook": ("second-hand", "compared with the bearing table of the FE reference handbook, 24 values"),
    "aisc-j22": ("read", "compared with AISC 360 J2.2b as reprinted"),
    "lrfd-j25": ("second-hand", "compared with AISC LRFD Table J2.5, a scan"),
    "weld-notes": (
        "second-hand",
        "compared with weld lecture notes (Haque), AISC Design Examples v14, J, and AISC LRFD Table J2.5",
    ),
    "en-scan": ("second-hand", "compared with a scan of the clause"),
    "carbon-papers": ("second-hand", "compared with papers that quote the three equivalents"),
    "steelmaker": (
        "second-hand",
        "compared with EN 1011-2 as quoted by a steelmaker; one source says annex C where ours says D",
    ),
    "fatigue-curves": ("second-hand", "compared with a transcription of the EN 1993-1-9 curves"),
    "ntc": ("second-hand", "compared with a transcription of NTC 2018 and Circolare 7/2019"),
    "sx022": ("second-hand", "compared with the printed results of SX022a, a reprint"),
    "sx023": ("second-hand", "compared with the core thicknesses printed in SX023a and SX027a"),
    "timoshenko-notes": ("second-hand", "compared with lecture notes that cite Timoshenko and Gere"),
    "aisi-manual": ("second-hand", "compared with the AISI Design Manual 2017"),
    "flabel": ("second-hand", "compared with Flabel, Practical Stress Analysis"),
    "pham": ("second-hand", "compared with Pham et al., who quote S100-16 G2.1"),
    "en-1999-i": ("second-hand", "compared with NTC 2018 [C4.2.30] and a transcription of EN 1999-1-1 Annex I, (I.2)"),
    "navier-print": ("second-hand", "compared with a transcription: 0.004062 q a^4/D, simply supported square"),
    "xia": (
        "second-hand",
        "compared with Xia, Friswell and Saavedra Flores, IJSS 49 (2012), Tables 2 and 5, and "
        "Briassoulis, Comput. Struct. 23 (1986)",
    ),
    "cmh17-programs": (
        "second-hand",
        "compared with the results of the handbook's own programs on 18 strengths, as quoted",
    ),
    "d1-quoted": (
        "second-hand",
        "compared with Table D1 as two public data files quote it; 1.76 at n = 20 is 1.77 here",
    ),
    "teaching": ("second-hand", "compared with a public teaching page that names Boothroyd and Marciniak"),
}
"""Name of a comparison -> the status it allows and what was compared."""

_FORMULAS: Mapping[str, Mapping[str, str]] = {
    "coupon_limits": {
        "normal_limit": "cmh17-programs",
        "lognormal_limit": "cmh17-programs",
        "weibull_factor_90": "cmh17-programs",
        "weibull_factor_99": "cmh17-programs",
        "weibull_limit_90": "cmh17-programs",
        "weibull_limit_99": "cmh17-programs",
        "small_sample_limit": "cmh17-programs",
    },
    "coupon_design": {"k_known": "d1-quoted", "k_unknown": "d1-quoted"},
    "arc_spot_aisi": {
        "average_diameter_one_sheet": "s100-j J2.2.2.1",
        "effective_diameter": (
            "s100-j J2.2.2.1-5; the abstract of AISI report RP16-1 would drop the upper limit and add a lower one"
        ),
        "weld_shear": "s100-j J2.2.2.1-1",
        "sheet_shear_stocky": "s100-j J2.2.2.1-2",
        "sheet_shear_slender": "s100-j J2.2.2.1-4",
        "seam_weld_shear": "s100-j J2.3.2.1, which prints Omega 2.50 where ours is 2.55",
        "seam_sheet_shear": "s100-j J2.3.2.1, which has d for d_a: ours is the smaller",
        "sheet_end_rupture": "s100-j J6.1, welds",
    },
    "bead": {
        "rigidity_across": "xia",
        "rigidity_coupling": "xia",
        "rigidity_twisting": "xia",
        "rigidity_along": (
            "xia; Xia divides by 1 - nu^2 (ours 9.0 % lower), Briassoulis does not (ours 1.8 % above his "
            "finite elements)"
        ),
    },
    "bolts_aisc": {
        "nominal_area": "beginners-guide",
        "bolt_shear": "beginners-guide",
        "bolt_tension": "aisc-14th",
        "slip": "beginners-guide",
        "tension_beside_shear_asd": "aisc-j3-2010 eq. J3-3b",
        "bearing": "fe-handbook",
        "tear_out": "fe-handbook",
        "tension_stress_threaded": "s100-j Table J3.4-1, d from 1/2 in",
        "shear_stress_threads_in": "s100-j Table J3.4-1, d from 1/2 in",
        "shear_stress_threads_out": "s100-j Table J3.4-1, d from 1/2 in",
    },
    "bolts_aisi": {
        "tension_stress_small": "s100-j Table J3.4-1, d under 1/2 in",
        "shear_stress_small": "s100-j Table J3.4-1, d under 1/2 in",
        "bearing_factor_standard": "s100-j Table J3.3.1-1",
        "bearing_factor_oversized": "s100-j Table J3.3.1-1",
        "bearing": "s100-j J3.3.1-1",
        "tear_out": "s100-j J6.1; Omega by fastener there: bolts 2.22, screws 3.00, welds 2.50",
        "pull_over": "s100-j J4.4.2-1; the greatest washer by Yu and LaBoube, p. 296",
    },
    "bolts_en1993": {
        "bolt_shear": "own-page",
        "bolt_tension": "own-page",
        "alpha_b_end": "own-page",
        "alpha_b_inner": "own-page",
        "k_1_edge": "own-page",
        "k_1_inner": "own-page",
        "bearing": "own-page",
        "punching": "own-page",
        "shear_and_tension": "own-page",
        "sheet_alpha_b": "sheet-bolts",
        "sheet_k_t": "sheet-bolts",
        "sheet_bearing": (
            "sheet-bolts; ENV 1993-1-3:1996 has 2.5 f_u d t up to f_u e_1 t/1.2, for t over 1.25 mm and e_1 from 1.5 d"
        ),
        "sheet_net_section": "env-1-3",
        "net_section": "sheet-screws",
    },
    "column": {
        "euler_force": "timoshenko-notes: 1216, 2482, 4864 and 304 kN",
        "secant_factor": "timoshenko-notes: 109.7 MPa",
        "johnson_parabola": "timoshenko-notes: 250.7 MPa",
        "relative_slenderness": "ntc [4.2.45], [4.2.46]",
        "reduction_factor": "ntc [4.2.44] and Tab. 4.2.VIII",
        "buckling_resistance": "ntc [4.2.42], [4.2.43]",
        "relative_slenderness_LT": "ntc [4.2.51]",
        "moment_resistance_LT": "ntc [4.2.49]",
        "critical_moment": "en-1999-i",
        "elastic_buckling_stress": "aisi-manual Ex. III-7B",
        "slenderness_factor": "aisi-manual Ex. III-7B, III-5B, III-3",
        "aisi_inelastic_stress": "aisi-manual Ex. III-7B",
        "aisi_elastic_stress": "aisi-manual Ex. III-5B, III-3",
        "aisi_strength": "aisi-manual Ex. III-3",
        "aisi_ltb_inelastic": "aisi-manual Ex. II-6B",
        "aisi_ltb_yield": "aisi-manual Ex. II-1B",
        "inter_fastener_column": "flabel",
    },
    "effective_aisi": {
        "local_buckling_stress": "aisi-manual Ex. III-3",
        "slenderness": "aisi-manual Ex. III-3",
        "local_reduction": "aisi-manual Ex. III-3",
        "nominal_moment": "aisi-manual Ex. II-7B",
    },
    "effective_en": {
        "epsilon": "ntc [C4.2.45]",
        "slenderness": "ntc [C4.2.59]",
        "rho_internal": "ntc [C4.2.57], whose print has a slip, >= 1/lambda for <= 1",
        "limit_internal": (
            "ntc [C4.2.57], which has 0.673 for every psi; ours is the corrigendum of 2009, equal at psi = 1"
        ),
        "rho_outstand": "ntc [C4.2.58]",
        "k_internal_compression": "ntc Tab. C4.2.VIII",
        "k_internal_bending": "ntc Tab. C4.2.VIII",
        "k_internal_tension": "ntc Tab. C4.2.VIII",
        "k_outstand_free": "ntc Tab. C4.2.IX",
        "k_outstand_held": "ntc Tab. C4.2.IX",
        "k_outstand_held_bending": "ntc Tab. C4.2.IX",
        "stiffener_critical_stress": "ntc [C4.2.105]",
        "stiffener_slenderness": "ntc [C4.2.106]",
        "chi_d_medium": "ntc [C4.2.108]",
        "chi_d_slender": "ntc [C4.2.108]",
        "moment_resistance": "ntc [C4.2.117]",
        "spring_stiffness": "sx022",
        "stiffener_second_moment": "sx022",
    },
    "fatigue": {
        "strength_slope_3": "fatigue-curves",
        "strength_slope_5": "fatigue-curves",
        "cut_off": "fatigue-curves",
    },
    "fillet_aisc": {
        "throat": "weld-notes",
        "weld_strength": "weld-notes",
        "long_weld_factor": "aisc-j22",
        "very_long_weld_length": "aisc-j22",
        "least_segment": "aisc-j22",
        "least_lap": "aisc-j22",
        "shear_yield": "aisc-limit-states: coefficient of the same term of block shear, J4.3",
        "shear_rupture": "aisc-limit-states: coefficient of the same term of block shear, J4.3",
    },
    "fillet_aisi": {
        "longitudinal_short": "s100-j J2.5-1, J2.5-2",
        "longitudinal_long": "s100-j J2.5-3, J2.5-4",
        "transverse": "s100-j J2.5-5, J2.5-6",
        "throat": "s100-j J2.5",
        "weld_metal": "s100-j J2.5-7",
        "flare_transverse": "s100-j J2.6-1",
        "flare_longitudinal_single": "s100-j J2.6-2",
        "flare_longitudinal_double": "s100-j J2.6-3",
        "groove_tension": "s100-j J2.1-1",
        "groove_shear_weld": "s100-j J2.1-2",
        "groove_shear_sheet": "s100-j J2.1-3",
    },
    "fillet_en1993": {
        "effective_length": "en-scan",
        "least_effective_length": "en-scan",
    },
    "flare": {
        "groove_shear_strength": "lrfd-j25",
    },
    "forming": {
        "springback_ratio": "teaching",
    },
    "heat": {
        "carbon_equivalent": "carbon-papers",
        "carbon_equivalent_t": "carbon-papers",
        "cracking_parameter": "carbon-papers",
        "cooling_time_thin": "steelmaker",
        "cooling_time_thick": "steelmaker",
    },
    "lap": {
        "yield_across": "ntc [C4.2.113]",
        "core_thickness": "sx023",
    },
    "plate": {
        "navier_uniform": "navier-print",
        "navier_deflection": "navier-print",
        "shear_coefficient_simple": "ntc [C4.2.51]",
        "plate_buckling_stress": "ntc: 190 000 (t/h)^2",
    },
    "plug_aisc": {
        "weld_shear": "lrfd-j25",
    },
    "spot_aisi": {
        "shear_rupture": "s100-j J6.1, welds",
    },
    "web_aisi": {
        "shear_stress_stocky": "pham eq. 1b",
        "shear_stress_medium": "pham eq. 1c",
        "shear_stress_slender": "pham eq. 1d",
        "web_shear": "pham eq. 1a",
    },
    "web_en1993": {
        "web_slenderness": "ntc [C4.2.123]",
        "shear_strength_stocky": "ntc [C4.2.125]",
        "shear_strength_medium": "ntc [C4.2.125]; with stiffened supports it goes on past 1.40, [C4.2.124]",
        "shear_strength_slender": "ntc [C4.2.125]",
        "web_shear": "ntc [C4.2.121]",
        "tension_resistance": "ntc [C4.2.113]",
        "tension_and_bending": "ntc [C4.2.120]",
    },
}
"""Module and formula -> name of the comparison it agreed in, and the place or what differs."""

FORMULAS: Mapping[str, str] = {
    f"formula.{module}.{name}": held for module, names in _FORMULAS.items() for name, held in names.items()
}
"""Key of a formula -> its comparison."""


def compared(held: str) -> tuple[Literal["read", "second-hand"], str]:
    """Status and words of a comparison and its place, as in `"s100-j J2.5-1"`.  Raises KeyError for an unknown name."""
    name, _, place = held.partition(" ")
    mark = name[-1] if name[-1] in ":;" else ","
    status, words = PRINT[name.rstrip(":;")]
    return status, f"{words}{mark} {place}" if place else words


METHODS: Mapping[str, str] = {
    key: held
    for held, keys in (
        ("own-page", "en1993-1-8.bolt-shear en1993-1-8.bolt-tension en1993-1-8.bolt-interaction en1993-1-8.bearing "
         "en1993-1-8.punching"),
        ("sheet-bolts", "en1993-1-3.bolt-bearing"),
        ("env-1-3", "en1993-1-3.fastener-net-section"),
        ("s100-j", "aisi-s100.bearing aisi-s100.tear-out aisi-s100.pull-over aisi-s100.fillet-longitudinal "
         "aisi-s100.fillet-transverse aisi-s100.weld-metal aisi-s100.flare-transverse aisi-s100.flare-longitudinal "
         "aisi-s100.groove-tension aisi-s100.groove-shear aisi-s100.arc-spot-weld aisi-s100.arc-seam-weld "
         "aisi-s100.arc-seam-sheet aisi-s100.plug-tear-out aisi-s100.plug-row-rupture aisi-s100.shear-rupture"),
        ("beginners-guide", "aisc360.bolt-shear"),
        ("aisc-limit-states", "aisc-360.base-yield aisc-360.base-rupture"),
        ("aisc-j3-2010", "aisc360.bolt-tension"),
        ("fe-handbook", "aisc360.bearing aisc360.tear-out"),
        ("ntc", "en1993-1-3.bending en1993-1-3.web-shear en1993-1-3.compression en1993-1-3.tension-bending "
         "en1993-1-3.yield-across en1993-1-3.plug-yield-across"),
        ("pham", "aisi-s100.web-shear"),
        ("aisi-manual", "aisi-s100.bending aisi-s100.compression"),
    )
    for key in keys.split()
}  # fmt: skip
"""Key of a method -> name of the comparison its clause was seen in."""

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
    "aisc-example-41": ("second-hand", "compared with a published worked example of a bolted splice"),
    "aisc-j3-2010": ("read", "compared with AISC 360-10 J3 as reprinted"),
    "aisc-limit-states": ("second-hand", "compared with a course page on AISC limit states"),
    "fe-handbook": ("second-hand", "compared with the bearing table of the FE reference handbook, 24 values"),
    "aisc-j22": ("read", "compared with AISC 360 J2.2b as reprinted"),
    "lrfd-j25": ("second-hand", "compared with AISC LRFD Table J2.5, a scan"),
    "weld-notes": ("second-hand", "compared with lecture notes on welds and AISC Design Examples v14, J"),
    "en-scan": ("second-hand", "compared with a scan of the clause"),
    "carbon-papers": ("second-hand", "compared with papers that quote the three equivalents"),
    "steelmaker": (
        "second-hand",
        "compared with EN 1011-2 as quoted by a steelmaker, who says annex C where ours says D",
    ),
    "fatigue-curves": ("second-hand", "compared with a transcription of the EN 1993-1-9 curves"),
    "fatigue-list": ("second-hand", "compared with a list of EN 1993-1-9 formulas: Annex A, eqs. (A.1), (A.2)"),
    "ntc": ("second-hand", "compared with a transcription of NTC 2018 and Circolare 7/2019"),
    "ntc-edition": (
        "second-hand",
        "compared with a transcription of NTC 2018 and Circolare 7/2019, which has 0.673 for every psi; ours "
        "is the corrigendum of 2009, equal at psi = 1",
    ),
    "sx022": ("second-hand", "compared with the printed results of SX022a, a reprint"),
    "sx023": ("second-hand", "compared with the core thicknesses printed in SX023a and SX027a"),
    "timoshenko-notes": ("second-hand", "compared with lecture notes that cite Timoshenko and Gere"),
    "aisi-manual": ("second-hand", "compared with examples of the AISI Design Manual 2017"),
    "aisc-f7b": ("second-hand", "compared with AISC Design Examples v15, F.7B"),
    "flabel": ("second-hand", "compared with Flabel, Practical Stress Analysis"),
    "aircraft-report": ("second-hand", "compared with a structural report of a small aircraft"),
    "ecss": ("second-hand", "compared with a paraphrase of ECSS-E-ST-32C 4.6.2.15"),
    "pham": ("second-hand", "compared with Pham et al., who quote S100-16 G2.1"),
    "en-1999-i": ("second-hand", "compared with NTC 2018 [C4.2.30] and a transcription of EN 1999-1-1 Annex I, (I.2)"),
    "navier-print": ("second-hand", "compared with a transcription: 0.004062 q a^4/D, simply supported square"),
    "beam-page": ("second-hand", "compared with a published table of beam maxima"),
    "xia": ("second-hand", "compared with Xia, Friswell and Saavedra Flores, IJSS 49 (2012), Tables 2 and 5"),
    "xia-along": (
        "second-hand",
        "compared with Xia et al. 2012, who divide by 1 - nu^2 (ours 9.0 % lower), and Briassoulis 1986, who "
        "does not (ours 1.8 % above his finite elements)",
    ),
    "briassoulis": ("second-hand", "compared with Briassoulis, Comput. Struct. 23 (1986), Tables 1-3: B_xy = 2 D_xy"),
    "keeler": ("second-hand", "compared with a transcription: (23.3 + 14.13 t) n/0.21 %"),
    "teaching": ("second-hand", "compared with a public teaching page that names Boothroyd and Marciniak"),
    "mil-page": ("second-hand", "compared with a public page quoting MIL-HDBK-5H"),
}
"""Name of a comparison -> the status it allows and what was compared."""

_FORMULAS: tuple[tuple[str, str, str], ...] = (
    (
        "arc_spot_aisi",
        "s100-j",
        "average_diameter_one_sheet effective_diameter weld_shear sheet_shear_stocky sheet_shear_slender "
        "seam_weld_shear seam_sheet_shear sheet_end_rupture",
    ),
    ("bead", "briassoulis", "rigidity_twisting_flat"),
    ("bead", "keeler", "forming_limit_plane_strain"),
    ("bead", "xia", "rigidity_across rigidity_coupling rigidity_twisting"),
    ("bead", "xia-along", "rigidity_along"),
    (
        "beam",
        "beam-page",
        "pinned_point_moment pinned_point_deflection pinned_point_deflection_max pinned_uniform_deflection "
        "fixed_uniform_deflection fixed_point_deflection_middle cantilever_point_deflection "
        "cantilever_uniform_deflection",
    ),
    ("bolts_aisc", "aisc-example-41", "nominal_area bolt_shear bolt_tension slip"),
    ("bolts_aisc", "aisc-j3-2010", "tension_beside_shear_lrfd tension_beside_shear_asd"),
    ("bolts_aisc", "aisc-limit-states", "bearing_deformation_free tear_out_deformation_free"),
    ("bolts_aisc", "fe-handbook", "bearing tear_out"),
    ("bolts_aisc", "s100-j", "tension_stress_threaded shear_stress_threads_in shear_stress_threads_out"),
    (
        "bolts_aisi",
        "s100-j",
        "bearing_factor_standard bearing_factor_oversized bearing tear_out screw_tilting "
        "screw_bearing_head_side screw_bearing_far_side screw_shear pull_out pull_over",
    ),
    ("bolts_en1993", "env-1-3", "sheet_net_section screw_pull_through_repeated screw_pull_out"),
    (
        "bolts_en1993",
        "own-page",
        "bolt_shear bolt_tension alpha_b_end alpha_b_inner k_1_edge k_1_inner bearing punching shear_and_tension",
    ),
    ("bolts_en1993", "sheet-bolts", "sheet_alpha_b sheet_k_t sheet_bearing"),
    ("bolts_en1993", "sheet-screws", "screw_alpha net_section"),
    ("column", "aircraft-report", "inter_fastener_rounded"),
    ("column", "aisc-f7b", "moment_gradient_factor"),
    (
        "column",
        "aisi-manual",
        "elastic_buckling_stress slenderness_factor aisi_inelastic_stress aisi_elastic_stress aisi_strength "
        "aisi_ltb_inelastic aisi_ltb_yield",
    ),
    ("column", "ecss", "inter_fastener_plate"),
    ("column", "en-1999-i", "critical_moment"),
    ("column", "flabel", "inter_fastener_column"),
    (
        "column",
        "ntc",
        "relative_slenderness reduction_factor buckling_resistance relative_slenderness_LT "
        "moment_resistance_LT interaction_factor_k_yy en_linear_interaction eccentric_moment",
    ),
    (
        "column",
        "timoshenko-notes",
        "euler_force secant_stress johnson_parabola aisc_inelastic_stress aisc_elastic_stress",
    ),
    (
        "effective_aisi",
        "aisi-manual",
        "local_buckling_stress slenderness local_reduction nominal_compression nominal_moment",
    ),
    (
        "effective_en",
        "ntc",
        "epsilon slenderness rho_internal rho_outstand k_internal_compression k_internal_bending "
        "k_internal_tension k_outstand_free k_outstand_held k_outstand_held_bending "
        "stiffener_critical_stress stiffener_slenderness chi_d_medium chi_d_slender moment_resistance "
        "compression_resistance",
    ),
    ("effective_en", "ntc-edition", "limit_internal"),
    ("effective_en", "sx022", "spring_stiffness stiffener_second_moment"),
    (
        "fatigue",
        "fatigue-curves",
        "strength_slope_3 cycles_slope_3 constant_amplitude_limit strength_slope_5 cycles_slope_5 cut_off",
    ),
    ("fatigue", "fatigue-list", "damage"),
    ("fillet_aisc", "aisc-j22", "long_weld_factor very_long_weld_length least_segment least_lap"),
    ("fillet_aisc", "aisc-limit-states", "tension_yield tension_rupture shear_yield shear_rupture"),
    ("fillet_aisc", "weld-notes", "throat weld_strength"),
    (
        "fillet_aisi",
        "s100-j",
        "longitudinal_short longitudinal_long transverse throat weld_metal flare_transverse "
        "flare_longitudinal_single flare_longitudinal_double groove_tension groove_shear_weld "
        "groove_shear_sheet",
    ),
    ("fillet_en1993", "en-scan", "effective_length least_effective_length"),
    ("flare", "lrfd-j25", "groove_shear_strength"),
    ("forming", "teaching", "springback_ratio"),
    ("heat", "carbon-papers", "carbon_equivalent carbon_equivalent_t cracking_parameter"),
    ("heat", "steelmaker", "cooling_time_thin cooling_time_thick"),
    ("heat_affected_4130", "mil-page", "weld_metal_allowable"),
    ("lap", "ntc", "yield_across"),
    ("lap", "sx023", "core_thickness"),
    ("plate", "navier-print", "navier_uniform navier_deflection"),
    ("plate", "ntc", "shear_coefficient_simple plate_buckling_stress"),
    ("plug_aisc", "lrfd-j25", "weld_shear"),
    ("spot_aisi", "s100-j", "shear_rupture"),
    ("web_aisi", "pham", "shear_stress_stocky shear_stress_medium shear_stress_slender web_shear"),
    (
        "web_en1993",
        "ntc",
        "web_slenderness shear_strength_stocky shear_strength_medium shear_strength_slender web_shear "
        "tension_resistance tension_and_bending",
    ),
)
"""Module, name of the comparison, the formulas that agreed in it."""

FORMULAS: Mapping[str, str] = {
    f"formula.{module}.{name}": held for module, held, names in _FORMULAS for name in names.split()
}
"""Key of a formula -> name of its comparison."""

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
        ("aisc-example-41", "aisc360.bolt-shear"),
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

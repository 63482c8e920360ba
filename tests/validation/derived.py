"""What stands behind each formula that no published case and no computed case holds.

Every entry names one test, what it does, and the formulas it fails for when they give wrong values; `python -m
tests.validation --prove` shows that it does.
"""

from __future__ import annotations

from typing import NamedTuple

HOWS = {
    "derivation": "mechanics or geometry worked out in the test",
    "independent computation": "a library, a second method or the clause's other unit system gives the same",
    "branches meet": "the branches of a clause, or its ends, agree where they must",
    "by hand": "arithmetic by hand from the clause as known: holds the code to the clause, not the clause to the print",
    "common practice": "a habit of the trade without a source",
}


class Entry(NamedTuple):
    """One test and the formulas it holds."""

    test: str
    how: str
    formulas: str


REGISTER: tuple[Entry, ...] = (
    Entry(
        "tests/check/test_coupon_method.py::test_a_smaller_spot_than_theirs_counts_less",
        "derivation",
        "coupon_design.smaller_spot",
    ),
    Entry(
        "tests/check/test_coupon_limits.py::test_the_factor_over_batches_at_its_ends",
        "derivation",
        "coupon_limits.batch_factor",
    ),
    Entry(
        "tests/check/test_coupon_limits.py::test_the_limit_over_batches_by_simulation",
        "independent computation",
        "coupon_limits.batch_limit",
    ),
    Entry(
        "tests/check/test_coupon_limits.py::test_tests_by_name_against_the_library",
        "independent computation",
        "coupon_tests.normed_residual coupon_tests.normality_statistic coupon_tests.batches_statistic "
        "coupon_tests.batches_limit coupon_tests.variance_ratio coupon_tests.slope_t",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_end_forces_by_equilibrium",
        "derivation",
        "body.end_force body.side_end_force body.sill_force",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_one_wheel_on_a_kerb_by_moments",
        "derivation",
        "body.lifted_wheel_torque body.driven",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_axles_and_moments_against_the_beam_solver",
        "independent computation",
        "body.rear_load",
    ),
    Entry(
        "tests/statics/body/test_cells.py::test_one_closed_tunnel_is_bredt_s",
        "derivation",
        "body.bredt_flow body.bredt_constant body.twist body.shear_stress",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_nine_fields_round_an_opening",
        "derivation",
        "body.beside_opening body.at_corners body.stiffener_force",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_a_ring_round_the_opening_by_a_frame",
        "independent computation",
        "body.ring_moment",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_parts_of_a_bent_box",
        "derivation",
        "body.part_force",
    ),
    Entry(
        "tests/statics/body/test_racking.py::test_formulas_of_a_tube",
        "by hand",
        "body.tube_stiffness body.racking_angle body.tube_force",
    ),
    Entry(
        "tests/statics/body/test_body.py::test_a_steered_tyre_by_its_corners",
        "independent computation",
        "body.tyre_at_floor body.steered_inboard body.steered_outboard body.steered_along",
    ),
    Entry(
        "tests/check/test_panel_plane.py::test_levy_s_table_stands_beside_the_solver",
        "independent computation",
        "panel.pressure_number",
    ),
    Entry(
        "tests/check/test_panel_opening.py::test_a_round_opening_in_a_square_plate_takes_its_share_of_the_width",
        "independent computation",
        "plate_opening.holed_coefficient_round plate_opening.holed_coefficient_rectangle",
    ),
    Entry(
        "tests/check/test_panel_opening.py::test_strips_beside_an_opening_by_statics",
        "derivation",
        "plate_opening.frame_flow plate_opening.round_length plate_opening.round_height",
    ),
    Entry(
        "tests/check/test_panel_opening.py::test_a_flange_stretches_the_edge_of_its_hole",
        "derivation",
        "plate_opening.collar_strain",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_shear_slenderness_of_a_web_in_its_other_form",
        "independent computation",
        "plate_ultimate.shear_slenderness",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_webs_up_to_72_epsilon_need_no_check_of_shear_buckling",
        "branches meet",
        "plate_ultimate.shear_reduction plate_ultimate.shear_strength",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_shear_of_other_metals",
        "branches meet",
        "plate_ultimate.shear_reduction_stainless plate_ultimate.shear_reduction_aluminium",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_stresses_of_plate_and_column",
        "derivation",
        "plate_ultimate.plate_stress plate_ultimate.column_stress",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_reduction_under_thrust_is_that_of_an_internal_element",
        "independent computation",
        "plate_ultimate.plate_slenderness plate_ultimate.plate_reduction",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_between_plate_and_column_at_its_ends",
        "branches meet",
        "plate_ultimate.between_plate_and_column plate_ultimate.thrust_strength",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_what_stays_elastic",
        "by hand",
        "plate_ultimate.thrust_kept_elastic",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_together_alone_is_each_alone",
        "branches meet",
        "plate_ultimate.yield_factor plate_ultimate.critical_factor plate_ultimate.field_slenderness plate_ultimate.field_factor",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_annex_d_comes_from_elastic_plates",
        "derivation",
        "plate_ultimate.local_shear_stress plate_ultimate.local_shear_slenderness plate_ultimate.local_shear_reduction plate_ultimate.global_shear_stress plate_ultimate.global_shear_reduction",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_orthotropic_thrust_of_flat_sheet_is_the_plate_s",
        "independent computation",
        "plate_ultimate.orthotropic_thrust plate_ultimate.orthotropic_thrust_across plate_ultimate.column_thrust",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_beads_as_stiffeners_by_hand",
        "by hand",
        "plate_ultimate.beaded_slenderness plate_ultimate.bead_imperfection plate_ultimate.beaded_thrust_strength",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_strips_beside_the_edges",
        "by hand",
        "plate_ultimate.edge_strips",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_bellows_is_a_strut_off_its_line",
        "derivation",
        "plate_ultimate.bellows_stress",
    ),
    Entry(
        "tests/formula/test_plate_ultimate.py::test_sums",
        "by hand",
        "plate_ultimate.used_in_plane plate_ultimate.used_with_load_across",
    ),
    Entry(
        "tests/formula/test_local_load.py::test_a_fan_in_a_stressed_plate",
        "derivation",
        "local_load.collapse_free local_load.collapse_held local_load.collapse_tube",
    ),
    Entry(
        "tests/formula/test_local_load.py::test_loads_along_the_brace",
        "derivation",
        "local_load.line_collapse_free local_load.line_collapse_held",
    ),
    Entry(
        "tests/formula/test_local_load.py::test_what_stress_along_the_brace_leaves_a_hinge",
        "derivation",
        "local_load.moment_across local_load.moment_along",
    ),
    Entry(
        "tests/formula/test_local_load.py::test_the_edge_of_a_leg",
        "derivation",
        "local_load.edge_collapse local_load.edge_strut_force local_load.edge_yield",
    ),
    Entry(
        "tests/formula/test_wide_flange.py::test_the_rows_of_shear_lag_meet",
        "branches meet",
        "wide_flange.lag_hogging wide_flange.lag_hogging_wide wide_flange.lag_sagging wide_flange.lag_sagging_wide wide_flange.width_over_length",
    ),
    Entry(
        "tests/formula/test_wide_flange.py::test_moments_reduced_by_hand",
        "by hand",
        "wide_flange.lagged_moment wide_flange.short_span_moment",
    ),
    Entry(
        "tests/formula/test_wide_flange.py::test_a_curling_flange_is_a_cantilever_under_the_pull_of_its_curvature",
        "derivation",
        "wide_flange.curl",
    ),
    Entry(
        "tests/formula/test_bending_both_ways.py::test_what_is_lost_farthest_out_bounds_what_is_left",
        "derivation",
        "bending_both_ways.modulus_aside",
    ),
    Entry(
        "tests/formula/test_bending_both_ways.py::test_both_ways_by_hand",
        "by hand",
        "bending_both_ways.both_ways bending_both_ways.moment_aside",
    ),
    Entry(
        "tests/formula/test_closed_torsion.py::test_the_shear_of_a_twisted_cell_is_that_of_the_exact_tube",
        "derivation",
        "closed_torsion.bredt_shear",
    ),
    Entry(
        "tests/formula/test_closed_torsion.py::test_a_long_tube_buckles_a_little_under_the_theory_of_its_shell",
        "derivation",
        "closed_torsion.tube_torsion",
    ),
    Entry(
        "tests/formula/test_closed_torsion.py::test_shear_that_uses_up_the_wall_uses_up_yield",
        "by hand",
        "closed_torsion.buckling_as_normal",
    ),
    Entry(
        "tests/formula/test_warping_torsion.py::test_shear_of_a_twisted_sheet",
        "derivation",
        "warping_torsion.twisting_shear",
    ),
    Entry(
        "tests/formula/test_warping_torsion.py::test_stresses_together",
        "by hand",
        "warping_torsion.shear_as_normal warping_torsion.together warping_torsion.total_normal",
    ),
    Entry(
        "tests/formula/test_warping_torsion.py::test_the_reduction_for_twisting",
        "by hand",
        "warping_torsion.twist_reduction warping_torsion.twisted_moment",
    ),
    Entry(
        "tests/formula/test_more_members.py::test_tension_with_bending_by_hand",
        "by hand",
        "web_aisi.tension_and_bending",
    ),
    Entry(
        "tests/formula/test_more_members.py::test_webs_between_two_forces_by_hand",
        "by hand",
        "web_en1993.crippling_end_opposed web_en1993.crippling_interior_opposed",
    ),
    Entry(
        "tests/formula/test_spot_en1993.py::test_the_two_rules_meet_where_the_condition_is_just_kept",
        "branches meet",
        "spot_en1993.ductile_bound",
    ),
    Entry(
        "tests/formula/test_bolts_aisi.py::test_bearing_by_hand_in_inches",
        "by hand",
        "bolts_aisi.bearing",
    ),
    Entry(
        "tests/formula/test_bolts_aisi.py::test_bearing_factor_of_the_table",
        "by hand",
        "bolts_aisi.bearing_factor_oversized bolts_aisi.bearing_factor_standard",
    ),
    Entry(
        "tests/formula/test_bolts_aisi.py::test_bolts_under_half_an_inch",
        "by hand",
        "bolts_aisi.shear_stress_small bolts_aisi.tension_stress_small",
    ),
    Entry(
        "tests/formula/test_bolts_aisi.py::test_hole_deformation_in_both_unit_systems",
        "independent computation",
        "bolts_aisi.bearing_deformation",
    ),
    Entry(
        "tests/formula/test_bolts_aisi.py::test_pull_over",
        "by hand",
        "bolts_aisi.effective_washer",
    ),
    Entry(
        "tests/formula/test_bolts_aisi.py::test_tear_out_by_hand",
        "by hand",
        "bolts_aisi.tear_out",
    ),
    Entry(
        "tests/formula/test_bolts_backing_plate.py::test_elastic_plate_against_a_boundary_value_solver",
        "independent computation",
        "backing_plate.plate_deflection backing_plate.plate_stress",
    ),
    Entry(
        "tests/formula/test_bolts_backing_plate.py::test_plastic_moment_and_contact",
        "derivation",
        "backing_plate.contact_pressure_limit",
    ),
    Entry(
        "tests/formula/test_bolts_backing_plate.py::test_plate_and_sheet_is_the_best_ring",
        "independent computation",
        "backing_plate.plastic_moment backing_plate.plate_and_sheet backing_plate.plate_on_ring "
        "backing_plate.sheet_at_rim backing_plate.sheet_pull_through backing_plate.working_radius",
    ),
    Entry(
        "tests/formula/test_bolts_en1993.py::test_bolt_in_sheet",
        "by hand",
        "bolts_en1993.sheet_alpha_b bolts_en1993.sheet_bearing bolts_en1993.sheet_k_t bolts_en1993.sheet_net_section",
    ),
    Entry(
        "tests/formula/test_bolts_en1993.py::test_interaction_corner_points",
        "branches meet",
        "bolts_en1993.shear_and_tension",
    ),
    Entry(
        "tests/formula/test_bolts_en1993.py::test_plate_net_section_by_hand",
        "by hand",
        "bolts_en1993.plate_net_section",
    ),
    Entry(
        "tests/formula/test_bolts_en1993.py::test_rivets",
        "by hand",
        "bolts_en1993.net_section bolts_en1993.rivet_alpha bolts_en1993.rivet_bearing",
    ),
    Entry(
        "tests/formula/test_bolts_en1993.py::test_single_lap_limit_is_the_least_edge_case",
        "by hand",
        "bolts_en1993.bearing_single_lap",
    ),
    Entry(
        "tests/formula/test_bolts_strength.py::test_interactions",
        "by hand",
        "bolt_strength.elliptical",
    ),
    Entry(
        "tests/formula/test_column_formulas.py::test_aisi_beam_about_symmetry_axis_is_the_doubly_symmetric_critical_moment",
        "independent computation",
        "column.aisi_ltb_about_symmetry_axis column.aisi_ltb_closed column.critical_moment "
        "column.torsional_buckling_stress",
    ),
    Entry(
        "tests/formula/test_column_formulas.py::test_interactions",
        "by hand",
        "column.aisi_interaction column.en_power_interaction",
    ),
    Entry(
        "tests/formula/test_column_formulas.py::test_lateral_torsional_resistance",
        "derivation",
        "column.moment_resistance_LT column.reduction_factor_LT column.relative_slenderness_LT",
    ),
    Entry(
        "tests/formula/test_column_formulas.py::test_monosymmetric_beam_in_two_documents",
        "derivation",
        "column.aisi_ltb_across_symmetry_axis",
    ),
    Entry(
        "tests/formula/test_direct_strength.py::test_plain_sums",
        "by hand",
        "direct_strength.distortional_slenderness_beam direct_strength.distortional_slenderness_column "
        "direct_strength.distortional_strength_beam_stocky direct_strength.distortional_strength_column_stocky "
        "direct_strength.global_strength_beam direct_strength.global_strength_column "
        "direct_strength.local_slenderness_beam direct_strength.local_slenderness_column "
        "direct_strength.local_strength_beam_stocky direct_strength.local_strength_column_stocky "
        "direct_strength.squash_load direct_strength.yield_moment",
    ),
    Entry(
        "tests/formula/test_fatigue.py::test_interaction",
        "by hand",
        "fatigue.interaction",
    ),
    Entry(
        "tests/formula/test_fatigue.py::test_nugget_stresses_are_a_round_bar",
        "derivation",
        "fatigue.spot_nugget_normal fatigue.spot_nugget_shear",
    ),
    Entry(
        "tests/formula/test_fatigue.py::test_spot_bending_constants_are_plate_theory",
        "derivation",
        "fatigue.spot_sheet_stress",
    ),
    Entry(
        "tests/formula/test_fatigue.py::test_spot_life_lines_meet_at_a_million",
        "branches meet",
        "fatigue.spot_cycles_high fatigue.spot_cycles_low",
    ),
    Entry(
        "tests/formula/test_fatigue.py::test_spot_strengths_undo_lives",
        "independent computation",
        "fatigue.spot_strength_high fatigue.spot_strength_low",
    ),
    Entry(
        "tests/formula/test_fillet_aisc.py::test_base_metal_by_hand",
        "by hand",
        "fillet_aisc.shear_rupture fillet_aisc.shear_yield",
    ),
    Entry(
        "tests/formula/test_fillet_aisc.py::test_largest_leg_along_an_edge",
        "by hand",
        "fillet_aisc.largest_leg_thick fillet_aisc.largest_leg_thin",
    ),
    Entry(
        "tests/formula/test_fillet_aisc.py::test_long_welds",
        "branches meet",
        "fillet_aisc.very_long_weld_length",
    ),
    Entry(
        "tests/formula/test_fillet_aisc.py::test_segments_and_laps",
        "by hand",
        "fillet_aisc.least_lap fillet_aisc.least_segment",
    ),
    Entry(
        "tests/formula/test_fillet_aisc.py::test_short_welds_count_with_a_quarter_of_their_length",
        "by hand",
        "fillet_aisc.effective_leg fillet_aisc.least_length",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_butt_weld_is_the_sheet",
        "derivation",
        "fillet_aisi.groove_shear_sheet fillet_aisi.groove_shear_weld fillet_aisi.groove_tension",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_flare_across_is_five_sixths_of_the_sheet",
        "by hand",
        "fillet_aisi.flare_transverse",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_flare_double_shear_is_twice_single",
        "derivation",
        "fillet_aisi.flare_longitudinal_double fillet_aisi.flare_longitudinal_single fillet_aisi.longitudinal_long",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_longitudinal_branches_meet",
        "branches meet",
        "fillet_aisi.longitudinal_short",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_throat_follows_the_smaller_leg",
        "derivation",
        "fillet_aisi.throat",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_transverse_is_the_weaker_sheet_in_tension",
        "derivation",
        "fillet_aisi.transverse",
    ),
    Entry(
        "tests/formula/test_fillet_aisi.py::test_weld_metal_against_the_structural_rule",
        "derivation",
        "fillet_aisi.weld_metal",
    ),
    Entry(
        "tests/formula/test_fillet_en1993.py::test_butt_weld_is_as_strong_as_the_sheet",
        "derivation",
        "fillet_en1993.butt_comparison fillet_en1993.butt_resistance",
    ),
    Entry(
        "tests/formula/test_fillet_en1993.py::test_effective_length_and_its_minimum",
        "by hand",
        "fillet_en1993.effective_length fillet_en1993.least_effective_length",
    ),
    Entry(
        "tests/formula/test_fillet_en1993.py::test_intermittent_fillets",
        "by hand",
        "fillet_en1993.intermittent_gap_compression fillet_en1993.intermittent_gap_tension",
    ),
    Entry(
        "tests/formula/test_fillet_en1993.py::test_long_laps_lose_strength_beyond_150_throats",
        "by hand",
        "fillet_en1993.long_lap_factor",
    ),
    Entry(
        "tests/formula/test_fillet_en1993.py::test_sheet_laps_at_the_width",
        "branches meet",
        "fillet_en1993.end_lap fillet_en1993.side_lap_long fillet_en1993.side_lap_short",
    ),
    Entry(
        "tests/formula/test_fillet_en1993.py::test_gain_with_the_angle_follows_from_the_directional_method",
        "derivation",
        "fillet_en1993.directional_strength",
    ),
    Entry(
        "tests/formula/test_fillet_heat_affected.py::test_4130_per_length",
        "by hand",
        "heat_affected_4130.near_weld_resistance heat_affected_4130.weld_metal_shear",
    ),
    Entry(
        "tests/formula/test_fillet_heat_affected.py::test_weld_metal_stress_is_von_mises",
        "derivation",
        "aluminium_en1999.weld_stress",
    ),
    Entry(
        "tests/formula/test_fillet_heat_affected.py::test_zone_shear_is_von_mises",
        "derivation",
        "aluminium_en1999.haz_stress",
    ),
    Entry(
        "tests/formula/test_fillet_root.py::test_arms_are_those_of_the_drawing",
        "derivation",
        "fillet_root.root_arm fillet_root.root_arm_edge fillet_root.root_arm_partial",
    ),
    Entry(
        "tests/formula/test_fillet_root.py::test_asce_8_branches_meet_and_by_hand",
        "branches meet",
        "fillet_asce8.longitudinal_long fillet_asce8.longitudinal_short "
        "fillet_asce8.transverse fillet_asce8.weld_metal",
    ),
    Entry(
        "tests/formula/test_fillet_root.py::test_base_shear_is_six_tenths_of_the_cut",
        "by hand",
        "fillet_aisi.base_shear",
    ),
    Entry(
        "tests/formula/test_fillet_root.py::test_hand_example_leg_4_on_4",
        "by hand",
        "fillet_root.root_bending fillet_root.root_moment",
    ),
    Entry(
        "tests/formula/test_fillet_root.py::test_softened_strength_is_capped",
        "common practice",
        "heat.softened_strength",
    ),
    Entry(
        "tests/formula/test_fillet_root.py::test_wall_takes_its_plastic_moment_first",
        "derivation",
        "fillet_root.root_moment_held",
    ),
    Entry(
        "tests/formula/test_bolt_holes.py::test_bearing_in_an_oversized_hole",
        "by hand",
        "bolt_holes.oversized bolt_holes.slotted",
    ),
    Entry(
        "tests/formula/test_bolt_holes.py::test_fillers",
        "by hand",
        "bolt_holes.fillers",
    ),
    Entry(
        "tests/formula/test_bolt_holes.py::test_half_the_countersink_is_lost",
        "by hand",
        "bolt_holes.countersunk_bearing",
    ),
    Entry(
        "tests/formula/test_bolt_holes.py::test_packing",
        "by hand",
        "bolt_holes.packing",
    ),
    Entry(
        "tests/formula/test_bolt_holes.py::test_the_ring_under_a_head",
        "derivation",
        "bolt_holes.ring_share bolt_holes.ring_reduced",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_a_free_edge_cuts_the_fan",
        "independent computation",
        "bolt_pull.fold_at_edge",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_leg_of_a_bracket",
        "by hand",
        "bolt_pull.leg_length bolt_pull.leg_fold",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_plate_and_sheet_fold_together",
        "independent computation",
        "bolt_pull.fold_with_plate",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_prying_balances_the_leg",
        "derivation",
        "bolt_pull.prying",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_pull_from_one_side_counts_half",
        "by hand",
        "bolt_pull.one_sided",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_reach_is_that_of_images_between_two_supports",
        "independent computation",
        "bolt_pull.reach",
    ),
    Entry(
        "tests/formula/test_bolt_pull.py::test_the_sheet_hangs_in_equilibrium",
        "independent computation",
        "bolt_pull.hang",
    ),
    Entry(
        "tests/formula/test_rupture.py::test_block_shear_of_plate",
        "by hand",
        "rupture.block_shear rupture.block_shear_sheet",
    ),
    Entry(
        "tests/formula/test_rupture.py::test_block_tearing",
        "by hand",
        "rupture.block_tearing",
    ),
    Entry(
        "tests/formula/test_rupture.py::test_net_and_gross_sections",
        "by hand",
        "rupture.shear_lag rupture.net_rupture rupture.gross_yield",
    ),
    Entry(
        "tests/formula/test_rupture.py::test_a_section_bent_pulled_and_sheared",
        "derivation",
        "rupture.section_stress",
    ),
    Entry(
        "tests/formula/test_lap.py::test_comparison_stress_is_that_of_the_tensor",
        "derivation",
        "lap.comparison_stress",
    ),
    Entry(
        "tests/formula/test_lap.py::test_net_area_is_what_is_left_of_the_section",
        "independent computation",
        "lap.net_area",
    ),
    Entry(
        "tests/formula/test_lap.py::test_yield_across_is_stress_times_area",
        "derivation",
        "lap.yield_across",
    ),
    Entry(
        "tests/formula/test_lap.py::test_yield_along_is_von_mises",
        "derivation",
        "lap.yield_along",
    ),
    Entry(
        "tests/formula/test_lap.py::test_zinc_of_z275",
        "derivation",
        "lap.core_thickness",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_a_long_joint_by_hand",
        "by hand",
        "bolts_en1993.long_joint",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_uniform_rows_against_bars_and_springs",
        "independent computation",
        "row_sharing.strip_give row_sharing.decay row_sharing.share",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_slip_of_equal_shares_is_the_strain_added_up",
        "derivation",
        "row_sharing.shared_slip",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_give_in_plane_by_the_energy_of_the_ring",
        "independent computation",
        "row_sharing.weld_give_in_plane",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_tilt_by_the_energy_of_the_plate",
        "independent computation",
        "row_sharing.weld_tilt",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_fasteners_by_hand",
        "by hand",
        "row_sharing.fastener_give_bolted row_sharing.fastener_give_riveted row_sharing.arc_spot_give",
    ),
    Entry(
        "tests/formula/test_row_sharing.py::test_a_flange_held_at_both_lines_by_the_beam_table",
        "derivation",
        "row_sharing.lift_stiffness",
    ),
    Entry(
        "tests/formula/test_peel.py::test_far_apart_a_fan_forms_round_each_weld",
        "by hand",
        "peel.effective_width",
    ),
    Entry(
        "tests/formula/test_peel.py::test_the_fold_is_the_plastic_limit_of_a_clamped_strip",
        "independent computation",
        "peel.fold peel.plastic_moment",
    ),
    Entry(
        "tests/formula/test_peel.py::test_the_weld_is_pulled_by_load_and_lever",
        "derivation",
        "peel.spot_pull",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_box_wall_is_the_best_of_straight_folds",
        "independent computation",
        "plate_bending.box_wall",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_edge_far_from_supports_is_the_least_of_all_distances",
        "derivation",
        "plate_bending.foot_far_at_edge",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_fold",
        "derivation",
        "plate_bending.edge_moment plate_bending.fold",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_foot_at_the_edge_is_half_of_its_mirror",
        "derivation",
        "plate_bending.foot_at_edge",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_foot_between_simple_supports_is_the_work_of_its_own_surface",
        "independent computation",
        "plate_bending.foot_between_simple",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_foot_is_the_work_of_its_own_surface",
        "independent computation",
        "plate_bending.foot",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_plastic_moment_is_that_of_a_rectangle_1_mm_wide",
        "derivation",
        "plate_bending.plastic_moment",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_point_load_is_the_circular_pattern_of_end_plates",
        "derivation",
        "plate_bending.foot_far",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_strip_is_a_beam_with_one_hinge",
        "derivation",
        "plate_bending.strip",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_tilt_is_the_work_of_its_own_surface",
        "independent computation",
        "plate_bending.tilt",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_tilt_near_is_the_work_of_its_own_surface",
        "independent computation",
        "plate_bending.tilt_near",
    ),
    Entry(
        "tests/formula/test_plate_bending.py::test_walls_of_tubes_by_hand",
        "by hand",
        "plate_bending.box_wall_moment_across plate_bending.box_wall_moment_along plate_bending.tube_wall "
        "plate_bending.tube_wall_moment_across plate_bending.tube_wall_moment_along",
    ),
    Entry(
        "tests/formula/test_plate_formulas.py::test_plate_buckling_stress",
        "by hand",
        "plate.flat_between_beads_compression",
    ),
    Entry(
        "tests/formula/test_plug_aisc.py::test_holes_of_the_codes",
        "by hand",
        "plug_aisc.greatest_hole plug_aisc.least_hole",
    ),
    Entry(
        "tests/formula/test_plug_aisc.py::test_slot_is_rectangle_and_two_half_circles",
        "independent computation",
        "plug_aisc.slot_area",
    ),
    Entry(
        "tests/formula/test_plug_aisc.py::test_spacing_fill_and_slot",
        "by hand",
        "plug_aisc.greatest_slot_length plug_aisc.least_fill plug_aisc.least_plug_spacing "
        "plug_aisc.least_slot_spacing_across plug_aisc.least_slot_spacing_along",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_aisi_sheet_branches_meet",
        "branches meet",
        "arc_spot_aisi.sheet_shear_middle",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_average_and_peripheral_diameters",
        "by hand",
        "arc_spot_aisi.average_diameter_lapped arc_spot_aisi.average_diameter_one_sheet "
        "arc_spot_en1993.peripheral_diameter_one_sheet arc_spot_en1993.peripheral_diameter_sheets",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_edges",
        "by hand",
        "arc_spot_aisi.least_edge_distance arc_spot_aisi.sheet_end_rupture "
        "arc_spot_en1993.least_edge_distance_high_ratio arc_spot_en1993.least_edge_distance_low_ratio",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_effective_diameter_limit_and_its_inverse",
        "derivation",
        "arc_spot_en1993.interface_diameter",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_en_branches_meet",
        "branches meet",
        "arc_spot_en1993.peripheral_middle arc_spot_en1993.peripheral_slender arc_spot_en1993.peripheral_stocky",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_interaction",
        "by hand",
        "arc_spot_aisi.shear_and_tension",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_seams_shrink_to_spots",
        "branches meet",
        "arc_spot_aisi.seam_sheet_shear arc_spot_aisi.seam_weld_shear arc_spot_aisi.weld_shear "
        "arc_spot_en1993.elongated_peripheral arc_spot_en1993.elongated_weld_shear arc_spot_en1993.weld_shear",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_sheet_shear_by_hand",
        "by hand",
        "arc_spot_aisi.sheet_shear_slender arc_spot_aisi.sheet_shear_stocky arc_spot_aisi.sheet_tension "
        "arc_spot_aisi.sheet_to_sheet_shear",
    ),
    Entry(
        "tests/formula/test_plug_arc_spot.py::test_weld_shear_in_the_units_of_the_source",
        "by hand",
        "arc_spot_aisi.weld_tension",
    ),
    Entry(
        "tests/formula/test_spot_aisi.py::test_branches_meet",
        "branches meet",
        "spot_aisi.spot_thick",
    ),
    Entry(
        "tests/formula/test_spot_aisi.py::test_pitch_beside_an_outstand",
        "by hand",
        "spot_aisi.pitch_outstand spot_aisi.pitch_outstand_floor_slender spot_aisi.pitch_outstand_floor_stocky",
    ),
    Entry(
        "tests/formula/test_spot_aisi.py::test_pitch_wave_by_euler",
        "derivation",
        "spot_aisi.pitch_wave",
    ),
    Entry(
        "tests/formula/test_spot_aisi.py::test_shear_rupture_is_six_tenths",
        "by hand",
        "spot_aisi.shear_rupture",
    ),
    Entry(
        "tests/formula/test_spot_en1993.py::test_every_line_of_the_table_by_hand",
        "by hand",
        "spot_en1993.end spot_en1993.net_section spot_en1993.tearing_thick_sheet spot_en1993.tearing_thick_spot",
    ),
    Entry(
        "tests/formula/test_spot_models.py::test_edge_stress_by_hand",
        "by hand",
        "spot_models.edge_stress",
    ),
    Entry(
        "tests/formula/test_spot_size.py::test_classes_by_hand",
        "by hand",
        "spot_size.fusion_en spot_size.minimum spot_size.usual",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_aisi_slender_web_is_the_elastic_buckling_stress",
        "derivation",
        "web_aisi.shear_stress_slender web_aisi.web_shear",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_elastic_shear_of_a_flat_bar",
        "derivation",
        "web_en1993.elastic_shear",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_bearing_length_of_category_2_runs_without_a_jump",
        "branches meet",
        "web_en1993.shear_ratio",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_crippling_of_two_webs_by_hand",
        "by hand",
        "web_en1993.crippling_two_webs",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_single_web_branches_meet_at_a_bearing_of_60_t",
        "branches meet",
        "web_en1993.crippling_end_long web_en1993.crippling_end_short web_en1993.crippling_interior_long "
        "web_en1993.crippling_interior_short",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_single_web_coefficients_are_one_at_their_anchor",
        "branches meet",
        "web_en1993.angle_coefficient web_en1993.radius_coefficient_end "
        "web_en1993.radius_coefficient_interior web_en1993.strength_coefficient "
        "web_en1993.strength_coefficient_end web_en1993.strength_coefficient_interior",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_single_web_order_and_selector",
        "by hand",
        "web_en1993.crippling_end_lipped",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_slenderness_is_that_of_the_buckling_stress",
        "derivation",
        "web_en1993.web_slenderness",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_en_web_shear_follows_the_slope",
        "derivation",
        "web_en1993.web_shear",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_interactions_at_their_ends",
        "branches meet",
        "web_aisi.bending_and_crippling web_aisi.bending_and_shear web_en1993.bending_and_crippling "
        "web_en1993.bending_and_shear web_en1993.tension_and_bending",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_service_second_moment_runs_from_effective_to_gross",
        "derivation",
        "web_en1993.service_second_moment",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_tension",
        "by hand",
        "web_aisi.tension_rupture web_aisi.tension_yield web_en1993.tension_resistance",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_torsional_flexural_force_is_the_root_of_the_stability_equation",
        "independent computation",
        "torsional.torsional_flexural_force",
    ),
    Entry(
        "tests/formula/test_web_shear_crippling.py::test_torsional_force_of_a_cruciform",
        "derivation",
        "torsional.torsional_force",
    ),
    Entry(
        "tests/section/test_section_effective.py::test_adequate_lip_rules_meet",
        "branches meet",
        "effective_aisi.adequate_second_moment effective_aisi.k_lipped_long effective_aisi.k_lipped_short "
        "effective_aisi.stiffener_exponent effective_aisi.stiffener_limit",
    ),
    Entry(
        "tests/section/test_section_effective.py::test_bead_stress_is_that_of_a_strut_on_the_springs_of_its_flats",
        "derivation",
        "effective_en.bead_critical_stress",
    ),
    Entry(
        "tests/section/test_section_effective.py::test_buckling_factor_of_a_lip",
        "by hand",
        "effective_en.k_lip",
    ),
    Entry(
        "tests/section/test_section_effective.py::test_reduction_factors_meet_one_at_their_limits",
        "branches meet",
        "effective_en.rho_outstand",
    ),
    Entry(
        "tests/section/test_section_effective.py::test_web_coefficients_at_pure_bending_and_pure_compression",
        "derivation",
        "effective_aisi.web_width_axis_deep effective_aisi.web_width_compressed_end effective_aisi.web_width_gradient",
    ),
    Entry(
        "tests/section/test_section_forming.py::test_minimum_radius_examples",
        "derivation",
        "forming.outer_strain forming.radius_for_strain",
    ),
    Entry(
        "tests/section/test_section_forming.py::test_what_cannot_be_folded_is_told",
        "common practice",
        "forming.die_opening forming.least_flange",
    ),
    Entry(
        "tests/statics/groups/test_group_curves.py::test_bolt_of_the_manual",
        "by hand",
        "group_curves.bolt_resistance",
    ),
    Entry(
        "tests/statics/plate/test_plate_solver.py::test_membrane_stiffness_by_fourier_transform",
        "independent computation",
        "plate.membrane_stiffness_clamped plate.membrane_stiffness_held plate.membrane_stiffness_simple",
    ),
    Entry(
        "tests/statics/plate/test_plate_solver.py::test_one_term_clamped_frequency_is_a_close_upper_bound",
        "independent computation",
        "plate.frequency_clamped_one_term",
    ),
    Entry(
        "tests/validation/test_derived_beads.py::test_what_a_bead_does_to_its_sheet",
        "derivation",
        "bead.crown_strain bead.draw_in bead.drawn_shear_strain bead.face_strain bead.run_out_strain",
    ),
    Entry(
        "tests/validation/test_derived_beads.py::test_beads_that_are_crossed_bend_piece_by_piece",
        "derivation",
        "bead.rigidity_crossed",
    ),
    Entry(
        "tests/validation/test_derived_beads.py::test_half_round_beads_side_by_side_are_half_tubes",
        "derivation",
        "bead.arc_thickness_second bead.equal_mass_thickness bead.mass_per_area bead.modulus_along "
        "bead.stiffness_ratio",
    ),
    Entry(
        "tests/validation/test_derived_beads.py::test_shear_yield_and_sum_of_squares_are_von_mises",
        "derivation",
        "panel.bending_with_shear panel.shear_stress panel.shear_yield",
    ),
    Entry(
        "tests/validation/test_derived_beads.py::test_stresses_of_a_bent_strip_give_the_moment_back",
        "derivation",
        "panel.stress_along panel.stress_in_flats panel.twisting_stress",
    ),
    Entry(
        "tests/validation/test_derived_beads.py::test_stretch_of_a_half_round_sheet_by_castigliano",
        "independent computation",
        "bead.arc_cosine_length",
    ),
    Entry(
        "tests/validation/test_derived_members.py::test_aisi_beam_branches_meet_and_join_smoothly",
        "branches meet",
        "column.aisi_ltb_elastic column.aisi_ltb_yield",
    ),
    Entry(
        "tests/validation/test_derived_members.py::test_aisi_shear_branches_of_a_web_in_ksi",
        "branches meet",
        "web_aisi.shear_stress_medium web_aisi.shear_stress_stocky",
    ),
    Entry(
        "tests/validation/test_derived_members.py::test_en_shear_branches_of_a_web",
        "branches meet",
        "web_en1993.shear_strength_medium web_en1993.shear_strength_slender web_en1993.shear_strength_stocky",
    ),
    Entry(
        "tests/validation/test_derived_members.py::test_lip_is_a_rectangle",
        "independent computation",
        "effective_aisi.lip_second_moment",
    ),
    Entry(
        "tests/validation/test_derived_members.py::test_moment_at_first_yield_by_fibres",
        "independent computation",
        "effective_en.moment_resistance",
    ),
    Entry(
        "tests/validation/test_derived_members.py::test_stiffener_branches_meet_below_the_euler_curve",
        "branches meet",
        "effective_en.chi_d_slender",
    ),
)

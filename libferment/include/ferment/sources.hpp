#pragma once
// Every published relation and table of the library, with citation, range and uncertainty, in one list.

#include <ferment/batch.hpp>
#include <ferment/core/source.hpp>
#include <ferment/fermentation/causes.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/instrument.hpp>
#include <ferment/liquid.hpp>
#include <ferment/mash.hpp>
#include <ferment/proofing.hpp>
#include <ferment/still.hpp>
#include <ferment/strength/gravity.hpp>
#include <ferment/strength/without_og.hpp>
#include <string_view>
#include <vector>

namespace ferment {

/// A source and the folder of the library that uses it.
struct listed_source {
    std::string_view folder;
    source from;
};

/// All sources, in the order of the folders.
inline std::vector<listed_source> sources() {
    std::vector<listed_source> all{{"core", stoichiometry::from}};
    for (const source& from : {iapws_sr6::from,
                               icumsa_sps4::from,
                               crc_glucose::from,
                               oiml_r22::from,
                               us_proof_definition,
                               wash::from,
                               air_buoyancy,
                               iapws_r9::from,
                               sucrose_refraction::from,
                               glucose_refraction::from,
                               hydrolysate_refraction::from,
                               spirit_refraction::from,
                               wash_refraction::from,
                               dippr101_source,
                               wash_vapour::from,
                               wash_vapour::extract_from,
                               standard_atmosphere::from,
                               perry_dippr100::from,
                               perry_dippr106::from,
                               spirit_heat::from,
                               spirit_heat::mixing_from,
                               spirit_heat::total_from,
                               choi_okos_1986_heat::from,
                               wash_heat::from,
                               carbon_dioxide::from,
                               carbon_dioxide::limits_from}) {
        all.push_back({"liquid", from});
    }
    for (const source& from : {glass_hydrometer, refractometer_reading, compensated_refractometer, boiling_point_strength::from}) {
        all.push_back({"instrument", from});
    }
    for (const source& from : strength_gravity_sources) all.push_back({"strength", from});
    for (const source& from : {density_of_washes, extract_refraction, carbon_dioxide_per_ethanol}) all.push_back({"strength", from});
    using namespace grain_sources;
    for (const source& from : {ciqual_2020, ifct_2017, usda_sr26, afz_12443, thomas_ingledew_1995, hgca_rr61, belitz_15_6, dlg_cvb_barley, ars_2005, jas_2018,
                               typical_spread, litre_degrees, laboratory_mash::from, choi_okos_1986::from, spent_grain, head_space}) {
        all.push_back({"mash", from});
    }
    for (const source& from : {no_cook::from, no_cook::efficiency_from, residue::from, no_cook_kinetics::from, no_cook_kinetics::temperature_from,
                               starch_forms::from, yeast_cells, vessel_walls, vessel_heat::from, iodine_test::from, cause_model::from}) {
        all.push_back({"fermentation", from});
    }
    for (const source& from : {still_hazard_source,
                               head_space_source,
                               rayleigh::from,
                               still_duty_source,
                               plate_to_plate,
                               tangent_pinch,
                               fenske_1932,
                               partial_condenser_source,
                               packing_table_source,
                               hetp_published_source,
                               stichlmair_1989::from,
                               robbins_1991::from,
                               vapour_viscosity_source,
                               congener_pairs,
                               congener_vapour_pressure,
                               congener_volumes,
                               acetic_acid_trend,
                               practice::head_levels,
                               practice::heart_end,
                               practice::tails_end,
                               practice::cane_runs,
                               practice::malt_fore_shots,
                               practice::fore_shot_share,
                               eu_neutral_alcohol,
                               eu_wine_spirit,
                               eu_methanol,
                               jar_reading,
                               strongest_distillate}) {
        all.push_back({"still", from});
    }
    all.push_back({"proofing", obscuration_source});
    for (const source& from : {usual_plan_source, published_alcohol_yields}) all.push_back({"batch", from});
    return all;
}

}  // namespace ferment

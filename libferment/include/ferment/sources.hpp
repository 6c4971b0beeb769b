#pragma once
// Every published relation and table of the library, with citation, range and uncertainty, in one list.

#include <ferment/core/source.hpp>
#include <ferment/fermentation/causes.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/instrument.hpp>
#include <ferment/liquid.hpp>
#include <ferment/mash.hpp>
#include <ferment/strength.hpp>
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
    std::vector<listed_source> all{
        {"core", stoichiometry::from}, {"liquid", iapws_sr6::from}, {"liquid", icumsa_sps4::from},
        {"liquid", crc_glucose::from}, {"liquid", oiml_r22::from},  {"liquid", us_proof_definition},
        {"liquid", wash::from},        {"liquid", air_buoyancy},    {"instrument", glass_hydrometer},
    };
    for (const source& from : strength_gravity_sources) all.push_back({"strength", from});
    using namespace grain_sources;
    for (const source& from : {ciqual_2020, ifct_2017, usda_sr26, afz_12443, thomas_ingledew_1995, hgca_rr61, belitz_15_6, dlg_cvb_barley, ars_2005, jas_2018,
                               typical_spread, litre_degrees, laboratory_mash::from, choi_okos_1986::from, spent_grain, head_space}) {
        all.push_back({"mash", from});
    }
    for (const source& from :
         {no_cook::from, no_cook::efficiency_from, residue::from, no_cook_kinetics::from, no_cook_kinetics::temperature_from, starch_forms::from, yeast_cells,
          vessel_walls, vessel_heat::from, carbon_dioxide::from, carbon_dioxide::limits_from, iodine_test::from, cause_model::from}) {
        all.push_back({"fermentation", from});
    }
    return all;
}

}  // namespace ferment

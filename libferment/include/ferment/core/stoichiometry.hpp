#pragma once
// What becomes of starch and sugar by weight: exact ratios from atomic weights.

#include <ferment/core/source.hpp>

namespace ferment {

/// starch + water -> glucose -> ethanol + CO2, as mass ratios.
struct stoichiometry {
    static constexpr source from{
        "stoichiometry",
        "mass ratios of starch, sugars, ethanol and carbon dioxide [kg/kg]",
        "IUPAC standard atomic weights, abridged: C 12.011, H 1.008, O 15.999",
        "exact",
        "2e-5 relative (rounding of the atomic weights)",
    };
    static constexpr double c = 12.011, h = 1.008, o = 15.999;  // g/mol

    static constexpr double water = 2 * h + o;
    static constexpr double anhydroglucose = 6 * c + 10 * h + 5 * o;  // the unit of starch
    static constexpr double glucose = 6 * c + 12 * h + 6 * o;
    static constexpr double disaccharide = 12 * c + 22 * h + 11 * o;  // sucrose, maltose
    static constexpr double ethanol = 2 * c + 6 * h + o;
    static constexpr double carbon_dioxide = c + 2 * o;

    static constexpr double glucose_per_starch = glucose / anhydroglucose;           // 1.1111
    static constexpr double water_per_starch = water / anhydroglucose;               // 0.1111, bound in hydrolysis
    static constexpr double hexose_per_disaccharide = 2.0 * glucose / disaccharide;  // 1.0526
    static constexpr double ethanol_per_glucose = 2.0 * ethanol / glucose;           // 0.5114
    static constexpr double co2_per_glucose = 2.0 * carbon_dioxide / glucose;        // 0.4886
    static constexpr double ethanol_per_starch = glucose_per_starch * ethanol_per_glucose;
    static constexpr double glucose_per_monohydrate = glucose / (glucose + water);  // dextrose of the trade holds one water of crystallisation
};

}  // namespace ferment

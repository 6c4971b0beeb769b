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
    static constexpr double carbon = 12.011, hydrogen = 1.008, oxygen = 15.999;  // g/mol

    static constexpr double molar_mass(const int c, const int h, const int o) { return c * carbon + h * hydrogen + o * oxygen; }

    static constexpr double water = molar_mass(0, 2, 1);
    static constexpr double anhydroglucose = molar_mass(6, 10, 5);  // the unit of starch
    static constexpr double glucose = molar_mass(6, 12, 6);
    static constexpr double disaccharide = molar_mass(12, 22, 11);  // sucrose, maltose
    static constexpr double ethanol = molar_mass(2, 6, 1);
    static constexpr double carbon_dioxide = molar_mass(1, 0, 2);

    static constexpr double glucose_per_starch = glucose / anhydroglucose;              // 1.1111
    static constexpr double water_per_starch = water / anhydroglucose;                  // 0.1111, bound in hydrolysis
    static constexpr double hexose_per_disaccharide = 2.0 * glucose / disaccharide;     // 1.0526
    static constexpr double ethanol_per_glucose = 2.0 * ethanol / glucose;              // 0.5114
    static constexpr double co2_per_glucose = 2.0 * carbon_dioxide / glucose;           // 0.4886
    static constexpr double ethanol_per_starch = glucose_per_starch * ethanol_per_glucose;
    static constexpr double glucose_per_monohydrate = glucose / (glucose + water);      // dextrose of the trade holds one water of crystallisation
};

}  // namespace ferment

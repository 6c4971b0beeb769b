#pragma once
// Carbon dioxide: how much stays in the wash, how much leaves, how much room it fills, how much air a room needs.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <string_view>

namespace ferment {

/// Carbon dioxide of a fermenting wash.
struct carbon_dioxide {
    static constexpr source from{
        "co2_solubility",
        "carbon dioxide dissolved in water under one atmosphere of it [kg/kg]",
        "Henry constant 3.3e-4 mol/(m3 Pa) at 25 degC, temperature coefficient 2400 K: Sander 2015, Atmos. Chem. Phys. 15:4399",
        "0 to 45 degC, water; extract holds somewhat less, a fermenting wash somewhat more",
        "10 %",
        source_status::from_memory,
    };
    static constexpr source limits_from{
        "co2_exposure_limits",
        "carbon dioxide in the air of a room [ppm by volume]",
        "29 CFR 1910.1000 Table Z-1 and NIOSH IDLH documentation, carbon dioxide, 1994; EH40/2005 (HSE)",
        "8 h mean 5000 ppm; 15 min 15000 (UK) or 30000 ppm (US); dangerous to life 40000 ppm",
        "regulatory figures; the local law decides",
    };
    static constexpr double limit_8h_ppm = 5000.0;
    static constexpr double limit_15min_ppm = 15000.0;  // the lower of the two in force
    static constexpr double dangerous_ppm = 40000.0;
    static constexpr double outdoor_ppm = 420.0;  // from memory: air of the 2020s

    static constexpr double henry_mol_per_m3_pa = 3.3e-4;
    static constexpr double henry_k = 2400.0;
    static constexpr double henry_reference_k = 298.15;
    static constexpr double atmosphere_pa = 101325.0;
    static constexpr double zero_celsius_k = 273.15;
    static constexpr double gas_constant = 8.314462618;  // J/(mol K), SI 2019
    static constexpr double water_kg_per_m3 = 1000.0;

    /// Saturation under one atmosphere of carbon dioxide, kg per kg of liquid.
    ///   t   degC
    template <class T>
    static T saturation(const T& t) {
        using std::exp;
        const T henry = henry_mol_per_m3_pa * exp(T(henry_k * (1.0 / (t + zero_celsius_k) - 1.0 / henry_reference_k)));
        return henry * (atmosphere_pa * stoichiometry::carbon_dioxide * 1e-3 / water_kg_per_m3);
    }

    /// What stays dissolved of what was made, kg: all of the first, never more than saturation.
    ///   made     kg
    ///   liquid   kg
    ///   t        degC
    template <class T>
    static T dissolved(const T& made, const T& liquid, const T& t) {
        using std::exp;
        const T full = saturation(t) * liquid;
        return full * (1.0 - exp(T(-made / full)));
    }

    /// Litres of gas in a kg, at t degC and 101.325 kPa; ideal, 0.5 % more than the real gas.
    static constexpr double litres_per_kg(const double t) {
        constexpr double litres = 1000.0;
        return litres * litres / stoichiometry::carbon_dioxide * gas_constant * (t + zero_celsius_k) / atmosphere_pa;
    }
};

/// Fresh air that keeps a well-mixed room at or below a limit, m3/h.
///   co2_l_per_h   carbon dioxide given off, L/h of gas, 0 or more
///   limit_ppm     1000 to 40000; the limit for eight hours by default
///   ->            m3/h of outdoor air. A fermenter's gas is heavy and gathers near the floor: this is the least, not a safe figure for a pit or cellar.
/// Throws RangeError outside; NaN gives NaN. Source: co2_exposure_limits.
inline double ventilation_m3_per_h(const double co2_l_per_h, const double limit_ppm = carbon_dioxide::limit_8h_ppm) {
    constexpr num::interval gas_range{0.0, 1e9};
    constexpr num::interval limit_range{1000.0, carbon_dioxide::dangerous_ppm};
    constexpr double per_million = 1e-6;
    constexpr double litres = 1000.0;
    require_inside("carbon dioxide", co2_l_per_h, "L/h", gas_range, "gas given off");
    require_inside("limit", limit_ppm, "ppm", limit_range, carbon_dioxide::limits_from);
    return co2_l_per_h / litres / ((limit_ppm - carbon_dioxide::outdoor_ppm) * per_million);
}

}  // namespace ferment

#pragma once
// Where the water of a mash goes: how much room grain takes in it, how much the spent grain keeps, how much the splitting of starch binds.

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/water.hpp>
#include <ferment/mash/bill.hpp>
#include <ferment/mash/potential.hpp>
#include <string>

namespace ferment {

/// Density of food components, from which the pore-free volume of a grain adds up.
struct choi_okos_1986 {
    static constexpr source from{
        "choi_okos_1986",
        "density of food components [kg/m3]",
        "Choi Y, Okos MR, 1986. Effects of temperature and composition on the thermal properties of foods. Food Engineering and Process Applications 1, "
        "93-101; "
        "reprinted in ASHRAE Handbook Refrigeration",
        "0 <= t <= 150 degC",
        "4 to 6 %; against pycnometer densities of Chang 1988 the volume reads 1.9 % (sorghum), 2.7 % (maize), 5.0 % (wheat) high",
    };
    static constexpr num::interval t_range{0.0, 150.0};
    static constexpr double relative_uncertainty = 0.04;  // of a grain's volume; see from.uncertainty

    // Powers 0 to 2 of t, degC, verbatim. Carbohydrate is that without fibre.
    using coefficients = std::array<double, 3>;
    static constexpr coefficients water{997.18, 0.0031439, -0.0037574};
    static constexpr coefficients protein{1329.9, -0.5184, 0.0};
    static constexpr coefficients fat{925.59, -0.41757, 0.0};
    static constexpr coefficients carbohydrate{1599.1, -0.31046, 0.0};
    static constexpr coefficients fibre{1311.5, -0.36589, 0.0};
    static constexpr coefficients ash{2423.8, -0.28063, 0.0};

    /// Pore-free specific volume of a grain, L/kg: the sum of its parts; carbohydrate is what the other parts leave.
    ///   grain   the means of its analysis
    ///   t       temperature, degC, 0 <= t <= 150
    ///   ->      L/kg; NaN outside
    template <class T>
    static T specific_volume(const Grain& grain, const T& t) {
        const double others = grain.moisture.value + grain.protein.value + grain.fat.value + grain.fibre.value + grain.ash.value;
        const auto share = [&](const double fraction, const coefficients& c) { return T(fraction / num::horner(c, t)); };
        const T sum = share(grain.moisture.value, water) + share(grain.protein.value, protein) + share(grain.fat.value, fat) + share(grain.fibre.value, fibre) +
                      share(grain.ash.value, ash) + share(1.0 - others, carbohydrate);
        return num::keep_if(num::inside(t, t_range), T(litres_per_cubic_metre * sum));
    }
};

/// Pore-free volume that a kg of grain displaces in water, L/kg, with its standard uncertainty.
///   grain         checked
///   temperature   0 to 150 degC
/// Throws RangeError outside and as validate does. Source: Choi and Okos 1986; milled grain in a mash has no closed pores left.
inline measured specific_volume(const Grain& grain, const celsius<>& temperature) {
    validate(grain);
    require_inside("temperature", temperature.value(), "degC", choi_okos_1986::t_range, choi_okos_1986::from);
    const double v = choi_okos_1986::specific_volume(grain, temperature.value());
    return {v, choi_okos_1986::relative_uncertainty * v};
}

inline constexpr source spent_grain{
    "spent_grain",
    "water held by wet spent grain [kg per kg of grist]",
    "The Oxford Companion to Beer, 2011, entry spent grain: 100 to 130 kg wet per 100 kg of grist with 75 to 80 % water",
    "malt grist drained in a lauter tun; a press leaves less (65 % water), a raw-grain wash that ferments on the grain may differ",
    "0.75 to 1.04 kg/kg, taken as a rectangular spread",
};

inline constexpr source head_space{
    "head_space",
    "share of a fermenter left empty",
    "open oenology encyclopaedia, entry filling of the vat: 120 hL of must with solids in a vat of 150 hL",
    "must with solids; the foam of grain mashes was found nowhere",
    "none stated",
};

inline constexpr num::interval spent_grain_water{0.75, 1.04};  // kg/kg
inline constexpr double root_of_three = 1.7320508075688772;    // a rectangular spread has half its width over root 3 as standard uncertainty

/// How a mash is handled.
struct MashHandling {
    /// kg of water kept per kg of grist, see spent_grain.
    measured absorption{0.5 * (spent_grain_water.lower + spent_grain_water.upper), 0.5 * (spent_grain_water.upper - spent_grain_water.lower) / root_of_three};
    double head_space_share = 0.20;  ///< of the vessel, left empty; see head_space
};

/// Where the water goes. Litres at 20 degC.
struct WaterBalance {
    Uncertain added_kg;
    Uncertain grain_moisture_kg;
    Uncertain hydrolysis_kg;    ///< bound in splitting the starch that is expected to convert, and disaccharides
    Uncertain absorbed_kg;      ///< kept by the spent grain, moisture of the grain included
    Uncertain free_kg;          ///< added + moisture - hydrolysis - absorbed
    Uncertain free_share;       ///< share of the liquid that comes off the grain; the rest stays in it
    Uncertain displacement_l;   ///< room that the grain takes
    Uncertain mash_volume_l;    ///< water and grain
    Uncertain vessel_volume_l;  ///< the least vessel, with the head space
};

/// Water balance of a mash.
///   bill       the grain that `of` was computed for
///   of         its potential, which knows the water
///   handling   absorption 0 or more, kg/kg; head-space share 0 to below 100 %
/// Throws RangeError outside, InputError where bill and potential do not belong together, RangeError where the spent grain would keep all liquid.
inline WaterBalance water_balance(const Bill& bill, const Potential& of, const MashHandling& handling = {}) {
    detail::require_grain(bill);
    constexpr double same = 1e-9;  // relative
    const double grist = bill.total().value();
    if (!(std::abs(grist - of.grain_kg) <= same * grist)) {
        throw InputError("the bill weighs " + format_quantity(grist, "kg") + " but the potential was computed for " + format_quantity(of.grain_kg, "kg"));
    }
    constexpr double most_absorption = 10.0;  // kg/kg; more is a slip of the unit
    const measured& absorption = handling.absorption;
    if (std::isnan(absorption.value) || std::isnan(absorption.standard_uncertainty) || std::isnan(handling.head_space_share)) {
        throw InputError("absorption (kg per kg of grist) and head-space share (%) must be numbers");
    }
    require_inside("absorption", absorption.value, "kg per kg of grist", {0.0, most_absorption}, spent_grain);
    if (handling.head_space_share < 0.0 || handling.head_space_share >= 1.0) {
        throw RangeError("head-space share " + format_quantity(detail::percent * handling.head_space_share, "%") + " must be 0 % or more and below 100 %");
    }
    WaterBalance b;
    b.added_kg = of.water_kg;
    b.grain_moisture_kg = of.masses.moisture;
    // The fermented wash: its disaccharides are split as well.
    b.hydrolysis_kg = of.expected.hydrolysis_water_kg + (of.masses.hexose_of_sugars - of.masses.sugars);
    b.absorbed_kg = grist * absorption.as_input("absorption");
    const Uncertain liquid_water = b.added_kg + b.grain_moisture_kg - b.hydrolysis_kg;
    b.free_kg = liquid_water - b.absorbed_kg;
    if (b.free_kg.value() <= 0.0) {
        throw RangeError("water added " + format_quantity(of.water_kg, "kg") + " must be more than " + format_quantity(of.water_kg - b.free_kg.value(), "kg") +
                         ", which the spent grain would keep");
    }
    b.free_share = b.free_kg / liquid_water;
    const celsius<> reference = celsius<>::from_value(icumsa_sps4::reference_c);
    for (const BillItem& item : bill.items()) {
        b.displacement_l += item.weight.value() * specific_volume(item.grain, reference).as_input("volume of " + item.grain.name);
    }
    b.mash_volume_l = b.displacement_l + b.added_kg * (litres_per_cubic_metre / water_density(reference).value());
    b.vessel_volume_l = b.mash_volume_l / (1.0 - handling.head_space_share);
    return b;
}

}  // namespace ferment

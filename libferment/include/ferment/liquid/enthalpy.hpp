#pragma once
// How much heat is in a liquid and in its vapour: what it takes to warm a wash and to boil a spirit away.
//
// Reference state of every enthalpy here: water and ethanol as separate liquids at 0 degC have none. Pressure is left out: the liquids hardly
// feel it, and the vapour is taken as ideal.

#include <array>
#include <boost/units/physical_dimensions/specific_energy.hpp>
#include <boost/units/physical_dimensions/specific_heat_capacity.hpp>
#include <boost/units/systems/si/energy.hpp>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>
#include <limits>
#include <string>
#include <string_view>

namespace ferment {

template <class T = double>
using energy = bu::quantity<bu::si::energy, T>;  ///< J
template <class T = double>
using specific_energy = bu::quantity<bu::unit<bu::specific_energy_dimension, bu::si::system>, T>;  ///< J/kg
template <class T = double>
using specific_heat_capacity = bu::quantity<bu::unit<bu::specific_heat_capacity_dimension, bu::si::system>, T>;  ///< J/(kg K)

inline const energy<> kilojoule = energy<>::from_value(1e3);
inline const energy<> kilowatt_hour = energy<>::from_value(3.6e6);
inline const specific_energy<> kilojoule_per_kilogram = specific_energy<>::from_value(1e3);
inline const specific_heat_capacity<> joule_per_kilogram_kelvin = specific_heat_capacity<>::from_value(1.0);
inline const specific_heat_capacity<> kilojoule_per_kilogram_kelvin = specific_heat_capacity<>::from_value(1e3);

namespace num {

/// The coefficients of the integral from zero: {0, c[0], c[1]/2, c[2]/3, ...}.
template <std::size_t N>
constexpr std::array<double, N + 1> antiderivative(const std::array<double, N>& c) {
    std::array<double, N + 1> sum{};
    for (std::size_t k = 0; k < N; ++k) {
        sum[k + 1] = c[k] / static_cast<double>(k + 1);
    }
    return sum;
}

}  // namespace num

/// Where the enthalpies of this header hold, degC: from the reference state to a little above the boiling point of water.
inline constexpr num::interval enthalpy_t_range{0.0, 110.0};

/// Heat capacity of a pure liquid: Cp/(J/(kmol K)) = A + B T + C T^2 + D T^3 + E T^4, T in K.
struct perry_dippr100 {
    static constexpr source from{
        "perry_dippr100",
        "heat capacity of liquid water and ethanol [J/(kg K)]",
        "Perry's Chemical Engineers' Handbook, 8th ed. 2008, table 2-153 (DIPPR equation 100)",
        "0 <= t <= 110 degC; printed for 273.16 to 533.15 K (water) and 159.05 to 390 K (ethanol)",
        "not stated; ethanol 2.7 % above the formula of Laliberte 2009 at 5 degC, within 1.2 % from 10 to 40 degC; water within 0.6 % of both",
    };
    static constexpr double per_kmol = 1e3;  // mol

    struct constants {
        std::array<double, 5> powers;  ///< A to E, verbatim
        double molar_mass;             ///< g/mol
    };
    static constexpr constants water{{276370.0, -2090.1, 8.125, -0.014116, 9.3701e-06}, stoichiometry::water};
    static constexpr constants ethanol{{102640.0, -139.63, -0.030341, 0.0020386, 0.0}, stoichiometry::ethanol};

    /// Heat capacity, J/(kg K), t in degC; unchecked. A kmol weighs as many kg as a mol weighs g.
    template <class T>
    static constexpr T heat_capacity(const constants& liquid, const T& t) {
        return num::horner(liquid.powers, T(t + iapws_sr6::zero_celsius)) / liquid.molar_mass;
    }

    /// Enthalpy above that at 0 degC, J/kg, t in degC; unchecked. The integral of heat_capacity.
    template <class T>
    static constexpr T enthalpy(const constants& liquid, const T& t) {
        const std::array<double, 6> integral = num::antiderivative(liquid.powers);
        const T above_zero_kelvin = num::horner(integral, T(t + iapws_sr6::zero_celsius));
        return (above_zero_kelvin - num::horner(integral, iapws_sr6::zero_celsius)) / liquid.molar_mass;
    }
};

/// Latent heat of a pure liquid: H/(J/mol) = C1 (1 - Tr)^(C2 + C3 Tr + C4 Tr^2), Tr = T/Tc.
struct perry_dippr106 {
    static constexpr source from{
        "perry_dippr106",
        "latent heat of water and ethanol [J/kg]",
        "Perry's Chemical Engineers' Handbook, 8th ed. 2008, table 2-150 (DIPPR equation 106)",
        "0 <= t <= 110 degC",
        "CRC Handbook at 25 degC and at the boiling point: water within 0.4 %, ethanol within 1.0 % (high at both)",
    };

    struct constants {
        double c1;                        ///< J/mol
        std::array<double, 3> exponents;  ///< C2 to C4
        double critical;                  ///< K
        double molar_mass;                ///< g/mol
    };
    static constexpr constants water{52053.0, {0.3199, -0.212, 0.25795}, 647.096, stoichiometry::water};
    static constexpr constants ethanol{55789.0, {0.31245, 0.0, 0.0}, 514.0, stoichiometry::ethanol};
    static constexpr double grams_per_kilogram = 1e3;

    /// Latent heat, J/kg, t in degC; unchecked.
    template <class T>
    static T latent_heat(const constants& liquid, const T& t) {
        const T reduced = (t + iapws_sr6::zero_celsius) * (1.0 / liquid.critical);
        const T power = num::horner(liquid.exponents, reduced) * log(T(1.0 - reduced));
        return exp(power) * (grams_per_kilogram * liquid.c1 / liquid.molar_mass);
    }
};

/// Ethanol and water, liquid and vapour.
///
///   cp(w, t)       = (1 - w) cp_water(t) + w cp_ethanol(t) + cE(w)
///   h_liquid(w, t) = (1 - w) h_water(t) + w h_ethanol(t) + hE(w) + cE(w) (t - 25)
///   h_vapour(w, t) = (1 - w) (h_water(t) + L_water(t)) + w (h_ethanol(t) + L_ethanol(t))
///
/// cE, the excess heat capacity, does not depend on the temperature: the published data reach 41 degC and disagree even on the sign of its
/// slope. hE is the heat of mixing at 25 degC; with cE it shrinks to within 5 kJ/kg of nothing at the boiling point.
struct spirit_heat {
    static constexpr source from{
        "spirit_heat",
        "heat capacity of liquid ethanol-water mixtures [J/(kg K)]",
        "DIPPR 100 for the pure liquids; excess fitted to Laliberte M, J. Chem. Eng. Data 54 (2009) 1725, and Melinder A, Properties of Secondary "
        "Working Fluids for Indirect Systems, 2nd ed., IIF-IIR 2010",
        "0 <= abw <= 100 % mass; 0 <= t <= 110 degC, above 41 degC extrapolated",
        "2.8 % of either source at 5 to 40 degC (they differ by 2.7 %); heat up to boiling within 2 % (to 40 % mass) and 5 % (above) of older tables",
    };
    static constexpr source mixing_from{
        "heat_of_mixing",
        "heat of mixing of ethanol and water at 25 degC [J/mol]",
        "Redlich-Kister fit to NIST ThermoML archive, doi:10.1016/j.fluid.2007.06.007 (both dilute ends) and doi:10.1016/j.tca.2017.05.023 (10.2 mol-%)",
        "0 <= abw <= 100 % mass",
        "0.2 times the stated uncertainty of every point; 200 J/mol (8 kJ/kg) between 11 and 98 mol-%, where no point was found",
    };
    static constexpr source total_from{
        "heat_of_evaporation",
        "heat to evaporate the whole of an ethanol-water mixture [J/kg]",
        "perry_dippr100, perry_dippr106, spirit_heat and heat_of_mixing together; vapour ideal, liquid and vapour of one composition",
        "0 <= abw <= 100 % mass; 0 <= t <= 110 degC",
        "latent heat at boiling within 1 % of older tables to 80 % mass and at 90 %, 1.1 % low at 85 % and 1.2 % low at 100 %, where those tables stand high",
    };

    static constexpr double mixing_c = 25.0;  // degC of the heat of mixing

    // Both least squares by tests/reference/fit_enthalpy.py; powers 0 to 2 of (1 - 2 fraction).
    static constexpr std::array<double, 3> excess_heat_capacity_terms{1982.3723, 1243.9040, 844.7562};  // J/(kg K), of w (1 - w)
    static constexpr std::array<double, 3> mixing_terms{-2039.7360, -3952.2605, -3991.6685};            // J/mol, of x (1 - x)

    /// The Redlich-Kister sum: y (1 - y) times a polynomial in (1 - 2 y); nothing at both ends.
    template <class T>
    static constexpr T redlich_kister(const std::array<double, 3>& terms, const T& y) {
        return y * (1.0 - y) * num::horner(terms, T(1.0 - 2.0 * y));
    }

    template <class T>
    static constexpr auto valid(const T& w, const T& t) {
        return num::mask<T>(num::inside(w, oiml_r22::abw_range) && num::inside(t, enthalpy_t_range));
    }

    /// Heat of mixing at 25 degC, J per kg of mixture (negative: the mixture warms up); w ethanol as a mass fraction, 0 to 1, NaN outside.
    template <class T>
    static constexpr T mixing(const T& w) {
        constexpr double grams_per_kilogram = perry_dippr106::grams_per_kilogram;
        const T ethanol = w * (grams_per_kilogram / stoichiometry::ethanol);  // mol in a kg
        const T amount = ethanol + (1.0 - w) * (grams_per_kilogram / stoichiometry::water);
        const T heat = amount * redlich_kister(mixing_terms, T(ethanol / amount));
        return num::keep_if(num::inside(w, oiml_r22::abw_range), heat);
    }

    /// Heat capacity of the liquid, J/(kg K).
    ///   w    ethanol as a mass fraction    0 <= w <= 1
    ///   t    temperature, degC             0 <= t <= 110
    ///   ->   J/(kg K); NaN outside the range or for NaN
    template <class T>
    static constexpr T heat_capacity(const T& w, const T& t) {
        const T water = perry_dippr100::heat_capacity(perry_dippr100::water, t);
        const T ethanol = perry_dippr100::heat_capacity(perry_dippr100::ethanol, t);
        const T cp = (1.0 - w) * water + w * ethanol + redlich_kister(excess_heat_capacity_terms, w);
        return num::keep_if(valid(w, t), cp);
    }

    /// Enthalpy of the liquid, J/kg. Inputs and range as heat_capacity, of which it is the integral in t.
    template <class T>
    static constexpr T liquid_enthalpy(const T& w, const T& t) {
        const T water = perry_dippr100::enthalpy(perry_dippr100::water, t);
        const T ethanol = perry_dippr100::enthalpy(perry_dippr100::ethanol, t);
        const T excess = mixing(w) + redlich_kister(excess_heat_capacity_terms, w) * (t - mixing_c);
        return num::keep_if(valid(w, t), T((1.0 - w) * water + w * ethanol + excess));
    }

    /// Enthalpy of the vapour, J/kg.
    ///   w    ethanol in the vapour as a mass fraction    0 <= w <= 1
    ///   t    temperature of the vapour, degC             0 <= t <= 110
    ///   ->   J/kg; NaN outside the range or for NaN
    template <class T>
    static T vapour_enthalpy(const T& w, const T& t) {
        const T water = perry_dippr100::enthalpy(perry_dippr100::water, t) + perry_dippr106::latent_heat(perry_dippr106::water, t);
        const T ethanol = perry_dippr100::enthalpy(perry_dippr100::ethanol, t) + perry_dippr106::latent_heat(perry_dippr106::ethanol, t);
        return num::keep_if(valid(w, t), T((1.0 - w) * water + w * ethanol));
    }

    /// Heat that a vapour gives up when all of it condenses at t, J/kg: vapour_enthalpy - liquid_enthalpy at one composition.
    template <class T>
    static T latent_heat(const T& w, const T& t) {
        return vapour_enthalpy(w, t) - liquid_enthalpy(w, t);
    }

    /// Heat to warm a liquid from start to boiling and evaporate all of it there, J/kg.
    ///   w          ethanol as a mass fraction    0 <= w <= 1
    ///   start      degC                          0 <= start <= 110
    ///   boiling    degC, at the pressure of the still; 0 <= boiling <= 110
    ///   ->         J/kg; NaN outside the ranges or for NaN
    template <class T>
    static T evaporation_heat(const T& w, const T& start, const T& boiling) {
        return vapour_enthalpy(w, boiling) - liquid_enthalpy(w, start);
    }
};

/// Mass fractions of what a grain consists of; carbohydrate without fibre is the rest.
struct food_components {
    double moisture = 0.0;
    double protein = 0.0;
    double fat = 0.0;
    double fibre = 0.0;
    double ash = 0.0;

    /// All but the carbohydrate.
    [[nodiscard]] constexpr double others() const { return moisture + protein + fat + fibre + ash; }
};

/// Heat capacity of food components: that of a grain is the sum of its parts, that of dissolved sugar is that of carbohydrate.
struct choi_okos_1986_heat {
    static constexpr source from{
        "choi_okos_1986_heat",
        "heat capacity of food components [J/(kg K)]",
        "Choi Y, Okos MR, 1986. Effects of temperature and composition on the thermal properties of foods. Food Engineering and Process Applications 1, "
        "93-101; reprinted in ASHRAE Handbook Refrigeration",
        "0 <= t <= 110 degC (published to 150 degC)",
        "4 to 6 %; malt of 0 to 8 % moisture is given 1.59 to 1.76 kJ/(kg K) by a maltster's handbook of 1984, 10 to 20 % less",
    };

    // Powers 0 to 2 of t, degC; kJ/(kg K), verbatim.
    using coefficients = std::array<double, 3>;
    static constexpr coefficients water{4.1762, -9.0864e-05, 5.4731e-06};
    static constexpr coefficients protein{2.0082, 0.0012089, -1.3129e-06};
    static constexpr coefficients fat{1.9842, 0.0014733, -4.8008e-06};
    static constexpr coefficients carbohydrate{1.5488, 0.0019625, -5.9399e-06};
    static constexpr coefficients fibre{1.8459, 0.0018306, -4.6509e-06};
    static constexpr coefficients ash{1.0926, 0.0018896, -3.6817e-06};
    static constexpr double joules_per_kilojoule = 1e3;

    /// The coefficients of a grain, kJ/(kg K): those of its parts, weighed.
    static constexpr coefficients of(const food_components& grain) {
        coefficients sum{};
        for (std::size_t k = 0; k < sum.size(); ++k) {
            sum[k] = grain.moisture * water[k] + grain.protein * protein[k] + grain.fat * fat[k] + grain.fibre * fibre[k] + grain.ash * ash[k] +
                     (1.0 - grain.others()) * carbohydrate[k];
        }
        return sum;
    }

    /// Heat capacity, J/(kg K), of what has these coefficients; t in degC, 0 to 110, NaN outside.
    template <class T>
    static constexpr T heat_capacity(const coefficients& c, const T& t) {
        return num::keep_if(num::inside(t, enthalpy_t_range), T(joules_per_kilojoule * num::horner(c, t)));
    }

    /// Enthalpy above that at 0 degC, J/kg; the integral of heat_capacity.
    template <class T>
    static constexpr T enthalpy(const coefficients& c, const T& t) {
        return num::keep_if(num::inside(t, enthalpy_t_range), T(joules_per_kilojoule * num::horner(num::antiderivative(c), t)));
    }
};

/// A wash: the spirit in it and its extract side by side, each with its own heat capacity.
struct wash_heat {
    static constexpr source from{
        "wash_heat",
        "heat capacity of water + ethanol + extract [J/(kg K)]",
        "heat of spirits for the water and ethanol, carbohydrate of Choi and Okos 1986 for the extract, added by mass",
        "0 <= abw <= 100 % mass, 0 <= extract <= 70 % mass of the ethanol-free part; 0 <= t <= 110 degC",
        "that of spirit_heat, and 1 % for every 15 % of extract: dissolved sugar has 1.6 here, about 1.8 kJ/(kg K) in sugar works (from memory)",
    };

    template <class T>
    static constexpr auto valid(const T& e, const T& x, const T& t) {
        const T anywhere = T(0.0 * t + oiml_r22::reference_c);  // the composition alone is asked for
        return num::mask<T>(wash::valid(e, x, anywhere) && num::inside(t, enthalpy_t_range));
    }

    /// Heat capacity of a wash, J/(kg K).
    ///   e    ethanol as a mass fraction of the wash    0 <= e, e + x <= 1
    ///   x    extract as a mass fraction of the wash    0 <= x, x/(1 - e) <= 0.70
    ///   t    temperature, degC                         0 <= t <= 110
    ///   ->   J/(kg K); NaN outside the range or for NaN
    template <class T>
    static constexpr T heat_capacity(const T& e, const T& x, const T& t) {
        const T liquid = (1.0 - x) * spirit_heat::heat_capacity(T(e / (1.0 - x)), t);
        const T solute = x * choi_okos_1986_heat::heat_capacity(choi_okos_1986_heat::carbohydrate, t);
        return num::keep_if(valid(e, x, t), T(liquid + solute));
    }

    /// Heat that brings a kg of wash from `before` to `after`, J/kg; negative where it cools. Inputs and range as heat_capacity.
    template <class T>
    static constexpr T heating(const T& e, const T& x, const T& before, const T& after) {
        const T w = e / (1.0 - x);
        const T liquid = spirit_heat::liquid_enthalpy(w, after) - spirit_heat::liquid_enthalpy(w, before);
        const auto& sugar = choi_okos_1986_heat::carbohydrate;
        const T solute = choi_okos_1986_heat::enthalpy(sugar, after) - choi_okos_1986_heat::enthalpy(sugar, before);
        return num::keep_if(valid(e, x, after), T((1.0 - x) * liquid + x * solute));
    }
};

namespace detail {

inline constexpr num::interval any_amount{0.0, std::numeric_limits<double>::infinity()};

inline void require_spirit_heat(const double w, const double t, const std::string_view which = "temperature") {
    require_fraction("abw", w, "% mass", oiml_r22::abw_range, spirit_heat::from);
    require_inside(which, t, "degC", enthalpy_t_range, spirit_heat::from);
}

inline void require_wash_heat(const double e, const double x, const double t, const std::string_view which = "temperature") {
    require_wash(e, x, oiml_r22::reference_c);
    require_inside(which, t, "degC", enthalpy_t_range, wash_heat::from);
}

inline void require_components(const food_components& grain) {
    const auto share = [](const std::string_view name, const double x) { require_fraction(name, x, "% mass", {0.0, 1.0}, choi_okos_1986_heat::from); };
    share("moisture", grain.moisture);
    share("protein", grain.protein);
    share("fat", grain.fat);
    share("fibre", grain.fibre);
    share("ash", grain.ash);
    share("sum of the components", grain.others());
}

inline void require_mass(const std::string_view name, const double m) {
    require_inside(name, m, "kg", any_amount, "");
    if (std::isinf(m)) {
        throw InputError(std::string(name) + " " + format_quantity(m, "kg") + " must be a finite mass in kg");
    }
}

}  // namespace detail

/// Heat capacity of a spirit (ethanol and water).
///   strength      ethanol, 0 to 100 % mass
///   temperature   0 to 110 degC
///   ->            J/(kg K)
/// Throws RangeError outside. Source and accuracy: spirit_heat::from.
inline specific_heat_capacity<> spirit_heat_capacity(const abw<>& strength, const celsius<>& temperature) {
    detail::require_spirit_heat(strength.value(), temperature.value());
    return specific_heat_capacity<>::from_value(spirit_heat::heat_capacity(strength.value(), temperature.value()));
}

/// Enthalpy of a liquid spirit above that of its unmixed parts at 0 degC, J/kg; a mixture at 0 degC is below zero by its heat of mixing.
/// Ranges and errors as spirit_heat_capacity.
inline specific_energy<> spirit_enthalpy(const abw<>& strength, const celsius<>& temperature) {
    detail::require_spirit_heat(strength.value(), temperature.value());
    return specific_energy<>::from_value(spirit_heat::liquid_enthalpy(strength.value(), temperature.value()));
}

/// Enthalpy of an ethanol-water vapour above that of its liquid parts at 0 degC, J/kg. Ranges and errors as spirit_heat_capacity.
inline specific_energy<> vapour_enthalpy(const abw<>& strength, const celsius<>& temperature) {
    detail::require_spirit_heat(strength.value(), temperature.value());
    return specific_energy<>::from_value(spirit_heat::vapour_enthalpy(strength.value(), temperature.value()));
}

/// Latent heat of a vapour: what a condenser takes from it without cooling the liquid.
///   strength      ethanol in the vapour, 0 to 100 % mass
///   temperature   of condensation, 0 to 110 degC
///   ->            J/kg
/// Throws RangeError outside. Source and accuracy: spirit_heat::total_from.
inline specific_energy<> latent_heat(const abw<>& strength, const celsius<>& temperature) {
    detail::require_spirit_heat(strength.value(), temperature.value());
    return specific_energy<>::from_value(spirit_heat::latent_heat(strength.value(), temperature.value()));
}

/// Heat to warm a spirit to its boiling point and evaporate all of it there.
///   strength   ethanol, 0 to 100 % mass
///   start      0 degC to the boiling point
///   boiling    the boiling point at the pressure of the still, 0 to 110 degC
///   ->         J/kg
/// Throws RangeError outside. Source and accuracy: spirit_heat::total_from.
inline specific_energy<> evaporation_heat(const abw<>& strength, const celsius<>& start, const celsius<>& boiling) {
    detail::require_spirit_heat(strength.value(), boiling.value(), "boiling point");
    require_inside("start temperature", start.value(), "degC", {enthalpy_t_range.lower, boiling.value()}, "from the reference state to the boiling point");
    return specific_energy<>::from_value(spirit_heat::evaporation_heat(strength.value(), start.value(), boiling.value()));
}

/// Heat capacity of a wash.
///   strength          ethanol, % mass of the wash
///   extract_by_mass   extract, % mass of the wash; at most 70 % of the ethanol-free part
///   temperature       0 to 110 degC
///   ->                J/(kg K)
/// Throws RangeError outside. Source and accuracy: wash_heat::from.
inline specific_heat_capacity<> wash_heat_capacity(const abw<>& strength, const extract<>& extract_by_mass, const celsius<>& temperature) {
    detail::require_wash_heat(strength.value(), extract_by_mass.value(), temperature.value());
    return specific_heat_capacity<>::from_value(wash_heat::heat_capacity(strength.value(), extract_by_mass.value(), temperature.value()));
}

/// Heat that brings a wash from one temperature to another, without losses and without boiling; negative where it cools.
///   amount   of the wash, kg, 0 or more
///   The rest as wash_heat_capacity.
///   ->       J
/// Throws RangeError outside, InputError for an infinite mass.
inline energy<> wash_heating(const mass<>& amount, const abw<>& strength, const extract<>& extract_by_mass, const celsius<>& before, const celsius<>& after) {
    detail::require_mass("mass of the wash", amount.value());
    detail::require_wash_heat(strength.value(), extract_by_mass.value(), before.value(), "temperature before");
    detail::require_wash_heat(strength.value(), extract_by_mass.value(), after.value(), "temperature after");
    const double per_kilogram = wash_heat::heating(strength.value(), extract_by_mass.value(), before.value(), after.value());
    return energy<>::from_value(amount.value() * per_kilogram);
}

/// Heat capacity of a grain with its moisture.
///   grain         mass fractions, each 0 to 1 and together at most 1
///   temperature   0 to 110 degC
///   ->            J/(kg K)
/// Throws RangeError outside. Source and accuracy: choi_okos_1986_heat::from.
inline specific_heat_capacity<> grain_heat_capacity(const food_components& grain, const celsius<>& temperature) {
    detail::require_components(grain);
    require_inside("temperature", temperature.value(), "degC", enthalpy_t_range, choi_okos_1986_heat::from);
    return specific_heat_capacity<>::from_value(choi_okos_1986_heat::heat_capacity(choi_okos_1986_heat::of(grain), temperature.value()));
}

/// Heat that brings a grain from one temperature to another, J; a mash takes this for its grain and wash_heating for its liquid. The heat that
/// dry grain gives up when it takes water is left out.
///   amount   of the grain with its moisture, kg, 0 or more
///   The rest as grain_heat_capacity. Throws RangeError outside, InputError for an infinite mass.
inline energy<> grain_heating(const mass<>& amount, const food_components& grain, const celsius<>& before, const celsius<>& after) {
    detail::require_mass("mass of the grain", amount.value());
    detail::require_components(grain);
    require_inside("temperature before", before.value(), "degC", enthalpy_t_range, choi_okos_1986_heat::from);
    require_inside("temperature after", after.value(), "degC", enthalpy_t_range, choi_okos_1986_heat::from);
    const auto c = choi_okos_1986_heat::of(grain);
    const double per_kilogram = choi_okos_1986_heat::enthalpy(c, after.value()) - choi_okos_1986_heat::enthalpy(c, before.value());
    return energy<>::from_value(amount.value() * per_kilogram);
}

}  // namespace ferment

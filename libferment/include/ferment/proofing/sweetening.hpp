#pragma once
// Sugar in spirit. It makes the spirit heavier, so that an alcoholometer reads too little: the strength is obscured.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/proofing/blend.hpp>
#include <string>

namespace ferment {

inline constexpr source obscuration_source{
    "obscuration",
    "how much less an alcoholometer shows in a spirit with dissolved sugar [% vol]",
    "density of a wash against OIML R 22; compare 27 CFR 30.32: 0.4 proof for 0.1 g of solids in 100 mL",
    "0 to 500 g/L of sugar, 20 degC; other solids (wood, colour) weigh much like sugar",
    "the rule of 27 CFR 30.32, one round figure for all strengths, agrees within its rounding from 43 to 54 % vol; at 40 % vol it is 0.47 proof",
};

/// A spirit with sugar in it.
struct SweetenedSpirit {
    mass<> total;    ///< kg
    mass<> ethanol;  ///< kg, part of total
    mass<> sugar;    ///< kg, part of total
};

namespace detail {

inline constexpr num::interval sugar_range{0.0, 500.0};  // g/L; liqueurs hold 100 to 450

inline void require_sugar(const double grams_per_litre_of_sugar) {
    if (std::isnan(grams_per_litre_of_sugar)) throw InputError("sugar must be a number, g/L");
    require_inside("sugar", grams_per_litre_of_sugar, "g/L", sugar_range, "of sweetened spirit at 20 degC");
}

/// Density at 20 degC of a spirit of strength q (volume fraction) with c kg/m3 of sugar: the one at which its mass fractions agree with it.
inline double sweetened_density(const double q, const double c) {
    if (c == 0.0) return volume_at_20c::density(volume_at_20c::to_abw(q));
    constexpr num::interval possible{700.0, 1400.0};
    constexpr double usual = 1000.0;
    const auto excess = [&](const double rho) {
        const double e = q * volume_at_20c::ethanol_density / rho;
        return rho - 1.0 / wash::specific_volume(e, c / rho, oiml_r22::reference_c);
    };
    return num::bracketed_newton<double>(
        [&](const double rho) {
            return num::value_and_slope<double>{excess(rho), (excess(rho + 1e-3) - excess(rho - 1e-3)) / 2e-3};
        },
        possible.lower, possible.upper, usual);
}

/// The same, checked: ethanol by mass and density of a sweetened spirit. Throws RangeError where the sugar would be a syrup of over 70 % in what
/// the ethanol leaves.
inline double require_sweetened(const double q, const double c) {
    require_fraction("abv", q, "% vol", oiml_r22::abw_range, oiml_r22::from);
    require_sugar(c);
    const double rho = sweetened_density(q, c);
    if (std::isnan(rho) && !std::isnan(q)) {
        throw RangeError("abv " + format_quantity(percent * q, "% vol") + " leaves no room for " + format_quantity(c, "g/L") + " of sugar");
    }
    const double x = c / rho;
    if (c > 0.0 && !std::isnan(rho) && !wash::valid(q * volume_at_20c::ethanol_density / rho, x, oiml_r22::reference_c)) {
        throw_range_error("abv", percent * q, "% vol", {0.0, percent * wash::strongest(x)}, "with " + format_quantity(c, "g/L") + " of sugar in it");
    }
    return rho;
}

}  // namespace detail

/// What an alcoholometer or a density meter shows in a sweetened spirit at 20 degC.
///   strength   true, 0 to 100 % vol at 20 degC, less with sugar in it, which needs water
///   sugar_g_l  0 to 500 g/L
///   ->         apparent strength. Throws RangeError outside, or where the spirit is heavier than water. Source: obscuration.
inline abv<> apparent_strength(const abv<>& strength, const double sugar_g_l) {
    const double rho = detail::require_sweetened(strength.value(), sugar_g_l);
    if (sugar_g_l == 0.0) return strength;
    const double water = volume_at_20c::density(0.0);
    if (rho > water) {
        throw RangeError("a spirit of " + format_quantity(detail::percent * strength.value(), "% vol") + " with " + format_quantity(sugar_g_l, "g/L") +
                         " of sugar is heavier than water: no alcoholometer shows a strength there");
    }
    return abv_from_abw(abw_from_density(density<>::from_value(rho), oiml_r22::reference_c * degree_celsius));
}

/// The true strength of a sweetened spirit from what its density seems to say: the exact inverse of apparent_strength.
///   apparent   0 to 100 % vol at 20 degC
///   sugar_g_l  0 to 500 g/L, known from the recipe or from evaporating a sample
///   ->         strength. Throws RangeError outside. Source: obscuration.
inline abv<> strength_of_sweetened(const abv<>& apparent, const double sugar_g_l) {
    require_inside("apparent strength", detail::percent * apparent.value(), "% vol", detail::percent_range, oiml_r22::from);
    detail::require_sugar(sugar_g_l);
    const double rho = volume_at_20c::density(volume_at_20c::to_abw(apparent.value()));
    const double x = sugar_g_l / rho;  // 1 g/L is 1 kg/m3
    const double e = wash::abw_from_density(rho, x, oiml_r22::reference_c);
    if (std::isnan(e) && !std::isnan(rho)) {
        throw RangeError("no spirit with " + format_quantity(sugar_g_l, "g/L") + " of sugar looks like " +
                         format_quantity(detail::percent * apparent.value(), "% vol") + ": with so much sugar it would be heavier");
    }
    return abv<>::from_value(e * rho / volume_at_20c::ethanol_density);
}

/// A recipe for a sweetened spirit.
struct Sweetening {
    SweetenedSpirit result;
    mass<> sugar;         ///< to add
    mass<> water;         ///< to add
    volume<> volume_20c;  ///< of the result at 20 degC
    abv<> apparent;       ///< what an alcoholometer will show; NaN where the result is heavier than water
};

/// Sugar and water that turn a spirit into a sweetened one of a wanted strength and sweetness.
///   spirit     from weigh() or a Dilution
///   strength   wanted, % vol at 20 degC, below that of the spirit
///   sugar_g_l  wanted, 0 to 500 g/L at 20 degC
///   ->         masses to add; mass and ethanol close to round-off. Throws RangeError where water would have to come out. Source: wash.
inline Sweetening sweeten(const SpiritMass& spirit, const abv<>& strength, const double sugar_g_l) {
    const double rho = detail::require_sweetened(strength.value(), sugar_g_l);
    if (strength.value() == 0.0) throw RangeError("wanted strength 0 % vol must be more than 0 % vol, at most 100 % vol");
    const double e = strength.value() * volume_at_20c::ethanol_density / rho;
    Sweetening s{};
    s.result.ethanol = spirit.ethanol;
    s.result.total = spirit.ethanol / e;
    s.result.sugar = s.result.total * (sugar_g_l / rho);
    s.sugar = s.result.sugar;
    s.water = s.result.total - s.result.sugar - spirit.total;
    s.volume_20c = volume<>::from_value(s.result.total.value() / rho);
    constexpr double round_off = 1e-12;
    if (s.water.value() < -round_off * spirit.total.value()) {
        throw RangeError("the spirit of " + format_quantity(detail::percent * value_in(abv_from_abw(strength_of(spirit)), abv<>::from_value(1.0)), "% vol") +
                         " is too weak for " + format_quantity(detail::percent * strength.value(), "% vol") + " with " + format_quantity(sugar_g_l, "g/L") +
                         " of sugar: " + format_quantity(-s.water.value(), "kg") + " of water would have to come out");
    }
    const bool heavier = rho > volume_at_20c::density(0.0);
    s.apparent = heavier ? abv<>::from_value(std::nan("")) : apparent_strength(strength, sugar_g_l);
    return s;
}

}  // namespace ferment

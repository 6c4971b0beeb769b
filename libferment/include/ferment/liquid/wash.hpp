#pragma once
// Water, ethanol and extract together: fermenting and finished washes. A dry wash lighter than water is the normal case.

#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>

namespace ferment {

/// The ternary liquid. Ethanol is counted with the water it is mixed with (oiml_r22); extract is a solute on the sucrose scale that brings
/// its own apparent specific volume (icumsa_sps4):
///
///   1/rho(e, x, t) = (1 - x)/rho_spirit(e/(1 - x), t) + x v(x/(1 - e), t),   v(w, t) = (1/rho_sucrose(w, t) - (1 - w)/rho_water(t))/w
///
/// Without extract this is the spirit formula, without ethanol the sucrose formula, both to round-off. The two formulas disagree on the
/// density of their water by 0.002 kg/m3 at 20 degC; the wash passes from one water to the other as the solutes do (share x/(x + e)).
struct wash {
    static constexpr source from{
        "wash",
        "density of water + ethanol + extract [kg/m3]",
        "additive specific volumes of OIML R 22 and ICUMSA SPS-4 (the exact form of Tabarie's rule; compare OIV-MA-AS2-03B)",
        "0 <= abw <= 100 % mass, 0 <= extract <= 70 % mass, abw + extract <= 100 %; 0 <= t <= 40 degC",
        "reduces to both binary formulas; reproduces the gravity of 27 beers of 1911-1912 (USDA Bulletin 493) from their analysis within 0.0003",
    };
    static constexpr num::interval t_range{0.0, 40.0};  // where both formulas hold

    /// How much of the water counts as that of the sucrose formula: the share of extract among the solutes, none in pure water.
    template <class T>
    static constexpr T sucrose_share(const T& e, const T& x) {
        const T solutes = x + e;
        return num::select(solutes > 0.0, T(x / solutes), T(0.0 * x));
    }

    /// Specific volume of the water in the liquid, m3/kg: that of the formula whose solute prevails.
    template <class T>
    static constexpr T water_specific_volume(const T& e, const T& x, const T& t) {
        const T spirit_water = 1.0 / oiml_r22::raw_density(T(0.0 * t), t);
        const T sucrose_water = 1.0 / icumsa_sps4::water(t);
        return spirit_water + (sucrose_water - spirit_water) * sucrose_share(e, x);
    }

    /// Extract in what would be left if the ethanol were taken away; zero in pure ethanol, which holds none.
    template <class T>
    static constexpr T without_ethanol(const T& e, const T& x) {
        return num::select(e == 1.0, T(0.0 * x), T(x / (1.0 - e)));
    }

    /// Specific volume of the wash, m3/kg; unchecked.
    template <class T>
    static constexpr T specific_volume(const T& e, const T& x, const T& t) {
        const T ethanol_in_solvent = e / (1.0 - x);
        const T extract_in_wort = without_ethanol(e, x);
        const T solvent = (1.0 - x) / oiml_r22::raw_density(ethanol_in_solvent, t);
        const T water = icumsa_sps4::water(t);
        // v(w) written without the division by w: (1/rho - (1 - w)/rho_water)/w = (1 - r/rho)/rho_water with rho = rho_water + w r.
        const T rise = icumsa_sps4::density_per_extract(extract_in_wort, t);
        const T solute = x * (1.0 - rise / (water + extract_in_wort * rise)) / water;
        const T waters_apart = 1.0 / water - 1.0 / oiml_r22::raw_density(T(0.0 * t), t);
        return solvent + solute + (1.0 - x) * waters_apart * sucrose_share(e, x);
    }

    template <class T>
    static constexpr auto valid(const T& e, const T& x, const T& t) {
        // Each by itself: written as one condition, a compiler may branch, and then it does not vectorise a loop over it.
        const auto ethanol = num::inside(e, oiml_r22::abw_range);
        const auto extract = num::inside(x, icumsa_sps4::extract_range);
        const auto temperature = num::inside(t, t_range);
        const auto ethanol_in_solvent = num::inside(T(e / (1.0 - x)), oiml_r22::abw_range);
        const auto extract_in_wort = num::inside(without_ethanol(e, x), icumsa_sps4::extract_range);
        return num::mask<T>(ethanol && extract && temperature && ethanol_in_solvent && extract_in_wort);
    }

    /// Density of a wash, kg/m3.
    ///   e    ethanol as a mass fraction of the wash    0 <= e, e + x <= 1
    ///   x    extract as a mass fraction of the wash    0 <= x, x/(1 - e) <= 0.70
    ///   t    temperature, degC                         0 <= t <= 40
    ///   ->   kg/m3; NaN outside the range or for NaN
    template <class T>
    static constexpr T density(const T& e, const T& x, const T& t) {
        return num::keep_if(valid(e, x, t), T(1.0 / specific_volume(e, x, t)));
    }

    /// Specific gravity of a wash at t against water at water_t, degC; the water is the wash's own, so that pure water has gravity one.
    template <class T>
    static constexpr T gravity(const T& e, const T& x, const T& t, const T& water_t) {
        return num::keep_if(valid(e, x, t), T(water_specific_volume(e, x, water_t) / specific_volume(e, x, t)));
    }

    /// Specific gravity 20/20.
    template <class T>
    static constexpr T gravity_20_20(const T& e, const T& x) {
        const T reference = T(0.0 * e + oiml_r22::reference_c);
        return gravity(e, x, reference, reference);
    }

    /// Slope of f at x by central difference of the step that round-off asks for; only steers the solver, never its result.
    template <class T, class F>
    static constexpr num::value_and_slope<T> with_slope(const F& f, const T& x) {
        constexpr double step = 1e-6;
        return {f(x), (f(x + step) - f(x - step)) * (0.5 / step)};
    }

    /// Extract of a wash of known ethanol from its density: the exact inverse of density in x.
    template <class T>
    static T extract_from_density(const T& rho, const T& e, const T& t) {
        const auto f = [&](const T& x) { return T(1.0 / specific_volume(e, x, t) - rho); };
        const T most = (1.0 - e) * icumsa_sps4::extract_range.upper;
        const T x = num::bracketed_newton<T>([&](const T& y) { return with_slope(f, y); }, T(0.0 * e), most, T(0.1 * most));
        return num::keep_if(num::inside(t, t_range) && num::inside(e, oiml_r22::abw_range), x);
    }

    /// Ethanol of a wash of known extract from its density: the exact inverse of density in e.
    template <class T>
    static T abw_from_density(const T& rho, const T& x, const T& t) {
        const auto f = [&](const T& e) { return T(1.0 / specific_volume(e, x, t) - rho); };
        // Not past the point where the extract would be more than 70 % of the ethanol-free part.
        const T most = 1.0 - x * (1.0 / icumsa_sps4::extract_range.upper);
        const T e = num::bracketed_newton<T>([&](const T& y) { return with_slope(f, y); }, T(0.0 * x), most, T(0.1 * most));
        return num::keep_if(num::inside(t, t_range) && num::inside(x, icumsa_sps4::extract_range), e);
    }

    /// Strength by volume at 20 degC of a wash: litres of ethanol in a litre of wash.
    template <class T>
    static constexpr T abv(const T& e, const T& x) {
        const T reference = T(0.0 * e + oiml_r22::reference_c);
        return e * density(e, x, reference) / volume_at_20c::ethanol_density;
    }

    /// The greatest strength by volume of a wash of extract x: more ethanol would leave the rest a syrup of over 70 %.
    static constexpr double strongest(const double x) {
        const double most = 1.0 - x / icumsa_sps4::extract_range.upper;
        return most / specific_volume(most, x, oiml_r22::reference_c) / volume_at_20c::ethanol_density;
    }

    /// Ethanol by mass of a wash of known extract from its strength by volume: the exact inverse of abv in e.
    template <class T>
    static T abw_from_abv(const T& q, const T& x) {
        const T reference = T(0.0 * q + oiml_r22::reference_c);
        const auto f = [&](const T& e) { return T(e / specific_volume(e, x, reference) - q * volume_at_20c::ethanol_density); };
        const T most = 1.0 - x * (1.0 / icumsa_sps4::extract_range.upper);
        const T e = num::bracketed_newton<T>([&](const T& y) { return with_slope(f, y); }, T(0.0 * x), most, T(0.8 * q));
        return num::keep_if(num::inside(x, icumsa_sps4::extract_range), e);
    }
};

namespace detail {

inline void require_wash(const double e, const double x, const double t) {
    require_fraction("abw", e, "% mass", oiml_r22::abw_range, wash::from);
    require_fraction("extract", x, "% mass", icumsa_sps4::extract_range, wash::from);
    require_inside("temperature", t, "degC", wash::t_range, wash::from);
    if (!std::isnan(e) && !std::isnan(x) && !wash::valid(e, x, oiml_r22::reference_c)) {
        throw_range_error("extract", percent * x, "% mass", {0.0, percent * icumsa_sps4::extract_range.upper * (1.0 - e)},
                          "with " + format_quantity(percent * e, "% mass") + " of ethanol in the wash");
    }
}

}  // namespace detail

/// Density of a wash.
///   strength          ethanol, % mass of the wash
///   extract_by_mass   extract, % mass of the wash; with the ethanol at most 100 %
///   temperature       0 to 40 degC
///   ->                density, kg/m3
/// Throws RangeError outside. Source: see wash.
inline density<> wash_density(const abw<>& strength, const extract<>& extract_by_mass, const celsius<>& temperature) {
    detail::require_wash(strength.value(), extract_by_mass.value(), temperature.value());
    return density<>::from_value(wash::density(strength.value(), extract_by_mass.value(), temperature.value()));
}

/// Specific gravity 20/20 of a wash. Ranges and errors as wash_density.
inline specific_gravity<> wash_gravity(const abw<>& strength, const extract<>& extract_by_mass) {
    detail::require_wash(strength.value(), extract_by_mass.value(), oiml_r22::reference_c);
    return specific_gravity<>::from_value(wash::gravity_20_20(strength.value(), extract_by_mass.value()));
}

/// Strength by volume at 20 degC of a wash given by mass. Ranges and errors as wash_density.
inline abv<> wash_abv(const abw<>& strength, const extract<>& extract_by_mass) {
    detail::require_wash(strength.value(), extract_by_mass.value(), oiml_r22::reference_c);
    return abv<>::from_value(wash::abv(strength.value(), extract_by_mass.value()));
}

/// Ethanol by mass of a wash of known extract from its strength by volume: the exact inverse of wash_abv.
inline abw<> wash_abw(const abv<>& strength, const extract<>& extract_by_mass) {
    const double x = extract_by_mass.value();
    detail::require_wash(0.0, x, oiml_r22::reference_c);
    const double e = wash::abw_from_abv(strength.value(), x);
    if (std::isnan(e) && !std::isnan(strength.value()) && !std::isnan(x)) {
        throw_range_error("abv", detail::percent * strength.value(), "% vol", {0.0, detail::percent * wash::strongest(x)}, wash::from.citation);
    }
    return abw<>::from_value(e);
}

/// Real extract of a wash of known ethanol from its density: the exact inverse of wash_density.
/// Throws RangeError where the density is less than that of the spirit alone or more than that of a saturated syrup.
inline extract<> wash_extract(const density<>& density_at, const abw<>& strength, const celsius<>& temperature) {
    const double e = strength.value();
    const double t = temperature.value();
    detail::require_wash(e, 0.0, t);
    const num::interval possible{wash::density(e, 0.0, t), 1.0 / wash::specific_volume(e, (1.0 - e) * icumsa_sps4::extract_range.upper, t)};
    const double x = wash::extract_from_density(density_at.value(), e, t);
    if (std::isnan(x) && !std::isnan(density_at.value()) && !std::isnan(e) && !std::isnan(t)) {
        throw_range_error("density", density_at.value(), "kg/m3", possible, "washes of this ethanol at this temperature");
    }
    return extract<>::from_value(x);
}

/// Ethanol of a wash of known real extract from its density: the exact inverse of wash_density.
/// Throws RangeError where no such wash exists.
inline abw<> wash_abw_from_density(const density<>& density_at, const extract<>& extract_by_mass, const celsius<>& temperature) {
    const double x = extract_by_mass.value();
    const double t = temperature.value();
    detail::require_wash(0.0, x, t);
    const num::interval possible{1.0 / wash::specific_volume(1.0 - x / icumsa_sps4::extract_range.upper, x, t), wash::density(0.0, x, t)};
    const double e = wash::abw_from_density(density_at.value(), x, t);
    if (std::isnan(e) && !std::isnan(density_at.value()) && !std::isnan(x) && !std::isnan(t)) {
        throw_range_error("density", density_at.value(), "kg/m3", possible, "washes of this extract at this temperature");
    }
    return abw<>::from_value(e);
}

}  // namespace ferment

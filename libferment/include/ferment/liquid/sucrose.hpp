#pragma once
// How much a sugar solution weighs, and so what a wort's gravity says of its extract. Degrees Plato, Brix and Balling are one scale
// today: % sucrose by mass that gives the same density.

#include <array>
#include <ferment/core/array_solve.hpp>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>

namespace ferment {

/// Aqueous sucrose.
/// Rejected alternatives and errata: DEVELOPERS.md, "Density of sucrose solutions".
struct icumsa_sps4 {
    static constexpr source from{
        "icumsa_sps4",
        "density of sucrose solutions [kg/m3]",
        "ICUMSA SPS-4 polynomial: Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual, Bartens 1995, p. 164; Llano-Restrepo 2005",
        "0 <= extract <= 70 % mass; 0 <= t <= 80 degC",
        "not stated; agrees with CRC Handbook 102nd ed. within 0.1 kg/m3 to 42 %, 0.15 at 50 %, 0.3 at 70 % (20 degC)",
    };
    static constexpr num::interval extract_range = num::from_percent(0.0, 70.0);  // mass fraction
    static constexpr num::interval t_range{0.0, 80.0};                            // degC

    // Water of the polynomial (Bettin and Spieweck 1990), verbatim: numerator powers of t, denominator coefficient.
    static constexpr std::array<double, 6> water_numerator{999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12};
    static constexpr double water_denominator = 16.887236e-3;

    // Rows: powers 0 to 4 of (t - 20)/100; entries: powers 1 to 6, 5, 4, 3, 2 of the mass fraction; kg/m3, verbatim, count = 20.
    static constexpr std::array<double, 6> a{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890};
    static constexpr std::array<double, 5> b{-46.2720, -7.1720, 1.1597, 5.1126, 17.5254};
    static constexpr std::array<double, 4> c{59.7712, 7.2491, 12.3630, -35.4791};
    static constexpr std::array<double, 3> d{-47.2207, -21.6977, 27.6301};
    static constexpr std::array<double, 2> e{18.3184, 12.3081};
    static constexpr double reference_c = 20.0;
    static constexpr double t_scale = 100.0;

    /// The water of this polynomial, kg/m3, t in degC; up to 0.005 kg/m3 below IAPWS. Gravities are taken against it, so that the gravity of
    /// an extract of zero is exactly one.
    template <class T>
    static constexpr T water(const T& t) {
        return num::horner(water_numerator, t) / (1.0 + water_denominator * t);
    }

    /// Density divided by nothing but water: (rho - rho_water) / extract, kg/m3, without a range check.
    template <class T>
    static constexpr T density_per_extract(const T& w, const T& t) {
        const T x = (t - reference_c) * (1.0 / t_scale);
        return num::horner(a, w) + x * (num::horner(b, w) + x * (num::horner(c, w) + x * (num::horner(d, w) + x * num::horner(e, w))));
    }

    /// Density of a sucrose solution, kg/m3.
    ///   w    extract as a mass fraction    0 <= w <= 0.70
    ///   t    temperature, degC             0 <= t <= 80
    ///   ->   kg/m3; NaN outside the range or for NaN
    template <class T>
    static constexpr T density(const T& w, const T& t) {
        const T rho = water(t) + w * density_per_extract(w, t);
        return num::keep_if(num::inside(w, extract_range) && num::inside(t, t_range), rho);
    }

    /// The same with its slope in w; unchecked, for solvers.
    template <class T>
    static constexpr num::value_and_slope<T> density_and_slope(const T& w, const T& t) {
        const T x = (t - reference_c) * (1.0 / t_scale);
        const T slope_of_rest =
            num::horner(num::derivative(a), w) +
            x * (num::horner(num::derivative(b), w) + x * (num::horner(num::derivative(c), w) + x * (num::horner(num::derivative(d), w) + x * e[1])));
        const T per_extract = density_per_extract(w, t);
        return {water(t) + w * per_extract, per_extract + w * slope_of_rest};
    }

    /// extract_from_density for arrays, see num::solve_array: the formula gathered at each temperature into a polynomial in w.
    ///   Least   percent of extract at which the scale begins; apparent extracts go below zero
    template <int Least = 0>
    struct by_density {
        static constexpr std::size_t inputs = 2;  // density, temperature
        static constexpr std::size_t terms = 7;
        static constexpr double round_off = 1e-12;      // kg/m3
        static constexpr double typical_slope = 400.0;  // kg/m3, only a first guess

        static num::bracket_and_guess set_up(const std::array<double, inputs>& in, std::array<double, terms>& sum) {
            const double x = (in[1] - reference_c) * (1.0 / t_scale);
            const double x2 = x * x, x3 = x2 * x, x4 = x2 * x2;
            sum[0] = water(in[1]) - in[0];
            for (std::size_t k = 0; k < a.size(); ++k) sum[k + 1] = a[k];
            for (std::size_t k = 0; k < b.size(); ++k) sum[k + 1] += b[k] * x;
            for (std::size_t k = 0; k < c.size(); ++k) sum[k + 1] += c[k] * x2;
            for (std::size_t k = 0; k < d.size(); ++k) sum[k + 1] += d[k] * x3;
            for (std::size_t k = 0; k < e.size(); ++k) sum[k + 1] += e[k] * x4;
            return {num::from_percent(Least, 0.0).lower, extract_range.upper, -sum[0] * (1.0 / typical_slope)};
        }
        static double result(const double root, const std::array<double, inputs>& in) { return num::keep_if(num::inside(in[1], t_range), root); }
    };

    /// The extract whose solution has this density: the exact inverse of density(w, t).
    ///   rho  density, kg/m3; t  temperature, degC, 0 <= t <= 80
    ///   ->   mass fraction 0 to 0.70; NaN where no such solution exists
    template <class T>
    static T extract_from_density(const T& rho, const T& t) {
        constexpr double typical_slope = 400.0;  // kg/m3, only a first guess
        const auto f = [&](const T& w) {
            const num::value_and_slope<T> y = density_and_slope(w, t);
            return num::value_and_slope<T>{y.value - rho, y.slope};
        };
        const T start = (rho - water(t)) * (1.0 / typical_slope);
        const T w = num::bracketed_newton<T>(f, T(extract_range.lower), T(extract_range.upper), start);
        return num::keep_if(num::inside(t, t_range), w);
    }
};

/// Aqueous glucose at 20 degC: the extract of fully saccharified starch, which is lighter than sucrose of the same % by mass.
/// No published density of glucose away from 20 degC was found, so none is offered.
struct crc_glucose {
    static constexpr source from{
        "crc_glucose",
        "density of glucose solutions at 20 degC [kg/m3]",
        "CRC Handbook of Chemistry and Physics, 102nd ed. 2021, section 5, Concentrative Properties of Aqueous Solutions (after Wolf 1966)",
        "0 <= extract <= 60 % mass; 20 degC only",
        "0.06 kg/m3 (rounding of the table 0.05; the polynomial through it is within 0.052 of every row)",
    };
    static constexpr num::interval extract_range{0.0, 0.60};
    // Least-squares polynomial through the table: (rho - rho_water)/w, powers 0 to 4 of w; tests/reference/fit_glucose.py makes it.
    static constexpr std::array<double, 5> per_extract{378.86882831, 132.23699242, 101.71669387, -343.59371391, 369.21696833};

    /// Density of a glucose solution at 20 degC, kg/m3.
    ///   w    glucose (anhydrous) as a mass fraction    0 <= w <= 0.60
    ///   ->   kg/m3; NaN outside the range or for NaN. The water is that of icumsa_sps4.
    template <class T>
    static constexpr T density(const T& w) {
        const T rho = icumsa_sps4::water(T(icumsa_sps4::reference_c)) + w * num::horner(per_extract, w);
        return num::keep_if(num::inside(w, extract_range), rho);
    }

    /// The exact inverse of density(w).
    template <class T>
    static T extract_from_density(const T& rho) {
        constexpr double typical_slope = 400.0;  // kg/m3, only a first guess
        const T water = icumsa_sps4::water(T(icumsa_sps4::reference_c));
        const auto f = [&](const T& w) {
            const T y = num::horner(per_extract, w);
            return num::value_and_slope<T>{water + w * y - rho, y + w * num::horner(num::derivative(per_extract), w)};
        };
        return num::bracketed_newton<T>(f, T(extract_range.lower), T(extract_range.upper), T((rho - water) * (1.0 / typical_slope)));
    }
};

namespace detail {

inline void require_sucrose(const double w, const double t) {
    require_fraction("extract", w, "% mass", icumsa_sps4::extract_range, icumsa_sps4::from);
    require_inside("temperature", t, "degC", icumsa_sps4::t_range, icumsa_sps4::from);
}

}  // namespace detail

/// Density of a sucrose solution (of a wort, on the Plato scale).
///   extract_by_mass   0 to 70 % mass
///   temperature       0 to 80 degC
///   ->                density, kg/m3
/// Throws RangeError outside. Source: ICUMSA SPS-4 polynomial (Bubnik et al. 1995, p. 164).
inline density<> sucrose_density(const extract<>& extract_by_mass, const celsius<>& temperature) {
    detail::require_sucrose(extract_by_mass.value(), temperature.value());
    return density<>::from_value(icumsa_sps4::density(extract_by_mass.value(), temperature.value()));
}

/// Extract of a sucrose solution from its density: the exact inverse of sucrose_density.
///   density_at    kg/m3, from that of water to that of a 70 % solution at the temperature
///   temperature   0 to 80 degC
///   ->            extract, 0 to 70 % mass
/// Throws RangeError where no such solution exists. Source: as sucrose_density.
inline extract<> extract_from_density(const density<>& density_at, const celsius<>& temperature) {
    const double t = temperature.value();
    detail::require_sucrose(icumsa_sps4::extract_range.lower, t);
    const num::interval possible{icumsa_sps4::water(t), icumsa_sps4::density(icumsa_sps4::extract_range.upper, t)};
    require_inside("density", density_at.value(), "kg/m3", possible, "sucrose solutions of 0 to 70 % at this temperature");
    return extract<>::from_value(icumsa_sps4::extract_from_density(density_at.value(), t));
}

/// Density of a glucose solution at 20 degC.
///   extract_by_mass   glucose, 0 to 60 % mass
///   ->                density, kg/m3 (0.06 kg/m3)
/// Throws RangeError outside. Source: CRC Handbook 102nd ed., section 5, glucose.
inline density<> glucose_density(const extract<>& extract_by_mass) {
    detail::require_fraction("extract", extract_by_mass.value(), "% mass", crc_glucose::extract_range, crc_glucose::from);
    return density<>::from_value(crc_glucose::density(extract_by_mass.value()));
}

/// Glucose of a solution from its density at 20 degC: the exact inverse of glucose_density. Throws RangeError where no such solution exists.
inline extract<> glucose_from_density(const density<>& density_at_20c) {
    const num::interval possible{icumsa_sps4::water(icumsa_sps4::reference_c), crc_glucose::density(crc_glucose::extract_range.upper)};
    require_inside("density", density_at_20c.value(), "kg/m3", possible, "glucose solutions of 0 to 60 % at 20 degC");
    return extract<>::from_value(crc_glucose::extract_from_density(density_at_20c.value()));
}

}  // namespace ferment

#pragma once
// Ethanol and water: density by the international general formula, and every way of saying how strong a spirit is.

#include <array>
#include <ferment/core/array_solve.hpp>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>

namespace ferment {

/// Ethanol-water mixtures, the international general formula.
/// Rejected alternatives and errata: DEVELOPERS.md, "Density of spirit".
struct oiml_r22 {
    static constexpr source from{
        "oiml_r22",
        "density of ethanol-water mixtures [kg/m3]",
        "OIML R 22, International alcoholometric tables, 1975; Council Directive 76/766/EEC, OJ L 262, 27.9.1976, Annex section 4",
        "0 <= abw <= 100 % mass; -20 <= t <= 40 degC, not below the freezing point of the mixture",
        "none stated in the texts read; agrees with NBS 1913 within 0.12 kg/m3 (10-40 degC)",
    };
    static constexpr num::interval abw_range{0.0, 1.0};   // mass fraction
    static constexpr num::interval t_range{-20.0, 40.0};  // degC
    static constexpr double reference_c = 20.0;

    // Verbatim, printed order. A: powers 0 to 11 of p. B: powers 1 to 6 of (t - 20). C1 ... C5: powers 1 ... of p, times (t - 20)^1 ... ^5.
    static constexpr std::array<double, 12> a{9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4,
                                              3.062874042e5, -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4};
    static constexpr std::array<double, 6> b{-2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11};
    static constexpr std::array<double, 11> c1{1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2,
                                               3.924090430035045e3,  -1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4,
                                               1.852373922069467e4,  -7.420201433430137e3, 1.285617841998974e3};
    static constexpr std::array<double, 10> c2{-1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993e0, 1.353034988843029e1,  -5.029988758547014e1,
                                               1.096355666577570e2,   -1.422753946421155e2, 1.080435942856230e2,  -4.414153236817392e1, 7.442971530188783e0};
    static constexpr std::array<double, 9> c3{-6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220e0,  -2.895696483903638e0,
                                              4.810060584300675e0,   -4.672147440794683e0, 2.458043105903461e0,   -5.411227621436812e-1};
    static constexpr std::array<double, 4> c4{4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6};
    static constexpr std::array<double, 2> c5{-2.788074354782409e-8, 1.345612883493354e-8};
    static_assert(a.size() + b.size() == 18 && c1.size() + c2.size() + c3.size() + c4.size() + c5.size() == 36);

    // Freezing limit below 0 degC: the least ethanol that is still liquid, as a cubic in t (powers 1 to 3). Least squares through the freezing
    // points of CRC Handbook 102nd ed., section 5, ethanol, to -23 degC; largest residual 0.06 % mass. tests/reference/fit_freezing.py makes it.
    static constexpr std::array<double, 3> freezing{-2.58957902e-2, -8.64162050e-4, -1.53914320e-5};

    /// The least mass fraction of ethanol that is liquid at t degC; zero from 0 degC up.
    template <class T>
    static constexpr T least_liquid_abw(const T& t) {
        const T p = t * num::horner(freezing, t);
        return num::select(t < 0.0, p, T(0.0 * t));
    }

    // The same formula about p = 1/2, one polynomial for each power of t - 20. In p itself its terms are up to 9000 times the density, about 1/2 three times.
    static constexpr double centre = 0.5;
    static constexpr std::array<double, 12> k0 = num::about_one_half(a);
    static constexpr std::array<double, 12> k1 = num::about_one_half(num::after(b[0], c1));
    static constexpr std::array<double, 11> k2 = num::about_one_half(num::after(b[1], c2));
    static constexpr std::array<double, 10> k3 = num::about_one_half(num::after(b[2], c3));
    static constexpr std::array<double, 5> k4 = num::about_one_half(num::after(b[3], c4));
    static constexpr std::array<double, 3> k5 = num::about_one_half(num::after(b[4], c5));

    static constexpr auto s0 = num::derivative(k0);
    static constexpr auto s1 = num::derivative(k1);
    static constexpr auto s2 = num::derivative(k2);
    static constexpr auto s3 = num::derivative(k3);
    static constexpr auto s4 = num::derivative(k4);
    static constexpr auto s5 = num::derivative(k5);

    /// Density without any range check, kg/m3.
    template <class T>
    static constexpr T raw_density(const T& p, const T& t) {
        const T d = t - reference_c;
        const T q = p - centre;
        return num::horner(k0, q) +
               d * (num::horner(k1, q) + d * (num::horner(k2, q) + d * (num::horner(k3, q) + d * (num::horner(k4, q) + d * (num::horner(k5, q) + d * b[5])))));
    }

    /// Slope of the density in p, kg/m3 per unit of mass fraction; unchecked, for solvers.
    template <class T>
    static constexpr T density_slope(const T& p, const T& t) {
        const T d = t - reference_c;
        const T q = p - centre;
        return num::horner(s0, q) +
               d * (num::horner(s1, q) + d * (num::horner(s2, q) + d * (num::horner(s3, q) + d * (num::horner(s4, q) + d * num::horner(s5, q)))));
    }

    /// Whether the formula holds for this mixture at this temperature.
    template <class T>
    static constexpr auto valid(const T& p, const T& t) {
        return num::mask<T>(num::inside(p, abw_range) && num::inside(t, t_range) && p >= least_liquid_abw(t));
    }

    /// Density of an ethanol-water mixture, kg/m3.
    ///   p    ethanol as a mass fraction    0 <= p <= 1
    ///   t    temperature, degC             -20 <= t <= 40, not below freezing
    ///   ->   kg/m3; NaN outside the range or for NaN
    template <class T>
    static constexpr T density(const T& p, const T& t) {
        return num::keep_if(valid(p, t), raw_density(p, t));
    }

    /// The mixture that has this density: the exact inverse of density(p, t).
    ///   rho  density, kg/m3; t  temperature, degC, -20 <= t <= 40
    ///   ->   mass fraction of ethanol, 0 to 1; NaN where no such mixture exists
    template <class T>
    static T abw_from_density(const T& rho, const T& t) {
        const auto f = [&](const T& p) { return num::value_and_slope<T>{raw_density(p, t) - rho, density_slope(p, t)}; };
        const T lightest = raw_density(T(abw_range.upper), t);
        const T heaviest = raw_density(least_liquid_abw(t), t);
        const T p = num::bracketed_newton<T>(f, least_liquid_abw(t), T(abw_range.upper), T((heaviest - rho) / (heaviest - lightest)));
        return num::keep_if(num::inside(t, t_range), p);
    }

    /// abw_from_density for arrays, see num::solve_array: the formula gathered at each temperature into a polynomial in p - 1/2.
    struct by_density {
        static constexpr std::size_t inputs = 2;  // density, temperature
        static constexpr std::size_t terms = 12;
        static constexpr double round_off = 1e-12;  // kg/m3
        // A first guess from (1000 - density)/210, read off the formula at 20 degC; it only saves steps.
        static constexpr double water = 1000.0, fall = 210.0;
        static constexpr std::array<double, 4> guess{-0.014, 1.696, -1.231, 0.565};

        static num::bracket_and_guess set_up(const std::array<double, inputs>& in, std::array<double, terms>& sum) {
            const double d = in[1] - reference_c;
            const double d2 = d * d, d3 = d2 * d, d4 = d3 * d, d5 = d4 * d;
            for (std::size_t k = 0; k < terms; ++k) sum[k] = k0[k] + k1[k] * d;
            for (std::size_t k = 0; k < k2.size(); ++k) sum[k] += k2[k] * d2;
            for (std::size_t k = 0; k < k3.size(); ++k) sum[k] += k3[k] * d3;
            for (std::size_t k = 0; k < k4.size(); ++k) sum[k] += k4[k] * d4;
            for (std::size_t k = 0; k < k5.size(); ++k) sum[k] += k5[k] * d5;
            sum[0] += b[5] * (d5 * d) - in[0];
            return {least_liquid_abw(in[1]) - centre, abw_range.upper - centre, num::horner(guess, (water - in[0]) / fall) - centre};
        }
        static double result(const double root, const std::array<double, inputs>& in) { return num::keep_if(num::inside(in[1], t_range), root + centre); }
    };

    /// The formula at one fixed temperature, gathered into a single polynomial in p - 1/2 (powers 0 to 11).
    static constexpr std::array<double, 12> at_temperature(const double t) {
        const double d = t - reference_c;
        std::array<double, 12> sum = k0;
        double power = 1.0;
        const auto add = [&](const auto& k) {
            power *= d;
            for (std::size_t i = 0; i < k.size(); ++i) sum[i] += k[i] * power;
        };
        add(k1);
        add(k2);
        add(k3);
        add(k4);
        add(k5);
        sum[0] += b[5] * power * d;
        return sum;
    }
};

/// Strength by volume: litres of ethanol in a litre of spirit, both at the reference temperature of the definition.
///   Reference::t    20 degC (% vol of OIML and the EU) or 60 degF (US proof)
template <class Reference>
struct strength_by_volume {
    static constexpr std::array<double, 12> density_at_reference = oiml_r22::at_temperature(Reference::t);
    static constexpr auto slope_at_reference = num::derivative(density_at_reference);
    static constexpr double ethanol_density = num::horner(density_at_reference, 1.0 - oiml_r22::centre);

    /// Density at the reference temperature, kg/m3; p a mass fraction, unchecked.
    template <class T>
    static constexpr T density(const T& p) {
        return num::horner(density_at_reference, T(p - oiml_r22::centre));
    }
    /// Its slope in p, kg/m3; unchecked, for solvers.
    template <class T>
    static constexpr T density_slope(const T& p) {
        return num::horner(slope_at_reference, T(p - oiml_r22::centre));
    }

    /// Volume fraction from mass fraction, 0 to 1; NaN outside.
    template <class T>
    static constexpr T from_abw(const T& p) {
        const T q = p * density(p) / ethanol_density;  // divided, so that pure ethanol is exactly one
        return num::keep_if(num::inside(p, oiml_r22::abw_range), q);
    }

    /// to_abw for arrays, see num::solve_array.
    struct by_volume {
        static constexpr std::size_t inputs = 1;  // volume fraction
        static constexpr std::size_t terms = 13;
        static constexpr double round_off = 1e-12;  // kg/m3
        /// p density(p) as a polynomial in p - 1/2.
        static constexpr std::array<double, terms> ethanol_per_volume = [] {
            std::array<double, terms> product{};
            for (std::size_t k = 0; k + 1 < terms; ++k) {
                product[k] += oiml_r22::centre * density_at_reference[k];
                product[k + 1] += density_at_reference[k];
            }
            return product;
        }();

        static num::bracket_and_guess set_up(const std::array<double, inputs>& in, std::array<double, terms>& c) {
            c = ethanol_per_volume;
            c[0] -= in[0] * ethanol_density;
            return {oiml_r22::abw_range.lower - oiml_r22::centre, oiml_r22::abw_range.upper - oiml_r22::centre, first_guess(in[0]) - oiml_r22::centre};
        }
        static double result(const double root, const std::array<double, inputs>& in) {
            return num::keep_if(num::inside(in[0], oiml_r22::abw_range), root + oiml_r22::centre);
        }
    };

    /// As if volumes were added: only a start.
    template <class T>
    static constexpr T first_guess(const T& q) {
        return q * (ethanol_density / (1000.0 - (1000.0 - ethanol_density) * q));
    }

    /// Mass fraction from volume fraction, 0 to 1; NaN outside. The exact inverse of from_abw.
    template <class T>
    static T to_abw(const T& q) {
        const auto f = [&](const T& p) {
            const T rho = density(p);
            return num::value_and_slope<T>{p * rho - q * ethanol_density, rho + p * density_slope(p)};
        };
        const T p = num::bracketed_newton<T>(f, T(0.0), T(1.0), first_guess(q));
        return num::keep_if(num::inside(q, oiml_r22::abw_range), p);
    }
};

struct reference_20c {
    static constexpr double t = 20.0;
};
struct reference_60f {
    static constexpr double t = sixty_fahrenheit_c;
};
using volume_at_20c = strength_by_volume<reference_20c>;
using volume_at_60f = strength_by_volume<reference_60f>;

inline constexpr double us_proof_of_pure_ethanol = 200.0;  // 27 CFR 5.1: proof is twice the % vol at 60 degF

inline constexpr source us_proof_definition{
    "us_proof",
    "US proof: twice the percentage of ethanol by volume at 60 degF",
    "27 CFR 30.11 and 30.61-30.66 (US Gauging Manual)",
    "0 <= proof <= 200",
    "exact definition; with oiml_r22 the printed gauging tables are met to 0.1 proof and 0.01 parts of water",
};

namespace detail {

inline void require_spirit(const double p, const double t) {
    require_fraction("abw", p, "% mass", oiml_r22::abw_range, oiml_r22::from);
    require_inside("temperature", t, "degC", oiml_r22::t_range, oiml_r22::from);
    const double least = oiml_r22::least_liquid_abw(t);
    if (p < least) {
        throw_range_error("abw", percent * p, "% mass", {percent * least, percent},
                          "at " + format_quantity(t, "degC") + " a weaker spirit is frozen: CRC Handbook 102nd ed., section 5, ethanol");
    }
}

}  // namespace detail

/// Density of a spirit (ethanol and water).
///   strength      ethanol, 0 to 100 % mass
///   temperature   -20 to 40 degC, not below the freezing point of the mixture
///   ->            density, kg/m3
/// Throws RangeError outside. Source: OIML R 22 (1975), general formula.
inline density<> spirit_density(const abw<>& strength, const celsius<>& temperature) {
    detail::require_spirit(strength.value(), temperature.value());
    return density<>::from_value(oiml_r22::density(strength.value(), temperature.value()));
}

/// Ethanol by mass from the density at a temperature: the exact inverse of spirit_density.
///   density_at    kg/m3, from that of pure ethanol to that of water at the temperature
///   temperature   -20 to 40 degC
///   ->            ethanol, 0 to 100 % mass
/// Throws RangeError where no such mixture exists. Source: OIML R 22 (1975).
inline abw<> abw_from_density(const density<>& density_at, const celsius<>& temperature) {
    const double t = temperature.value();
    detail::require_spirit(1.0, t);
    const num::interval possible{oiml_r22::raw_density(1.0, t), oiml_r22::raw_density(oiml_r22::least_liquid_abw(t), t)};
    require_inside("density", density_at.value(), "kg/m3", possible, "ethanol-water mixtures at this temperature, OIML R 22");
    return abw<>::from_value(oiml_r22::abw_from_density(density_at.value(), t));
}

/// % vol at 20 degC from % mass, 0 to 100. Throws RangeError outside. Source: definition of OIML R 22, q = p rho(p, 20)/rho(1, 20).
inline abv<> abv_from_abw(const abw<>& strength) {
    detail::require_fraction("abw", strength.value(), "% mass", oiml_r22::abw_range, oiml_r22::from);
    return abv<>::from_value(volume_at_20c::from_abw(strength.value()));
}

/// % mass from % vol at 20 degC: the exact inverse of abv_from_abw.
inline abw<> abw_from_abv(const abv<>& strength) {
    detail::require_fraction("abv", strength.value(), "% vol", oiml_r22::abw_range, oiml_r22::from);
    return abw<>::from_value(volume_at_20c::to_abw(strength.value()));
}

/// % vol at 20 degC from the density at any temperature. Ranges and errors as abw_from_density.
inline abv<> abv_from_density(const density<>& density_at, const celsius<>& temperature) {
    return abv_from_abw(abw_from_density(density_at, temperature));
}

/// US proof (60 degF) from % mass, 0 to 100. Throws RangeError outside. Source: 27 CFR 30.11 with OIML R 22 densities.
inline us_proof<> us_proof_from_abw(const abw<>& strength) {
    detail::require_fraction("abw", strength.value(), "% mass", oiml_r22::abw_range, us_proof_definition);
    return us_proof<>::from_value(us_proof_of_pure_ethanol * volume_at_60f::from_abw(strength.value()));
}

/// % mass from US proof, 0 to 200: the exact inverse of us_proof_from_abw.
inline abw<> abw_from_us_proof(const us_proof<>& strength) {
    require_inside("us_proof", strength.value(), "proof", {0.0, us_proof_of_pure_ethanol}, us_proof_definition);
    return abw<>::from_value(volume_at_60f::to_abw(strength.value() / us_proof_of_pure_ethanol));
}

/// US proof (60 degF) from % vol at 20 degC: two definitions, a little apart (50 % vol is 99.88 proof).
inline us_proof<> us_proof_from_abv(const abv<>& strength) {
    return us_proof_from_abw(abw_from_abv(strength));
}

/// % vol at 20 degC from US proof (60 degF).
inline abv<> abv_from_us_proof(const us_proof<>& strength) {
    return abv_from_abw(abw_from_us_proof(strength));
}

/// Density of a spirit given in % vol, at any temperature. Ranges and errors as spirit_density.
inline density<> spirit_density(const abv<>& strength, const celsius<>& temperature) {
    return spirit_density(abw_from_abv(strength), temperature);
}

}  // namespace ferment

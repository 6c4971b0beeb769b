#pragma once
// Ethanol and water: density by the international general formula, and every way of saying how strong a spirit is.

#include <array>
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

    /// Density without any range check, kg/m3.
    template <class T>
    static constexpr T raw_density(const T& p, const T& t) {
        const T d = t - reference_c;
        const T k1 = b[0] + p * num::horner(c1, p);
        const T k2 = b[1] + p * num::horner(c2, p);
        const T k3 = b[2] + p * num::horner(c3, p);
        const T k4 = b[3] + p * num::horner(c4, p);
        const T k5 = b[4] + p * num::horner(c5, p);
        return num::horner(a, p) + d * (k1 + d * (k2 + d * (k3 + d * (k4 + d * (k5 + d * b[5])))));
    }

    /// Slope of the density in p, kg/m3 per unit of mass fraction; unchecked, for solvers.
    template <class T>
    static constexpr T density_slope(const T& p, const T& t) {
        const T d = t - reference_c;
        const T k1 = num::horner(c1, p) + p * num::horner(num::derivative(c1), p);
        const T k2 = num::horner(c2, p) + p * num::horner(num::derivative(c2), p);
        const T k3 = num::horner(c3, p) + p * num::horner(num::derivative(c3), p);
        const T k4 = num::horner(c4, p) + p * num::horner(num::derivative(c4), p);
        const T k5 = num::horner(c5, p) + p * c5[1];
        return num::horner(num::derivative(a), p) + d * (k1 + d * (k2 + d * (k3 + d * (k4 + d * k5))));
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

    /// The formula at one fixed temperature, gathered into a single polynomial in p (powers 0 to 11).
    static constexpr std::array<double, 12> at_temperature(const double t) {
        const double d = t - reference_c;
        std::array<double, 12> sum = a;
        double power = d;
        for (const double bk : b) {
            sum[0] += bk * power;
            power *= d;
        }
        const auto add = [&sum](const auto& c, const double scale) {
            for (std::size_t k = 0; k < c.size(); ++k) {
                sum[k + 1] += c[k] * scale;
            }
        };
        add(c1, d);
        add(c2, d * d);
        add(c3, d * d * d);
        add(c4, d * d * d * d);
        add(c5, d * d * d * d * d);
        return sum;
    }
};

/// Strength by volume: litres of ethanol in a litre of spirit, both at the reference temperature of the definition.
///   Reference::t    20 degC (% vol of OIML and the EU) or 60 degF (US proof)
template <class Reference>
struct strength_by_volume {
    static constexpr std::array<double, 12> density_at_reference = oiml_r22::at_temperature(Reference::t);
    static constexpr double ethanol_density = num::horner(density_at_reference, 1.0);

    /// Density at the reference temperature, kg/m3; p a mass fraction, unchecked.
    template <class T>
    static constexpr T density(const T& p) {
        return num::horner(density_at_reference, p);
    }

    /// Volume fraction from mass fraction, 0 to 1; NaN outside.
    template <class T>
    static constexpr T from_abw(const T& p) {
        const T q = p * num::horner(density_at_reference, p) / ethanol_density;  // divided, so that pure ethanol is exactly one
        return num::keep_if(num::inside(p, oiml_r22::abw_range), q);
    }

    /// Mass fraction from volume fraction, 0 to 1; NaN outside. The exact inverse of from_abw.
    template <class T>
    static T to_abw(const T& q) {
        const auto f = [&](const T& p) {
            const T rho = num::horner(density_at_reference, p);
            const T slope = rho + p * num::horner(num::derivative(density_at_reference), p);
            return num::value_and_slope<T>{p * rho - q * ethanol_density, slope};
        };
        const T start = q * (ethanol_density / (1000.0 - (1000.0 - ethanol_density) * q));
        const T p = num::bracketed_newton<T>(f, T(0.0), T(1.0), start);
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

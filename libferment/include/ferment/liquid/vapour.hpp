#pragma once
// What boils off: boiling temperature and vapour of water, spirit and wash at the pressure of the day.

#include <algorithm>
#include <array>
#include <boost/units/systems/si/length.hpp>
#include <boost/units/systems/si/pressure.hpp>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/liquid/wash.hpp>
#include <limits>
#include <type_traits>

namespace ferment {

struct mole_fraction_dimension : bu::base_dimension<mole_fraction_dimension, 9105> {};
struct mole_fraction_unit : bu::base_unit<mole_fraction_unit, mole_fraction_dimension::dimension_type, 9105> {
    static std::string name() { return "ethanol mole fraction"; }
    static std::string symbol() { return "mol ethanol/mol"; }
};
template <class T = double>
using mole_fraction = bu::quantity<typename mole_fraction_unit::unit_type, T>;
template <class T = double>
using pressure = bu::quantity<bu::si::pressure, T>;  ///< Pa, absolute
template <class T = double>
using length = bu::quantity<bu::si::length, T>;  ///< m

inline const mole_fraction<> percent_mole = mole_fraction<>::from_value(0.01);
inline const pressure<> kilopascal = pressure<>::from_value(1e3);
inline const length<> metre = length<>::from_value(1.0);

inline constexpr double zero_celsius_kelvin = 273.15;

// ---- vapour pressures of the pure liquids ----

inline constexpr source dippr101_source{
    "dippr101",
    "vapour pressure of ethanol and of water [Pa]",
    "Perry's Chemical Engineers' Handbook, 8th ed. 2008, table 2-8: ln p = C1 + C2/T + C3 ln T + C4 T^C5, T in K",
    "ethanol -114.1 to 240.85 degC, water 0.01 to 373.946 degC",
    "0.1 K in the boiling point; at 101.325 kPa water boils at 100.02 degC (ITS-90: 99.974), ethanol at 78.31 degC (CRC: 78.29)",
    source_status::secondary,
};

/// ln of a vapour pressure in Pa. Constants are C1 to C4; the fifth, the exponent of the last term, is 2 for both liquids.
template <class Liquid>
struct dippr101 {
    static constexpr num::interval t_range = Liquid::t_range;

    /// ln(p/Pa) and its slope per K; T in K, unchecked.
    template <class T>
    static num::value_and_slope<T> ln_pressure(const T& kelvin) {
        using std::log;
        const T inverse = 1.0 / kelvin;
        const T value = Liquid::c[0] + Liquid::c[1] * inverse + Liquid::c[2] * log(kelvin) + Liquid::c[3] * kelvin * kelvin;
        const T slope = inverse * (Liquid::c[2] - Liquid::c[1] * inverse) + 2.0 * Liquid::c[3] * kelvin;
        return {value, slope};
    }

    /// Vapour pressure, Pa.
    ///   t    temperature, degC; the range is that of the liquid
    ///   ->   Pa; NaN outside the range or for NaN
    template <class T>
    static T vapour_pressure(const T& t) {
        using std::exp;
        return num::keep_if(num::inside(t, t_range), T(exp(ln_pressure(T(t + zero_celsius_kelvin)).value)));
    }
};
struct dippr101_ethanol_constants {
    static constexpr std::array<double, 4> c{73.304, -7122.3, -7.1424, 2.8853e-6};
    static constexpr num::interval t_range{-114.1, 240.85};  // 159.05 to 514 K
};
struct dippr101_water_constants {
    static constexpr std::array<double, 4> c{73.649, -7258.2, -7.3037, 4.1653e-6};
    static constexpr num::interval t_range{0.01, 373.946};  // 273.16 to 647.096 K
};
using dippr101_ethanol = dippr101<dippr101_ethanol_constants>;
using dippr101_water = dippr101<dippr101_water_constants>;

// ---- activity coefficients ----

namespace vle {

/// A quantity with its slopes in the mole fraction of component 1 and in temperature (per K).
template <class T>
struct term {
    T value;
    T by_z;
    T by_t;
};

/// ln of the activity coefficients of components 1 and 2.
template <class T>
struct activities {
    term<T> one;
    term<T> two;
};

/// Scalars that carry more than values: solved on plain values, then one Newton step.
template <class T>
inline constexpr bool carries_more = !std::is_arithmetic_v<T> && !num::is_lanes<T>;

/// A residual no larger than what round-off makes of it counts as none, so that a search ends there and does not halve noise.
template <class T>
T settled(const T& residual, const double round_off) {
    if constexpr (carries_more<T>) {
        return residual;
    } else {
        return num::select(num::mask<T>(residual <= round_off && residual >= -round_off), T(0.0 * residual), residual);
    }
}

// What round-off makes of them; the terms of ln p are up to 75.
inline constexpr double round_off_ln_pressure = 3e-14;
inline constexpr double round_off_kelvin = 2e-12;  // of a boiling point
inline constexpr double round_off_fraction = 1e-13;

/// The root of a monotonic f from a guess that is near it, by Newton's steps alone: a few evaluations where a search between brackets takes ten.
///   f            callable double -> value_and_slope<double>
///   lower, upper the root is not looked for outside
///   start        guess
///   close        once a step is no longer than this, the error of the next, its square, is round-off
///   ->           the root; NaN where the steps leave the range or do not halve: then it has to be searched
template <class F>
double near_root(const F& f, const double lower, const double upper, const double start, const double close) {
    constexpr int most = 12;
    constexpr double shrinking = 0.5;
    double x = start;
    double last = upper - lower;
    for (int i = 0; i < most; ++i) {
        const num::value_and_slope<double> here = f(x);
        if (here.value == 0.0) return x;
        const double step = here.value / here.slope;
        const double next = x - step;
        if (!(next >= lower && next <= upper && std::abs(step) <= shrinking * last)) break;
        x = next;
        last = std::abs(step);
        if (last <= close) return x;
    }
    return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace vle

/// The two-liquid equation of Renon and Prausnitz for a binary mixture.
struct nrtl {
    /// ln of both activity coefficients, with slopes; exact in the slopes, so that they fulfil the Gibbs-Duhem equation to round-off.
    ///   z              mole fraction of component 1
    ///   tau12, tau21   interaction energies over RT, with their slopes per K
    ///   alpha          non-randomness
    template <class T>
    static vle::activities<T> ln_gamma(const T& z, const num::value_and_slope<T>& tau12, const num::value_and_slope<T>& tau21, const double alpha) {
        using std::exp;
        const T rest = 1.0 - z;
        const T g12 = exp(T(-alpha * tau12.value));
        const T g21 = exp(T(-alpha * tau21.value));
        const vle::term<T> one = of(z, rest, tau21, g21, tau12, g12, alpha);
        const vle::term<T> two = of(rest, z, tau12, g12, tau21, g21, alpha);
        return {one, {two.value, -two.by_z, two.by_t}};
    }

private:
    // ln gamma of the component whose mole fraction is s, beside r of the other: r^2 (tau_in a^2 + tau_out b), a = g/(s + r g), b = g'/(r + s g')^2.
    template <class T>
    static vle::term<T> of(const T& s, const T& r, const num::value_and_slope<T>& in, const T& g_in, const num::value_and_slope<T>& out, const T& g_out,
                           const double alpha) {
        const T d = 1.0 / (s + r * g_in);
        const T e = 1.0 / (r + s * g_out);
        const T a = g_in * d;
        const T b = g_out * e * e;
        const T sum = in.value * a * a + out.value * b;
        const T a_by_s = a * d * (g_in - 1.0);
        const T b_by_s = 2.0 * b * e * (1.0 - g_out);
        const T a_by_t = -alpha * in.slope * g_in * s * d * d;
        const T b_by_t = -alpha * out.slope * g_out * (r - s * g_out) * e * e * e;
        return {r * r * sum, r * (r * (2.0 * in.value * a * a_by_s + out.value * b_by_s) - 2.0 * sum),
                r * r * (in.slope * a * a + 2.0 * in.value * a * a_by_t + out.slope * b + out.value * b_by_t)};
    }
};

/// Ethanol (1) and water (2): interaction energies that change with temperature, which is what carries the azeotrope to other pressures.
/// Rejected: parameter sets with constant energies, fitted at one atmosphere. They miss the total pressure at 30 degC by 14 to 18 %, and most of
/// them do not move the azeotrope with pressure, or move it the wrong way.
struct nrtl_ethanol_water {
    static constexpr double a12 = -0.801, b12 = 246.2;  // tau12 = a12 + b12/T, T in K; verbatim
    static constexpr double a21 = 3.458, b21 = -586.1;  // tau21 = a21 + b21/T
    static constexpr double alpha = 0.3;

    /// ln of both activity coefficients with their slopes; z mole fraction of ethanol, T in K; unchecked.
    template <class T>
    static vle::activities<T> ln_gamma(const T& z, const T& kelvin) {
        const T inverse = 1.0 / kelvin;
        return nrtl::ln_gamma<T>(z, {a12 + b12 * inverse, -b12 * inverse * inverse}, {a21 + b21 * inverse, -b21 * inverse * inverse}, alpha);
    }
};

// ---- liquid and vapour in equilibrium ----

/// Boiling of a binary mixture under an ideal vapour: p = z gamma1 p1(T) + (1 - z) gamma2 p2(T). All temperatures in K, compositions as mole
/// fractions of component 1, pressures in Pa; unchecked.
///   Activity   ln_gamma(z, T) -> vle::activities
///   One, Two   ln_pressure(T) -> value and slope
template <class Activity, class One, class Two>
struct modified_raoult {
    static constexpr num::interval kelvin_range{280.0, 430.0};  // where boiling points are looked for

    template <class T>
    struct state {
        vle::term<T> ln_one;       ///< ln of gamma1 p1 in Pa: partial pressure over mole fraction
        vle::term<T> ln_two;       ///< ln of gamma2 p2
        vle::term<T> ln_pressure;  ///< ln of the total pressure
        T vapour;                  ///< mole fraction of component 1 in the vapour

        /// How the boiling temperature moves with composition at constant pressure, K per mole fraction.
        [[nodiscard]] T kelvin_by_z() const { return T(-ln_pressure.by_z / ln_pressure.by_t); }
        [[nodiscard]] T relative_volatility() const {
            using std::exp;
            return exp(T(ln_one.value - ln_two.value));
        }
        /// Vapour over liquid, mole fractions; also where the liquid holds none of the component.
        [[nodiscard]] T k_one() const {
            using std::exp;
            return exp(T(ln_one.value - ln_pressure.value));
        }
        [[nodiscard]] T k_two() const {
            using std::exp;
            return exp(T(ln_two.value - ln_pressure.value));
        }
    };

    /// Liquid and vapour at a composition and temperature.
    template <class T>
    static state<T> at(const T& z, const T& kelvin) {
        using std::exp;
        using std::log;
        const vle::activities<T> gamma = Activity::template ln_gamma<T>(z, kelvin);
        const num::value_and_slope<T> p1 = One::template ln_pressure<T>(kelvin);
        const num::value_and_slope<T> p2 = Two::template ln_pressure<T>(kelvin);
        const vle::term<T> one{p1.value + gamma.one.value, gamma.one.by_z, p1.slope + gamma.one.by_t};
        const vle::term<T> two{p2.value + gamma.two.value, gamma.two.by_z, p2.slope + gamma.two.by_t};
        const T escaping_one = exp(one.value);
        const T escaping_two = exp(two.value);
        const T partial_one = z * escaping_one;
        const T partial_two = (1.0 - z) * escaping_two;
        const T total = partial_one + partial_two;
        const T y = partial_one / total;
        return {one, two, {log(total), (escaping_one - escaping_two) / total + y * one.by_z + (1.0 - y) * two.by_z, y * one.by_t + (1.0 - y) * two.by_t}, y};
    }

    /// The boiling temperature, K, of a mixture at a pressure. Solved in 1/T, in which ln p is nearly straight.
    template <class T>
    static T boiling(const T& z, const T& p) {
        using std::log;
        if constexpr (vle::carries_more<T>) {
            using num::value_of;
            const double root = boiling<double>(value_of(z), value_of(p));
            const state<T> here = at(z, T(root));
            return T(root - (here.ln_pressure.value - log(p)) / here.ln_pressure.by_t);
        } else {
            const T target = log(p);
            const auto excess = [&](const T& inverse) {
                const T kelvin = 1.0 / inverse;
                const state<T> here = at(z, kelvin);
                return num::value_and_slope<T>{vle::settled(T(here.ln_pressure.value - target), vle::round_off_ln_pressure),
                                               -kelvin * kelvin * here.ln_pressure.by_t};
            };
            constexpr double coldest = 1.0 / kelvin_range.lower;
            constexpr double hottest = 1.0 / kelvin_range.upper;
            const T any = 0.0 * z;
            return 1.0 / num::bracketed_newton<T>(excess, T(any + hottest), T(any + coldest), T(any + 0.5 * (hottest + coldest)));
        }
    }

    /// A boiling temperature, K, and the state there.
    struct boiled {
        double kelvin;
        state<double> here;
    };

    /// The same as boiling and at, for plain numbers, from a guess near it. Where it is too far away or no number, the root is searched.
    static boiled boiling_near(const double z, const double p, const double guess) {
        const double target = std::log(p);
        state<double> here{};
        double at_kelvin = guess;
        const auto excess = [&](const double inverse) {
            at_kelvin = 1.0 / inverse;
            here = at(z, at_kelvin);
            return num::value_and_slope<double>{vle::settled(here.ln_pressure.value - target, vle::round_off_ln_pressure),
                                                -at_kelvin * at_kelvin * here.ln_pressure.by_t};
        };
        constexpr double coldest = 1.0 / kelvin_range.lower;
        constexpr double hottest = 1.0 / kelvin_range.upper;
        constexpr double close = 1e-8 * hottest;  // in 1/T, in which ln p is nearly straight
        const double kelvin = 1.0 / vle::near_root(excess, hottest, coldest, 1.0 / guess, close);
        if (std::isnan(kelvin)) {
            const double searched = boiling(z, p);
            return {searched, at(z, searched)};
        }
        // The last step is so short that the slopes carry the state over it.
        const double warmer = kelvin - at_kelvin;
        here.vapour += here.vapour * (1.0 - here.vapour) * (here.ln_one.by_t - here.ln_two.by_t) * warmer;
        here.ln_one.value += here.ln_one.by_t * warmer;
        here.ln_two.value += here.ln_two.by_t * warmer;
        here.ln_pressure.value += here.ln_pressure.by_t * warmer;
        return {kelvin, here};
    }

    /// The liquid, mole fraction, whose vapour at a pressure is y. The vapour gains with the liquid from pure to pure, through the azeotrope:
    /// there is always exactly one.
    template <class T>
    static T liquid_of(const T& y, const T& p) {
        const auto excess = [&](const T& z) {
            const state<T> here = at(z, boiling(z, p));
            return num::value_and_slope<T>{vle::settled(T(here.vapour - y), vle::round_off_fraction),
                                           here.k_one() * (1.0 + z * (here.ln_one.by_z + here.ln_one.by_t * here.kelvin_by_z()))};
        };
        if constexpr (vle::carries_more<T>) {
            using num::value_of;
            const double root = liquid_of<double>(value_of(y), value_of(p));
            const num::value_and_slope<T> here = excess(T(root));
            return T(root - here.value / here.slope);
        } else {
            const T none = 0.0 * y;
            return num::bracketed_newton<T>(excess, none, T(none + 1.0), y);
        }
    }
};

/// Ethanol, water and extract at their boiling point. Extract is counted as an ideal solute that does not boil: it takes its share of the
/// molecules, and water and ethanol boil as they would at the pressure p/(1 - share). So it raises the boiling point (0.09 K for 3 %) and leaves
/// the vapour of a given boiling temperature as it is; that sugars drive out ethanol a little (salting out) is left out.
struct wash_vapour {
    static constexpr source from{
        "wash_vapour",
        "boiling point and vapour of water + ethanol + extract at 20 to 110 kPa",
        "modified Raoult's law, ideal vapour; vapour pressures by DIPPR 101; NRTL with tau = a + b/T, alpha 0.3, of a process-simulation databank as kept in "
        "the open data of Clapeyron.jl (NRTL_unlike.csv)",
        "0 <= abw <= 100 % mass; 20 <= p <= 110 kPa; 0 <= extract <= 30 % mass",
        "vapour 0.013 mol/mol and 0.41 K against Perry table 13-1 (0.83 K in one row that stands out), 0.012 and 0.33 K against Kamihama 2012; "
        "0.26 K against a secondary table up to 12 % mass; the ideal vapour is worth 1 % in K (real-gas factors 0.9955 and 1.0068 at 70 degC, Gmehling et al.)",
        source_status::secondary,
    };
    /// What a molecule of extract weighs. A wash that fermented dry holds glycerol (92), minerals and acids (less), sugars (180), dextrins and
    /// proteins (500 to thousands); one that did not holds glucose and maltose. Glucose stands for them all, wrong by up to a factor of two: 0.1 K
    /// for 3 % extract.
    static constexpr source extract_from{
        "extract_molar_mass",
        "mean molar mass of the extract of a wash [g/mol]",
        "glucose, from atomic weights; that it stands for the mixture is an assumption",
        "60 to 2000 g/mol; a wash has 90 to 400",
        "a factor of two",
        source_status::common_practice,
    };
    static constexpr num::interval pressure_range{20e3, 110e3};  // Pa
    static constexpr num::interval extract_range = num::from_percent(0.0, 30.0);
    static constexpr num::interval molar_mass_range{60.0, 2000.0};  // g/mol
    static constexpr double extract_molar_mass = stoichiometry::glucose;
    static constexpr double ethanol = stoichiometry::ethanol;  // g/mol
    static constexpr double water = stoichiometry::water;

    using binary = modified_raoult<nrtl_ethanol_water, dippr101_ethanol, dippr101_water>;

    template <class T>
    static constexpr T raw_mole_fraction(const T& w) {
        return w * water / (w * water + (1.0 - w) * ethanol);
    }
    template <class T>
    static constexpr T raw_mass_fraction(const T& z) {
        return z * ethanol / (z * ethanol + (1.0 - z) * water);
    }

    /// Mole fraction of ethanol from its mass fraction, 0 to 1, in ethanol and water alone; NaN outside.
    template <class T>
    static constexpr T mole_fraction(const T& w) {
        return num::keep_if(num::inside(w, oiml_r22::abw_range), raw_mole_fraction(w));
    }

    /// Mass fraction of ethanol from its mole fraction: the exact inverse.
    template <class T>
    static constexpr T mass_fraction(const T& z) {
        return num::keep_if(num::inside(z, oiml_r22::abw_range), raw_mass_fraction(z));
    }

    /// Moles of extract per gram of ethanol and water, mol/g.
    template <class T>
    static constexpr T solutes(const T& x, const T& molar_mass) {
        return x / ((1.0 - x) * molar_mass);
    }

    /// What extract raises the pressure by: molecules of the whole liquid per molecule of ethanol and water.
    ///   z   mole fraction of ethanol in ethanol and water alone
    ///   r   see solutes
    template <class T>
    static constexpr T raise(const T& z, const T& r) {
        return 1.0 + r * (water + (ethanol - water) * z);
    }

    /// Boiling temperature, degC, by the same; unchecked.
    template <class T>
    static T boiling_c(const T& z, const T& p, const T& r) {
        return binary::boiling(z, T(p * raise(z, r))) - zero_celsius_kelvin;
    }

    /// The mixture that boils lowest at a pressure, as z: the azeotrope, or a little below where there is extract; unchecked.
    template <class T>
    static T lowest_boiling(const T& p, const T& r) {
        const auto fall = [&](const T& z) {  // of the boiling point with z, as slope of ln p
            const T at_p = p * raise(z, r);
            return T(binary::at(z, binary::boiling(z, at_p)).ln_pressure.by_z - r * (ethanol - water) / raise(z, r));
        };
        const auto both = [&](const T& z) {
            const num::value_and_slope<T> here = wash::with_slope(fall, z);
            return num::value_and_slope<T>{vle::settled(here.value, vle::round_off_fraction), here.slope};
        };
        constexpr num::interval bracket{0.3, 1.0};
        constexpr double usual = 0.9;
        if constexpr (vle::carries_more<T>) {
            using num::value_of;
            const double root = lowest_boiling<double>(value_of(p), value_of(r));
            const num::value_and_slope<T> here = both(T(root));
            return T(root - here.value / here.slope);
        } else {
            const T none = 0.0 * (p + r);
            return num::bracketed_newton<T>(both, T(none + bracket.lower), T(none + bracket.upper), T(none + usual));
        }
    }

    template <class T>
    static auto valid(const T& e, const T& x, const T& p, const T& molar_mass) {
        return num::mask<T>(wash::valid(e, x, T(0.0 * e + oiml_r22::reference_c)) && num::inside(x, extract_range) && num::inside(p, pressure_range) &&
                            num::inside(molar_mass, molar_mass_range));
    }

    /// A boiling wash.
    template <class T>
    struct bubble {
        T boiling_c;            ///< degC
        T vapour;               ///< ethanol in the vapour, mass fraction
        T relative_volatility;  ///< of ethanol to water, by moles; one at the azeotrope
        T k_ethanol;            ///< mole fraction in the vapour over that in the liquid, extract counted
        T k_water;
    };

    template <class T>
    static bubble<T> as_bubble(const T& kelvin, const binary::state<T>& here, const T& raised) {
        return {kelvin - zero_celsius_kelvin, raw_mass_fraction(here.vapour), here.relative_volatility(), raised * here.k_one(), raised * here.k_two()};
    }

    /// Boiling point and vapour of a wash.
    ///   e            ethanol, mass fraction of the wash    0 <= e <= 1
    ///   x            extract, mass fraction of the wash    0 <= x <= 0.30, x/(1 - e) <= 0.70
    ///   p            pressure, Pa                          20e3 <= p <= 110e3
    ///   molar_mass   of the extract, g/mol                 60 to 2000
    ///   ->           NaN outside the range or for NaN
    template <class T>
    static bubble<T> bubble_point(const T& e, const T& x, const T& p, const T& molar_mass) {
        const T z = num::keep_if(valid(e, x, p, molar_mass), raw_mole_fraction(in_solvent(e, x)));
        const T raised = raise(z, solutes(x, molar_mass));
        const T kelvin = binary::boiling(z, T(p * raised));
        return as_bubble(kelvin, binary::at(z, kelvin), raised);
    }
    template <class T>
    static bubble<T> bubble_point(const T& e, const T& x, const T& p) {
        return bubble_point(e, x, p, T(0.0 * e + extract_molar_mass));
    }
    template <class T>
    static bubble<T> bubble_point(const T& e, const T& p) {
        return bubble_point(e, T(0.0 * e), p);
    }

    /// Bubble points of a liquid that changes little from one to the next: as bubble_point, to round-off, and several times as quick, because each is looked
    /// for where the one before and its slopes lead to.
    class bubble_course {
    public:
        /// Inputs, range and result as bubble_point.
        bubble<double> at(const double e, const double x, const double p, const double molar_mass) {
            const double z = num::keep_if(valid(e, x, p, molar_mass), raw_mole_fraction(in_solvent(e, x)));
            const double raised = raise(z, solutes(x, molar_mass));
            const double raised_p = p * raised;
            const binary::state<double>& before = last_.here;
            const double gone = raised_p / p_ - 1.0 - before.ln_pressure.by_z * (z - z_);  // of ln p
            last_ = binary::boiling_near(z, raised_p, last_.kelvin + gone / before.ln_pressure.by_t);
            z_ = z;
            p_ = raised_p;
            return as_bubble(last_.kelvin, last_.here, raised);
        }

    private:
        double z_ = std::numeric_limits<double>::quiet_NaN();  // no guess at first
        double p_ = std::numeric_limits<double>::quiet_NaN();
        binary::boiled last_{};
    };

    /// The liquid that vapour is in equilibrium with, and its temperature.
    template <class T>
    struct dew {
        T boiling_c;  ///< degC
        T liquid;     ///< ethanol in the liquid, mass fraction
    };

    /// Dew point of a vapour of ethanol and water: the exact inverse of the bubble point without extract. Unique for every vapour: the richer
    /// vapour belongs to the richer liquid on both sides of the azeotrope. Below it the liquid is weaker than its vapour, above it stronger.
    ///   v    ethanol in the vapour, mass fraction    0 <= v <= 1
    ///   p    pressure, Pa                            20e3 <= p <= 110e3
    ///   ->   NaN outside the range or for NaN
    template <class T>
    static dew<T> dew_point(const T& v, const T& p) {
        const T y = num::keep_if(num::mask<T>(num::inside(v, oiml_r22::abw_range) && num::inside(p, pressure_range)), raw_mole_fraction(v));
        const T z = binary::liquid_of(y, p);
        return {binary::boiling(z, p) - zero_celsius_kelvin, raw_mass_fraction(z)};
    }

    /// The mixture whose vapour is no stronger than itself.
    template <class T>
    struct azeotrope_point {
        T boiling_c;      ///< degC, the lowest at the pressure
        T mole_fraction;  ///< of ethanol
        T abw;            ///< mass fraction of ethanol
    };

    /// The azeotrope at a pressure, Pa, 20e3 to 110e3; solved, not tabulated. NaN outside.
    template <class T>
    static azeotrope_point<T> azeotrope(const T& p) {
        const T at_p = num::keep_if(num::inside(p, pressure_range), p);
        const T z = lowest_boiling(at_p, T(0.0 * at_p));
        return {binary::boiling(z, at_p) - zero_celsius_kelvin, z, raw_mass_fraction(z)};
    }

    /// Ethanol in what would be left if the extract were taken away; unchecked.
    template <class T>
    static constexpr T in_solvent(const T& e, const T& x) {
        return e / (1.0 - x);
    }
};

// ---- pressure of the air ----

/// The standard atmosphere up to 11 km, and the weather report.
struct standard_atmosphere {
    static constexpr source from{
        "standard_atmosphere",
        "pressure of the air at an altitude [Pa]",
        "ICAO Doc 7488 and ISO 2533:1975, troposphere: p = p0 (1 - L H/T0)^(g/(R L))",
        "-5000 to 11000 m, geopotential (0.02 % less than the height on a map at 1000 m)",
        "exact definition; the weather moves the pressure by 3 % either way, 1 K in the boiling point of water",
        source_status::from_memory,
    };
    static constexpr num::interval altitude_range{-5000.0, 11000.0};  // m
    static constexpr num::interval sea_level_range{85e3, 110e3};      // Pa, beyond any weather
    static constexpr double sea_level_pressure = 101325.0;            // Pa
    static constexpr double sea_level_kelvin = 288.15;                // K
    static constexpr double lapse = 0.0065;                           // K/m
    static constexpr double gravity = 9.80665;                        // m/s2
    static constexpr double gas_constant_of_air = 287.05287;          // J/(kg K)
    static constexpr double exponent = gravity / (gas_constant_of_air * lapse);

    template <class T>
    static T raw_pressure(const T& h) {
        using std::pow;
        return sea_level_pressure * pow(T(1.0 - (lapse / sea_level_kelvin) * h), exponent);
    }
    template <class T>
    static T raw_altitude(const T& p) {
        using std::pow;
        return (sea_level_kelvin / lapse) * (1.0 - pow(T(p * (1.0 / sea_level_pressure)), 1.0 / exponent));
    }
    static num::interval pressures() { return {raw_pressure(altitude_range.upper), raw_pressure(altitude_range.lower)}; }

    /// Pressure, Pa, at an altitude, m, -5000 to 11000; NaN outside.
    template <class T>
    static T pressure(const T& h) {
        return num::keep_if(num::inside(h, altitude_range), raw_pressure(h));
    }
    /// The exact inverse of pressure; NaN outside.
    template <class T>
    static T altitude(const T& p) {
        return num::keep_if(num::inside(p, pressures()), raw_altitude(p));
    }
    /// Pressure at an altitude on a day whose pressure reduced to sea level is known: weather reports and barometers of a house are set so.
    ///   sea_level   Pa, 85e3 to 110e3; h m; the standard air column is moved until it has that pressure at sea level
    template <class T>
    static T station_pressure(const T& sea_level, const T& h) {
        const T shifted = h + raw_altitude(sea_level);
        return num::keep_if(num::mask<T>(num::inside(sea_level, sea_level_range) && num::inside(h, altitude_range) && num::inside(shifted, altitude_range)),
                            raw_pressure(shifted));
    }
};

// ---- typed doors ----

namespace detail {

inline constexpr double pascal_per_kilopascal = 1e3;

inline void require_boiling_pressure(const double p) {
    constexpr num::interval range{wash_vapour::pressure_range.lower / pascal_per_kilopascal, wash_vapour::pressure_range.upper / pascal_per_kilopascal};
    require_inside("pressure", p / pascal_per_kilopascal, "kPa", range, wash_vapour::from);
}
inline void require_extract_of_boiling(const double x, const double molar_mass) {
    require_fraction("extract", x, "% mass", wash_vapour::extract_range, wash_vapour::from);
    require_inside("molar mass of the extract", molar_mass, "g/mol", wash_vapour::molar_mass_range, wash_vapour::extract_from);
}

}  // namespace detail

/// Vapour pressure of ethanol, -114.1 to 240.85 degC. Throws RangeError outside. Source: dippr101.
inline pressure<> ethanol_vapour_pressure(const celsius<>& temperature) {
    require_inside("temperature", temperature.value(), "degC", dippr101_ethanol::t_range, dippr101_source);
    return pressure<>::from_value(dippr101_ethanol::vapour_pressure(temperature.value()));
}

/// Vapour pressure of water, 0.01 to 373.946 degC. Throws RangeError outside. Source: dippr101.
inline pressure<> water_vapour_pressure(const celsius<>& temperature) {
    require_inside("temperature", temperature.value(), "degC", dippr101_water::t_range, dippr101_source);
    return pressure<>::from_value(dippr101_water::vapour_pressure(temperature.value()));
}

/// Ethanol by moles from ethanol by mass, in ethanol and water, 0 to 100 %. Throws RangeError outside. Source: atomic weights.
inline mole_fraction<> mole_fraction_from_abw(const abw<>& strength) {
    detail::require_fraction("abw", strength.value(), "% mass", oiml_r22::abw_range, stoichiometry::from);
    return mole_fraction<>::from_value(wash_vapour::mole_fraction(strength.value()));
}

/// Ethanol by mass from ethanol by moles: the exact inverse of mole_fraction_from_abw.
inline abw<> abw_from_mole_fraction(const mole_fraction<>& ethanol) {
    detail::require_fraction("mole fraction", ethanol.value(), "% mol", oiml_r22::abw_range, stoichiometry::from);
    return abw<>::from_value(wash_vapour::mass_fraction(ethanol.value()));
}

/// A boiling liquid and the vapour over it.
struct BubblePoint {
    celsius<> temperature;
    abw<> vapour;
    double relative_volatility;  ///< of ethanol to water, by moles; one at the azeotrope
    double k_ethanol;            ///< mole fraction in the vapour over that in the liquid
    double k_water;
};

/// Boiling point and vapour of a wash.
///   strength             ethanol, % mass of the wash
///   extract_by_mass      0 to 30 % mass of the wash
///   at_pressure          20 to 110 kPa, absolute
///   extract_molar_mass   60 to 2000 g/mol; glucose unless the extract is known
///   ->                   temperature 0.4 K, vapour 0.013 by moles; all NaN for NaN
/// Throws RangeError outside. Source: wash_vapour.
inline BubblePoint bubble_point(const abw<>& strength, const extract<>& extract_by_mass, const pressure<>& at_pressure,
                                const double extract_molar_mass = wash_vapour::extract_molar_mass) {
    const double e = strength.value();
    const double x = extract_by_mass.value();
    detail::require_extract_of_boiling(x, extract_molar_mass);
    detail::require_wash(e, x, oiml_r22::reference_c);
    detail::require_boiling_pressure(at_pressure.value());
    const auto found = wash_vapour::bubble_point(e, x, at_pressure.value(), extract_molar_mass);
    return {found.boiling_c * degree_celsius, abw<>::from_value(found.vapour), found.relative_volatility, found.k_ethanol, found.k_water};
}

/// The same of a spirit or of water.
inline BubblePoint bubble_point(const abw<>& strength, const pressure<>& at_pressure) {
    return bubble_point(strength, extract<>::from_value(0.0), at_pressure);
}

/// Boiling temperature of a spirit or of water; of a wash see bubble_point. Ranges and errors as there.
inline celsius<> boiling_point(const abw<>& strength, const pressure<>& at_pressure) {
    return bubble_point(strength, at_pressure).temperature;
}

/// Ethanol in the vapour of a boiling spirit. Ranges and errors as bubble_point.
inline abw<> vapour_strength(const abw<>& strength, const pressure<>& at_pressure) {
    return bubble_point(strength, at_pressure).vapour;
}

/// The liquid under a vapour.
struct DewPoint {
    celsius<> temperature;
    abw<> liquid;
};

/// Temperature at which a vapour begins to condense, and the first drop: the exact inverse of bubble_point without extract.
///   vapour        ethanol, 0 to 100 % mass; unique for each, below the azeotrope (drop weaker than vapour) and above it (drop stronger)
///   at_pressure   20 to 110 kPa
/// Throws RangeError outside. Source: wash_vapour.
inline DewPoint dew_point(const abw<>& vapour, const pressure<>& at_pressure) {
    detail::require_fraction("vapour strength", vapour.value(), "% mass", oiml_r22::abw_range, wash_vapour::from);
    detail::require_boiling_pressure(at_pressure.value());
    const auto found = wash_vapour::dew_point(vapour.value(), at_pressure.value());
    return {found.boiling_c * degree_celsius, abw<>::from_value(found.liquid)};
}

/// The mixture that no plain still can make stronger.
struct Azeotrope {
    celsius<> temperature;
    abw<> strength;
};

/// The azeotrope at 20 to 110 kPa: 95.6 % mass at 101.325 kPa, stronger at lower pressure. Throws RangeError outside. Source: wash_vapour.
inline Azeotrope azeotrope(const pressure<>& at_pressure) {
    detail::require_boiling_pressure(at_pressure.value());
    const auto found = wash_vapour::azeotrope(at_pressure.value());
    return {found.boiling_c * degree_celsius, abw<>::from_value(found.abw)};
}

/// Pressure of the standard atmosphere at an altitude, -5000 to 11000 m. Throws RangeError outside. Source: standard_atmosphere.
inline pressure<> pressure_at_altitude(const length<>& altitude) {
    require_inside("altitude", altitude.value(), "m", standard_atmosphere::altitude_range, standard_atmosphere::from);
    return pressure<>::from_value(standard_atmosphere::pressure(altitude.value()));
}

/// Altitude at which the standard atmosphere has a pressure: the exact inverse of pressure_at_altitude. Throws RangeError outside.
inline length<> altitude_of_pressure(const pressure<>& at_pressure) {
    const num::interval possible = standard_atmosphere::pressures();
    if (!std::isnan(at_pressure.value()) && !num::inside(at_pressure.value(), possible)) {
        throw_range_error("pressure", at_pressure.value() / detail::pascal_per_kilopascal, "kPa",
                          {possible.lower / detail::pascal_per_kilopascal, possible.upper / detail::pascal_per_kilopascal}, standard_atmosphere::from.citation);
    }
    return length<>::from_value(standard_atmosphere::altitude(at_pressure.value()));
}

/// Pressure at a place from the pressure that a weather report gives, which is reduced to sea level.
///   sea_level   85 to 110 kPa; altitude of the place -5000 to 11000 m, less where the report is far from 101.325 kPa
/// Throws RangeError outside. Source: standard_atmosphere.
inline pressure<> station_pressure(const pressure<>& sea_level, const length<>& altitude) {
    constexpr num::interval range{standard_atmosphere::sea_level_range.lower / detail::pascal_per_kilopascal,
                                  standard_atmosphere::sea_level_range.upper / detail::pascal_per_kilopascal};
    require_inside("pressure at sea level", sea_level.value() / detail::pascal_per_kilopascal, "kPa", range, standard_atmosphere::from);
    const double shift = standard_atmosphere::raw_altitude(sea_level.value());
    const num::interval both{std::max(standard_atmosphere::altitude_range.lower, standard_atmosphere::altitude_range.lower - shift),
                             std::min(standard_atmosphere::altitude_range.upper, standard_atmosphere::altitude_range.upper - shift)};
    require_inside("altitude", altitude.value(), "m", both, standard_atmosphere::from);
    return pressure<>::from_value(standard_atmosphere::station_pressure(sea_level.value(), altitude.value()));
}

}  // namespace ferment

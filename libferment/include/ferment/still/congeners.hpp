#pragma once
// What else comes over: congeners as traces in boiling ethanol and water, their way through a run, and where to taste.
//
// Read the figures as an order, not as an analysis. The two-liquid parameters were fitted to concentrated mixtures and are used here at infinite
// dilution; no table of measured volatilities was at hand to check them. A run says where to look, the palate decides, and only a laboratory
// says what is in a bottle. Nothing here says what may be drunk.
//
// Rejected: Wilson sets of ethyl acetate and isobutanol with water (those pairs part into two layers, which that equation cannot do: K of 250 and of a million
// over water); the UNIQUAC set of acetaldehyde and water (K of 0.02 over water, where acetaldehyde is the most volatile of all); product of K over the plates
// of a column for its enrichment (true at total reflux only).
//
// Left out: a column. Between pot and condenser of a column a congener is enriched by every plate in its own way, and may gather on a plate in the
// middle; that needs the plates of the run. congener_run takes such ratios where somebody else has them, it does not make them up.

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ferment {

/// What the volatility of a congener rests on.
///   both_pairs   published parameters for its pairs with ethanol and with water
///   water_pair   published parameters for its pair with water; with ethanol it is taken to mix ideally
///   trend        two end values and a straight line: the direction is published, the figures are not
enum class congener_evidence { both_pairs, water_pair, trend };

constexpr std::string_view to_string(const congener_evidence e) {
    switch (e) {
        case congener_evidence::both_pairs: return "computed from published parameters of both pairs; trend only, not checked by measurement";
        case congener_evidence::water_pair: return "computed from published parameters of the pair with water, ideal with ethanol; trend only";
        case congener_evidence::trend: return "trend only";
    }
    return "unknown";
}

inline constexpr source congener_pairs{
    "congener_pairs",
    "interaction energies of congeners with ethanol and with water [cal/mol]",
    "Kooijman and Taylor, ChemSep interaction-parameter data, after Gmehling and Onken, DECHEMA Vapor-Liquid Equilibrium Data Collection vol. I",
    "fitted at 1 atm over all compositions; used here at infinite dilution, 20 to 110 kPa",
    "none stated. NRTL against UNIQUAC sets of the same collection (sizes from group sums, from memory), K above 0.01 mol/mol ethanol: methanol 5 %, ethyl "
    "acetate 20 %, isobutanol 30 %, "
    "3-methyl-1-butanol 15 % but both cross ethanol at too low a strength, furfural 50 %; 1-propanol 20 % (Wilson); acetaldehyde has no second set",
    source_status::secondary,
};
inline constexpr source congener_vapour_pressure{
    "congener_vapour_pressure",
    "vapour pressure of congeners [Pa]",
    "VDI Heat Atlas, 2nd ed. 2010, section D3: ln(p/pc) = (A u + B u^1.5 + C u^2.5 + D u^5) Tc/T, u = 1 - T/Tc",
    "melting to critical point",
    "0.1 K in the boiling point (1-propanol 97.17, ethyl acetate 77.13, methanol 64.47 degC; DIPPR 101 of Perry: 97.19, 77.20, 64.53)",
    source_status::secondary,
};
/// Molar volumes at room temperature, which only the Wilson equation needs.
inline constexpr source congener_volumes{
    "congener_volumes",
    "molar volumes for the Wilson equation [cm3/mol]",
    "ethanol and water as printed with Wilson sets of the DECHEMA collection; 1-propanol and acetaldehyde from memory",
    "near 20 degC",
    "1 %",
    source_status::from_memory,
};
inline constexpr source acetic_acid_trend{
    "acetic_acid_trend",
    "volatility of acetic acid over boiling ethanol and water, K by moles",
    "direction: second distillation of a cane wash, mainly below 20 % vol in the distillate (Volatilization kinetics of secondary compounds from sugarcane "
    "spirits during double distillation in rectifying still, Scientia Agricola, abstract); end values from memory: 0.7 over water, 0.25 over ethanol, ln K "
    "straight in mole fraction",
    "near one atmosphere",
    "a factor of two",
    source_status::from_memory,
};

/// Vapour pressure from the critical point down. T in K, unchecked; Pa.
struct wagner {
    double critical_kelvin;
    double critical_pa;
    double a, b, c, d;

    template <class T>
    [[nodiscard]] T vapour_pressure(const T& kelvin) const {
        using std::exp;
        using std::sqrt;
        const T u = 1.0 - kelvin / critical_kelvin;
        const T root = sqrt(u);
        const T square = u * u;
        return critical_pa * exp(T((a * u + b * u * root + c * square * root + d * square * square * u) * critical_kelvin / kelvin));
    }
};

/// How a trace mixes with one of the two liquids: energies over R T, from the trace to the liquid and back.
struct trace_pair {
    double to_liquid;    ///< A(trace, liquid), cal/mol
    double from_liquid;  ///< A(liquid, trace), cal/mol
    double alpha;        ///< non-randomness; not used by the Wilson equation
};

enum class trace_model { nrtl, wilson, line };

/// A trace and everything its volatility needs.
struct Congener {
    std::string_view name;
    double molar_mass;  ///< g/mol
    trace_model model;
    trace_pair with_ethanol;
    trace_pair with_water;
    double molar_volume;  ///< cm3/mol, Wilson only
    wagner pressure;
    congener_evidence evidence;
    double doubt_factor;  ///< K may be wrong by this factor either way: spread of the published models, more where evidence is thin
    std::string_view remark;
    source from;
};

/// Volatility of a trace over boiling ethanol and water: K = gamma p_i / p at infinite dilution, ideal vapour. Boiling point and ethanol are those of
/// wash_vapour; the pair ethanol and water inside gamma is that of the collection the congener comes from, because sets of one collection belong together.
struct trace_volatility {
    static constexpr double gas_constant = 1.98720426;  // cal/(mol K), of the collection's units

    // Ethanol (1) and water (2) of the same collection; verbatim.
    static constexpr trace_pair nrtl_solvents{-57.9601, 1241.7396, 0.2937};
    static constexpr trace_pair wilson_solvents{382.3000, 955.4500, 0.0};
    static constexpr double ethanol_volume = 58.68;  // cm3/mol
    static constexpr double water_volume = 18.07;

    // Acetic acid: K over water and over ethanol (see acetic_acid_trend).
    static constexpr double line_over_water = 0.7;
    static constexpr double line_over_ethanol = 0.25;

    /// ln of the activity coefficient of a trace after Renon and Prausnitz.
    ///   z   mole fraction of ethanol in ethanol and water; T in K; unchecked
    template <class T>
    static T nrtl_ln_gamma(const Congener& i, const T& z, const T& kelvin) {
        using std::exp;
        const T inverse = 1.0 / (gas_constant * kelvin);
        const T rest = 1.0 - z;
        const T t_ew = nrtl_solvents.to_liquid * inverse, g_ew = exp(T(-nrtl_solvents.alpha * t_ew));
        const T t_we = nrtl_solvents.from_liquid * inverse, g_we = exp(T(-nrtl_solvents.alpha * t_we));
        const T t_ie = i.with_ethanol.to_liquid * inverse, g_ie = exp(T(-i.with_ethanol.alpha * t_ie));
        const T t_ei = i.with_ethanol.from_liquid * inverse, g_ei = exp(T(-i.with_ethanol.alpha * t_ei));
        const T t_iw = i.with_water.to_liquid * inverse, g_iw = exp(T(-i.with_water.alpha * t_iw));
        const T t_wi = i.with_water.from_liquid * inverse, g_wi = exp(T(-i.with_water.alpha * t_wi));
        const T around_trace = z * g_ei + rest * g_wi;
        const T around_ethanol = z + rest * g_we;
        const T around_water = z * g_ew + rest;
        return (z * t_ei * g_ei + rest * t_wi * g_wi) / around_trace + z * g_ie / around_ethanol * (t_ie - rest * t_we * g_we / around_ethanol) +
               rest * g_iw / around_water * (t_iw - z * t_ew * g_ew / around_water);
    }

    /// The same after Wilson.
    template <class T>
    static T wilson_ln_gamma(const Congener& i, const T& z, const T& kelvin) {
        using std::exp;
        using std::log;
        const T inverse = 1.0 / (gas_constant * kelvin);
        const T rest = 1.0 - z;
        const T l_ew = (water_volume / ethanol_volume) * exp(T(-wilson_solvents.to_liquid * inverse));
        const T l_we = (ethanol_volume / water_volume) * exp(T(-wilson_solvents.from_liquid * inverse));
        const T l_ie = (ethanol_volume / i.molar_volume) * exp(T(-i.with_ethanol.to_liquid * inverse));
        const T l_ei = (i.molar_volume / ethanol_volume) * exp(T(-i.with_ethanol.from_liquid * inverse));
        const T l_iw = (water_volume / i.molar_volume) * exp(T(-i.with_water.to_liquid * inverse));
        const T l_wi = (i.molar_volume / water_volume) * exp(T(-i.with_water.from_liquid * inverse));
        return 1.0 - log(T(z * l_ie + rest * l_iw)) - z * l_ei / (z + rest * l_ew) - rest * l_wi / (z * l_we + rest);
    }

    /// K of a trace, mole fraction in the vapour over that in the liquid.
    ///   z        mole fraction of ethanol in ethanol and water
    ///   kelvin   boiling temperature, K;  p  pressure, Pa; all unchecked
    template <class T>
    static T k(const Congener& i, const T& z, const T& kelvin, const T& p) {
        using std::exp;
        using std::log;
        if (i.model == trace_model::line) return exp(T(std::log(line_over_water) + (std::log(line_over_ethanol) - std::log(line_over_water)) * z));
        const T ln_gamma = i.model == trace_model::nrtl ? nrtl_ln_gamma(i, z, kelvin) : wilson_ln_gamma(i, z, kelvin);
        return exp(ln_gamma) * i.pressure.vapour_pressure(kelvin) / p;
    }

    /// A trace over a boiling liquid.
    template <class T>
    struct state {
        T by_moles;         ///< K, mole fractions
        T by_mass;          ///< mass fraction in the vapour over mass fraction in the liquid
        T against_ethanol;  ///< K over that of ethanol: above one it comes before the alcohol, below one after it
        T vapour;           ///< ethanol in the vapour, mass fraction
    };

    /// A trace over boiling ethanol and water.
    ///   w   ethanol, mass fraction    0 <= w <= 1
    ///   p   pressure, Pa              20e3 <= p <= 110e3
    ///   ->  NaN outside the range or for NaN
    template <class T>
    static state<T> at(const Congener& i, const T& w, const T& p) {
        const wash_vapour::bubble<T> boiling = wash_vapour::bubble_point(w, p);
        const T z = wash_vapour::mole_fraction(w);
        const T by_moles = k(i, z, T(boiling.boiling_c + zero_celsius_kelvin), p);
        const T y = wash_vapour::mole_fraction(boiling.vapour);
        return {by_moles, by_moles * mean_molar_mass(z) / mean_molar_mass(y), by_moles / boiling.k_ethanol, boiling.vapour};
    }

    template <class T>
    static constexpr T mean_molar_mass(const T& z) {
        return stoichiometry::water + (stoichiometry::ethanol - stoichiometry::water) * z;
    }

    /// Where a trace is as volatile as ethanol: ethanol, mass fraction. NaN where it never is, as for ethyl acetate (always before) and acetic acid
    /// (always after). p as at.
    static double crossing(const Congener& i, const double p) {
        const auto excess = [&](const double w) { return std::log(at<double>(i, w, p).against_ethanol); };
        return num::bracketed_newton<double>([&](const double w) { return slope_of(excess, w); }, oiml_r22::abw_range.lower, oiml_r22::abw_range.upper,
                                             crossing_guess);
    }

private:
    static constexpr double crossing_guess = 0.3;
    static constexpr double slope_step = 1e-6;  // mass fraction

    template <class F>
    static num::value_and_slope<double> slope_of(const F& f, const double w) {
        const double below = std::max(w - slope_step, oiml_r22::abw_range.lower);
        const double above = std::min(w + slope_step, oiml_r22::abw_range.upper);
        return {vle::settled(f(w), vle::round_off_fraction), (f(above) - f(below)) / (above - below)};
    }
};

namespace detail {

inline constexpr double h_c = stoichiometry::c, h_h = stoichiometry::h, h_o = stoichiometry::o;
inline constexpr trace_pair ideal_pair{0.0, 0.0, 0.3};
inline constexpr wagner no_pressure{1.0, 1.0, 0.0, 0.0, 0.0, 0.0};

}  // namespace detail

/// The congeners this library follows. Energies and vapour-pressure constants verbatim. count = 8
inline constexpr std::array<Congener, 8> congeners{{
    {"acetaldehyde",
     2 * detail::h_c + 4 * detail::h_h + detail::h_o,
     trace_model::wilson,
     detail::ideal_pair,
     {-227.0345, 1915.1080, 0.0},
     56.5,
     {466.05, 5550000.0, -7.48323, 1.89754, -1.87991, -2.74165},
     congener_evidence::water_pair,
     2.0,
     "binds to ethanol as hemiacetal and acetal, which is left out; always before the alcohol",
     congener_pairs},
    {"ethyl_acetate",
     4 * detail::h_c + 8 * detail::h_h + 2 * detail::h_o,
     trace_model::nrtl,
     {305.6041, 330.5105, 0.2988},
     {1285.9880, 1606.0820, 0.4393},
     0.0,
     {523.2, 3830000.0, -7.89734, 2.16798, -3.5239, -3.10641},
     congener_evidence::both_pairs,
     1.5,
     "always before the alcohol",
     congener_pairs},
    {"methanol",
     detail::h_c + 4 * detail::h_h + detail::h_o,
     trace_model::nrtl,
     {67.2902, -70.5092, 0.3009},
     {-189.0469, 792.8020, 0.2999},
     0.0,
     {513.38, 8216000.0, -8.72963, 1.4586, -2.78449, -0.70669},
     congener_evidence::both_pairs,
     1.15,
     "nearly as the alcohol: a little after it in weak liquids, before it in strong ones; spread over the whole run, no cut takes it out",
     congener_pairs},
    {"n_propanol",
     3 * detail::h_c + 8 * detail::h_h + detail::h_o,
     trace_model::wilson,
     detail::ideal_pair,
     {775.4823, 1351.8979, 0.0},
     75.14,
     {536.75, 5175000.0, -8.60671, 2.17353, -8.04678, 3.69194},
     congener_evidence::water_pair,
     1.3,
     "before the alcohol only in weak liquids",
     congener_pairs},
    {"isobutanol",
     4 * detail::h_c + 10 * detail::h_h + detail::h_o,
     trace_model::nrtl,
     {82.0442, 53.1671, 0.3023},
     {639.8173, 2491.0163, 0.4385},
     0.0,
     {547.75, 4300000.0, -7.8296, 0.4451, -5.32308, -10.00835},
     congener_evidence::both_pairs,
     1.4,
     "before the alcohol in weak liquids, after it in strong ones",
     congener_pairs},
    {"isoamyl_alcohols",
     5 * detail::h_c + 12 * detail::h_h + detail::h_o,
     trace_model::nrtl,
     {-42.8613, 51.1705, 0.3009},
     {-494.8389, 3633.5330, 0.2816},
     0.0,
     {577.25, 3930000.0, -8.27417, 1.16334, -5.04768, -11.64372},
     congener_evidence::both_pairs,
     2.0,
     "3-methyl-1-butanol stands for both; before the alcohol in weak liquids, after it in strong ones; its pair with water is fitted to two liquid layers and "
     "puts the crossing at too low a strength",
     congener_pairs},
    {"furfural",
     5 * detail::h_c + 4 * detail::h_h + 2 * detail::h_o,
     trace_model::nrtl,
     detail::ideal_pair,
     {436.9686, 2602.6374, 0.395},
     0.0,
     {670.2, 5660000.0, -7.19466, 0.15098, -1.29504, -2.81404},
     congener_evidence::water_pair,
     1.6,
     "after the alcohol, before the water; also made in a hot still, which is left out",
     congener_pairs},
    {"acetic_acid", 2 * detail::h_c + 4 * detail::h_h + 2 * detail::h_o, trace_model::line, detail::ideal_pair, detail::ideal_pair, 0.0, detail::no_pressure,
     congener_evidence::trend, 2.0, "after the alcohol and after the water; also made in the wash by bacteria", acetic_acid_trend},
}};

/// A congener by its name, as listed in `congeners`. Throws InputError naming the known ones.
inline const Congener& congener(const std::string_view name) {
    std::string known;
    for (const Congener& c : congeners) {
        if (c.name == name) return c;
        known.append(known.empty() ? "" : ", ").append(c.name);
    }
    throw InputError("congener " + in_quotes(name) + " is not known; known are " + known);
}

/// Volatility of a congener over boiling ethanol and water.
///   strength   ethanol by mass, 0 to 100 %
///   at         pressure, 20 to 110 kPa
///   ->         K by moles and by mass, K against ethanol, vapour
/// Throws RangeError outside. Source: congener_pairs, congener_vapour_pressure; acetic acid: acetic_acid_trend. Trend only.
inline trace_volatility::state<double> congener_volatility(const Congener& of, const abw<>& strength, const pressure<>& at) {
    detail::require_fraction("abw", strength.value(), "% mass", oiml_r22::abw_range, wash_vapour::from);
    detail::require_boiling_pressure(at.value());
    return trace_volatility::at<double>(of, strength.value(), at.value());
}

// ---- along a run ----

/// A point of a run: what is left in the pot.
struct RunPoint {
    double pot_kg;  ///< kg, > 0, falling from point to point
    double abw;     ///< ethanol in the pot, mass fraction, > 0, never rising
};

/// A congener in the charge.
struct CongenerCharge {
    Congener of;
    double grams_per_hl = 1.0;  ///< g per hL of pure alcohol in the charge, >= 0; where it is not known leave 1 and read the levels as relative ones
};

/// A congener along a run, a value for each point.
struct CongenerCourse {
    Congener of;
    std::vector<double> pot_g;         ///< g left in the pot
    std::vector<double> collected_g;   ///< g come over
    std::vector<double> grams_per_hl;  ///< of what comes over at that moment, g per hL of pure alcohol
};

/// Congeners along a run.
struct CongenerRun {
    std::vector<RunPoint> points;
    std::vector<double> collected_kg;
    std::vector<double> ethanol_collected_kg;
    std::vector<double> distillate_abw;  ///< of what comes over at that moment, mass fraction
    std::vector<CongenerCourse> courses;
    bool rectified =
        false;  ///< the pot loses stronger spirit than its own vapour: the run had a column or a condensing head, and a simple still's figures are wrong
};

namespace detail {

inline constexpr double grams_per_kg = 1000.0;
inline constexpr double litres_per_hl = 100.0;
inline constexpr double litres_per_m3 = 1000.0;
inline constexpr double rectified_from = 0.02;  // mass fraction by which the spirit must beat the vapour: twice the doubt of the vapour

/// g per hL of pure alcohol from kg of congener per kg of ethanol.
constexpr double grams_per_hl_of(const double per_ethanol) {
    return per_ethanol * grams_per_kg * volume_at_20c::ethanol_density * litres_per_hl / litres_per_m3;
}

inline void require_run(const std::span<const RunPoint> points) {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    if (points.size() < 2) throw InputError("a run needs at least two points, " + std::to_string(points.size()) + " given");
    for (std::size_t k = 0; k < points.size(); ++k) {
        const std::string here = " at point " + std::to_string(k + 1);
        if (points[k].pot_kg <= 0.0 || std::isinf(points[k].pot_kg)) {
            throw RangeError("pot mass" + here + " " + format_quantity(points[k].pot_kg, "kg") + " must be a number above 0 kg");
        }
        require_workable("pot mass" + here, points[k].pot_kg, "kg");
        if (points[k].abw <= 0.0) throw RangeError("abw" + here + " " + format_quantity(percent * points[k].abw, "% mass") + " must be above 0 % mass");
        require_workable("abw" + here, percent * points[k].abw, "% mass");
        require_fraction("abw" + here, points[k].abw, "% mass", oiml_r22::abw_range, wash_vapour::from);
        if (k == 0) continue;
        if (points[k].pot_kg >= points[k - 1].pot_kg) {
            throw_range_error("pot mass" + here, points[k].pot_kg, "kg", {-infinity, points[k - 1].pot_kg}, "the pot must lose mass from point to point");
        }
        if (points[k].abw > points[k - 1].abw) {
            throw_range_error("abw" + here, percent * points[k].abw, "% mass", {-infinity, percent * points[k - 1].abw}, "the pot must not gain strength");
        }
    }
}

inline void require_charge(const CongenerCharge& c) {
    if (c.grams_per_hl < 0.0 || std::isinf(c.grams_per_hl)) {
        throw RangeError(std::string(c.of.name) + " " + format_quantity(c.grams_per_hl, "g/hL of pure alcohol") + " must be a finite number, zero or more");
    }
    require_workable(c.of.name, c.grams_per_hl, "g/hL of pure alcohol");
}

/// Masses along a run from the integrals of the ratio over d ln(pot) of every stretch, and the ratio at every point.
inline CongenerCourse course_of(const CongenerCharge& charge, const std::span<const RunPoint> points, const std::vector<double>& distillate_abw,
                                const std::vector<double>& ratio, const std::vector<double>& integral) {
    CongenerCourse course{charge.of, {}, {}, {}};
    const double in_charge = charge.grams_per_hl * points[0].pot_kg * points[0].abw / volume_at_20c::ethanol_density * litres_per_m3 / litres_per_hl;
    double ln_left = 0.0;
    for (std::size_t k = 0; k < points.size(); ++k) {
        if (k > 0) ln_left += integral[k - 1];
        const double left = in_charge * std::exp(ln_left);
        course.pot_g.push_back(left);
        course.collected_g.push_back(-in_charge * std::expm1(ln_left));
        course.grams_per_hl.push_back(grams_per_hl_of(ratio[k] * left / (grams_per_kg * points[k].pot_kg) / distillate_abw[k]));
    }
    return course;
}

inline CongenerRun empty_run(const std::span<const RunPoint> points) {
    CongenerRun run;
    run.points.assign(points.begin(), points.end());
    for (const RunPoint& here : points) {
        run.collected_kg.push_back(points[0].pot_kg - here.pot_kg);
        run.ethanol_collected_kg.push_back(points[0].pot_kg * points[0].abw - here.pot_kg * here.abw);
    }
    return run;
}

}  // namespace detail

/// Congeners along the run of a simple still: d ln m = K d ln W, m the congener and W the liquid in the pot, K by mass, so that with a constant K
/// what is left is (W/W0)^K exactly. Between points the strength is straight in ln W, and the integral is taken with it to round-off (Gauss, 7 nodes a
/// stretch). The curve is the caller's: any run whose pot loses mass and does not gain strength.
///   points             at least two
///   charges            congeners and their levels in the charge
///   at                 pressure in the pot, 20 to 110 kPa
///   volatility_power   every K is multiplied by its doubt_factor to this power: 0 as computed, 1 and -1 the edges of the doubt
/// Throws InputError for fewer than two points, RangeError for a curve that is not monotone or a value outside. NaN in a point or charge gives NaN.
/// Trace only: nothing a congener does changes the boiling. Source: Rayleigh's equation with trace_volatility.
inline CongenerRun congener_run(const std::span<const RunPoint> points, const std::span<const CongenerCharge> charges, const pressure<>& at,
                                const double volatility_power = 0.0) {
    constexpr num::interval power_range{-3.0, 3.0};
    require_inside("power of the doubt of the volatility", volatility_power, "", power_range, "1 and -1 are the edges of the doubt");
    using gauss = boost::math::quadrature::gauss<double, 7>;
    detail::require_run(points);
    detail::require_boiling_pressure(at.value());
    const double p = at.value();
    CongenerRun run = detail::empty_run(points);
    for (const RunPoint& here : points) run.distillate_abw.push_back(wash_vapour::bubble_point<double>(here.abw, p).vapour);
    for (std::size_t k = 1; k < points.size(); ++k) {
        const double spirit = (run.ethanol_collected_kg[k] - run.ethanol_collected_kg[k - 1]) / (points[k - 1].pot_kg - points[k].pot_kg);
        run.rectified = run.rectified || spirit > run.distillate_abw[k - 1] + detail::rectified_from;
    }
    for (const CongenerCharge& charge : charges) {
        detail::require_charge(charge);
        const double scale = std::pow(charge.of.doubt_factor, volatility_power);
        const auto k_by_mass = [&](const double w) { return scale * trace_volatility::at<double>(charge.of, w, p).by_mass; };
        std::vector<double> ratio;
        std::vector<double> integral;
        for (std::size_t k = 0; k < points.size(); ++k) {
            ratio.push_back(k_by_mass(points[k].abw));
            if (k == 0) continue;
            const double from = points[k - 1].abw;
            const double change = points[k].abw - from;
            const double mean = gauss::integrate([&](const double share) { return k_by_mass(from + share * change); }, 0.0, 1.0);
            integral.push_back(mean * std::log(points[k].pot_kg / points[k - 1].pot_kg));
        }
        run.courses.push_back(detail::course_of(charge, points, run.distillate_abw, ratio, integral));
    }
    return run;
}

/// Congeners along any run whose enrichment is known from elsewhere, as of a column worked out plate by plate.
///   points           at least two
///   distillate_abw   ethanol in what comes over at each point, mass fraction, 0 < abw <= 1
///   charges          congeners and their levels in the charge
///   ratios           for each charge: mass fraction in what comes over over that in the pot at each point, >= 0; straight in ln W between points, which
///                    makes the integral exact
/// Errors as above; InputError where the numbers of values do not match.
inline CongenerRun congener_run(const std::span<const RunPoint> points, const std::span<const double> distillate_abw,
                                const std::span<const CongenerCharge> charges, const std::span<const std::vector<double>> ratios) {
    detail::require_run(points);
    if (distillate_abw.size() != points.size()) {
        throw InputError("distillate strengths: " + std::to_string(distillate_abw.size()) + " given for " + std::to_string(points.size()) + " points");
    }
    if (ratios.size() != charges.size()) {
        throw InputError("ratios: " + std::to_string(ratios.size()) + " given for " + std::to_string(charges.size()) + " congeners");
    }
    CongenerRun run = detail::empty_run(points);
    run.distillate_abw.assign(distillate_abw.begin(), distillate_abw.end());
    for (const double w : distillate_abw) {
        if (w <= 0.0) throw RangeError("distillate abw " + format_quantity(detail::percent * w, "% mass") + " must be above 0 % mass");
        detail::require_workable("distillate abw", detail::percent * w, "% mass");
        detail::require_fraction("distillate abw", w, "% mass", oiml_r22::abw_range, wash_vapour::from);
    }
    for (std::size_t k = 0; k < charges.size(); ++k) {
        detail::require_charge(charges[k]);
        if (ratios[k].size() != points.size()) {
            throw InputError("ratios of " + std::string(charges[k].of.name) + ": " + std::to_string(ratios[k].size()) + " given for " +
                             std::to_string(points.size()) + " points");
        }
        constexpr double half = 0.5;
        std::vector<double> integral;
        for (std::size_t n = 0; n < points.size(); ++n) {
            if (ratios[k][n] < 0.0 || std::isinf(ratios[k][n])) {
                throw RangeError("ratio of " + std::string(charges[k].of.name) + " " + format_number(ratios[k][n]) + " must be a finite number, zero or more");
            }
            if (n > 0) integral.push_back(half * (ratios[k][n] + ratios[k][n - 1]) * std::log(points[n].pot_kg / points[n - 1].pot_kg));
        }
        run.courses.push_back(detail::course_of(charges[k], points, run.distillate_abw, ratios[k], integral));
    }
    for (std::size_t n = 0; n < points.size(); ++n) {
        run.rectified = run.rectified || distillate_abw[n] > wash_vapour::bubble_point<double>(points[n].abw, standard_atmosphere::sea_level_pressure).vapour +
                                                                 detail::rectified_from;
    }
    return run;
}

// ---- windows: where to taste ----

/// What a boundary goes by.
///   of_start       the level of a congener (per alcohol, in what comes over) against its level when the run starts
///   of_charge      against its level in the charge
///   grams_per_hl   the level itself, g per hL of pure alcohol
///   strength       strength of what comes over, % vol at 20 degC, as fraction
enum class boundary_by { of_start, of_charge, grams_per_hl, strength };
enum class boundary_when { falls_below, rises_above };

/// A boundary between two windows.
struct BoundaryRule {
    std::string_view ends;      ///< the window that ends here
    std::string_view congener;  ///< name as in `congeners`; empty for strength
    boundary_by by;
    boundary_when when;
    double level;
    num::interval level_range;  ///< where others put it
    std::string_view reason;
    source from;
};

namespace practice {

/// A simple still does not part heads from hearts: with a charge of 28 % vol half of the ethyl acetate comes over only after a fifth of the alcohol. The cut
/// takes off the richest part. So the levels are high ones, and they are put where the trade cuts.
inline constexpr source head_levels{
    "head_levels",
    "share of its first level at which the cut is made behind a head congener",
    "a choice of this library: the levels met in a simple run of 28 % vol where the trade cuts, fore-shots at 0.5 to 2 % of the pure alcohol (common practice, "
    "no source), heads near 10 % of the distillate (cane_runs); the trade itself judges by nose",
    "simple stills, charges of 20 to 35 % vol",
    "a factor of two in what is collected",
    source_status::common_practice,
};
inline constexpr source heart_end{
    "heart_end",
    "strength at which hearts end [% vol]",
    "Russell (ed.), Whisky: Technology, Production and Marketing, Elsevier 2003, ch. 5 p. 164: malt spirit 72 to 60; cognac: 58 (trade lexicon) to 60 "
    "(interprofessional site); malt hearts as a whole 63 to 71 (web copy of a handbook chapter)",
    "second run of a simple still",
    "58 to 63 % vol",
    source_status::secondary,
};
inline constexpr source tails_end{
    "tails_end",
    "strength at which a run ends [% vol]",
    "Russell (ed.), Whisky: Technology, Production and Marketing, Elsevier 2003, ch. 5 p. 164: feints are run to 1",
    "simple stills",
    "habit; many stop sooner for the energy",
    source_status::secondary,
};
inline constexpr source cane_runs{
    "cane_runs",
    "where congeners of a cane spirit come over; shares of head, heart and tail",
    "Volatilization kinetics of secondary compounds from sugarcane spirits during double distillation in rectifying still, Scientia Agricola, abstract; "
    "Alcarde, Souza, Belluco, Cienc. Tecnol. Aliment. (ISSN 0101-2061)",
    "one still, one wash",
    "none stated",
    source_status::secondary,
};
inline constexpr source malt_fore_shots{
    "malt_fore_shots",
    "time of fore-shots of malt spirit [min]; strength at which they no longer turn cloudy with water [% vol]",
    "Nicol, Batch distillation, in Russell (ed.), Whisky: Technology, Production and Marketing; not looked up",
    "malt spirit stills",
    "not known",
    source_status::from_memory,
};
inline constexpr source fore_shot_share{
    "fore_shot_share",
    "fore-shots thrown away before heads are kept apart, share of the pure alcohol of the charge",
    "common practice, no source",
    "second run of a simple still",
    "0.5 to 2 %",
    source_status::common_practice,
};

}  // namespace practice

/// Boundaries of a spirit run in a simple still. Change the levels to your own palate. count = 4
inline constexpr std::array<BoundaryRule, 4> usual_boundaries{{
    {"fore_shots",
     "acetaldehyde",
     boundary_by::of_start,
     boundary_when::falls_below,
     0.93,
     {0.9, 0.98},
     "the richest of the most volatile congener is over: its level has begun to fall",
     practice::head_levels},
    {"heads",
     "ethyl_acetate",
     boundary_by::of_start,
     boundary_when::falls_below,
     0.75,
     {0.65, 0.85},
     "the solvent note of ethyl acetate has lost a quarter of its first level; a simple still carries the rest on into the hearts",
     practice::head_levels},
    {"hearts",
     "",
     boundary_by::strength,
     boundary_when::falls_below,
     0.60,
     {0.58, 0.63},
     "below this strength furfural and acids gain on the alcohol, and the trade cuts by strength",
     practice::heart_end},
    {"tails", "", boundary_by::strength, boundary_when::falls_below, 0.01, {0.005, 0.02}, "what is left is not worth its heat", practice::tails_end},
}};

/// A habit of the trade, for comparison: what, from, to, unit.
struct PracticeFigure {
    std::string_view what;
    double low;
    double high;
    std::string_view unit;
    source from;
};

/// Habits beside the windows. count = 11
inline constexpr std::array<PracticeFigure, 11> practice_figures{{
    {"fore-shots, share of the pure alcohol of the charge", 0.5, 2.0, "%", practice::fore_shot_share},
    {"malt spirit, time of fore-shots", 10.0, 30.0, "min", practice::malt_fore_shots},
    {"malt spirit, fore-shots stay clear when diluted to", 45.7, 45.7, "% vol", practice::malt_fore_shots},
    {"malt spirit, strength from start to end of hearts", 60.0, 72.0, "% vol", practice::heart_end},
    {"malt hearts as a whole", 63.0, 71.0, "% vol", practice::heart_end},
    {"cognac, end of hearts", 58.0, 60.0, "% vol", practice::heart_end},
    {"cognac, hearts as a whole", 68.0, 72.0, "% vol", practice::heart_end},
    {"feints are run to", 1.0, 1.0, "% vol", practice::tails_end},
    {"cane spirit, head, share of the distillate volume", 10.0, 10.0, "%", practice::cane_runs},
    {"cane spirit, heart, share of the distillate volume", 80.0, 80.0, "%", practice::cane_runs},
    {"cane spirit, tail, share of the distillate volume", 10.0, 10.0, "%", practice::cane_runs},
}};

inline constexpr std::string_view windows_note =
    "Windows say where to taste and smell, from published trends; the palate decides. They say nothing about what may be drunk: only an analysis does. "
    "Methanol comes over with the alcohol throughout and no cut removes it.";

/// Where a window ends.
struct Boundary {
    BoundaryRule rule;
    bool reached = false;                                              ///< false: the run ends before; the figures are NaN
    double collected_kg = std::numeric_limits<double>::quiet_NaN();    ///< distillate so far
    double ethanol_share = std::numeric_limits<double>::quiet_NaN();   ///< ethanol collected so far over that of the charge
    double distillate_abv = std::numeric_limits<double>::quiet_NaN();  ///< strength of what comes over at that moment, fraction by volume
    double earliest_kg = std::numeric_limits<double>::quiet_NaN();     ///< with the level and the volatility at the edges of their doubt
    double latest_kg = std::numeric_limits<double>::quiet_NaN();       ///< infinite where at such an edge it is not reached in the run
};

/// Windows of a run.
struct Windows {
    std::vector<Boundary> boundaries;
    bool rectified = false;  ///< see CongenerRun: if true and the run was worked out as a simple still's, no boundary holds
    std::string_view note = windows_note;
};

namespace detail {

/// The value a rule watches, at every point of a run.
inline std::vector<double> watched(const BoundaryRule& rule, const CongenerRun& run, const double charged_per_hl) {
    std::vector<double> values;
    if (rule.by == boundary_by::strength) {
        for (const double w : run.distillate_abw) values.push_back(volume_at_20c::from_abw(w));
        return values;
    }
    for (const CongenerCourse& course : run.courses) {
        if (course.of.name != rule.congener) continue;
        const double unit = rule.by == boundary_by::of_start ? course.grams_per_hl[0] : rule.by == boundary_by::of_charge ? charged_per_hl : 1.0;
        for (const double x : course.grams_per_hl) values.push_back(x / unit);
        return values;
    }
    throw InputError("boundary of " + std::string(rule.ends) + ": congener " + in_quotes(rule.congener) + " is not among those of the run");
}

/// Point and share of the way to the next at which a value first passes a level; nothing where it never does. Straight between points.
inline std::optional<std::pair<std::size_t, double>> first_passing(const std::vector<double>& values, const double level, const boundary_when when) {
    // A run that was stopped at the level is there, whatever the last digit says.
    const double margin = 1e-9 * std::abs(level);
    const auto beyond = [&](const double x) { return when == boundary_when::falls_below ? x <= level + margin : x >= level - margin; };
    if (beyond(values[0])) return std::pair{std::size_t{0}, 0.0};
    for (std::size_t k = 1; k < values.size(); ++k) {
        if (beyond(values[k])) return std::pair{k - 1, std::min(1.0, (level - values[k - 1]) / (values[k] - values[k - 1]))};
    }
    return std::nullopt;
}

inline double between(const std::vector<double>& values, const std::pair<std::size_t, double>& at) {
    if (at.second == 0.0) return values[at.first];
    return values[at.first] + at.second * (values[at.first + 1] - values[at.first]);
}

inline void require_rule(const BoundaryRule& rule) {
    if (rule.by == boundary_by::strength) {
        require_fraction("level of the end of " + std::string(rule.ends), rule.level, "% vol", oiml_r22::abw_range, oiml_r22::from);
    } else if (rule.level <= 0.0 || std::isinf(rule.level)) {
        throw RangeError("level of the end of " + std::string(rule.ends) + " " + format_number(rule.level) + " must be a finite number above zero");
    }
    if (rule.level < rule.level_range.lower || rule.level > rule.level_range.upper) {
        throw_range_error("level of the end of " + std::string(rule.ends), rule.level, "", rule.level_range, "its own level_range");
    }
}

}  // namespace detail

/// Windows of a run already worked out: for each rule the first moment at which its value passes its level, and how early or late it may be with the
/// level at the edges of its range and in the other runs. A window never ends before the one in front of it; one that ends with it is empty, as hearts
/// are where the spirit is too weak from the start (a stripping run).
///   runs      the run, then the same run with volatilities at the edges of their doubt, if any
///   charges   as those runs had them; every congener of a rule must be among them
///   rules     in order, at least one
/// Throws InputError for no run or an empty one, no rule, a congener that is not there; RangeError for a level that is not above zero or lies outside its own
/// range. A congener of which the charge holds none, and NaN, have no level: not reached.
inline Windows windows(const std::span<const CongenerRun> runs, const std::span<const CongenerCharge> charges,
                       const std::span<const BoundaryRule> rules = usual_boundaries) {
    if (runs.empty()) throw InputError("windows: no run given");
    if (rules.empty()) throw InputError("windows: no boundary given");
    for (const CongenerRun& each : runs) {
        if (each.points.empty()) throw InputError("windows: a run holds no points");
    }
    constexpr double never = std::numeric_limits<double>::infinity();
    const CongenerRun& run = runs.front();
    const double ethanol_kg = run.points[0].pot_kg * run.points[0].abw;
    Windows result;
    result.rectified = run.rectified;
    std::pair<std::size_t, double> before{0, 0.0};
    double before_earliest = 0.0;
    double before_latest = 0.0;
    for (const BoundaryRule& rule : rules) {
        detail::require_rule(rule);
        double charged = 1.0;
        for (const CongenerCharge& c : charges) {
            if (c.of.name == rule.congener) charged = c.grams_per_hl;
        }
        double earliest = never;
        double latest = 0.0;
        for (const CongenerRun& edge : runs) {
            const std::vector<double> values = detail::watched(rule, edge, charged);
            for (const double level : {rule.level, rule.level_range.lower, rule.level_range.upper}) {
                const auto passing = detail::first_passing(values, level, rule.when);
                const double kg = passing ? detail::between(edge.collected_kg, *passing) : never;
                earliest = std::min(earliest, kg);
                latest = std::max(latest, kg);
            }
        }
        Boundary boundary{rule};
        const auto passing = detail::first_passing(detail::watched(rule, run, charged), rule.level, rule.when);
        if (passing) {
            before = std::max(before, *passing);
            before_earliest = std::max(before_earliest, earliest);
            before_latest = std::max(before_latest, latest);
            boundary.reached = true;
            boundary.collected_kg = detail::between(run.collected_kg, before);
            boundary.ethanol_share = detail::between(run.ethanol_collected_kg, before) / ethanol_kg;
            boundary.distillate_abv = volume_at_20c::from_abw(detail::between(run.distillate_abw, before));
            boundary.earliest_kg = before_earliest;
            boundary.latest_kg = before_latest;
        }
        result.boundaries.push_back(boundary);
    }
    return result;
}

/// Windows of a simple still's run, with the volatility at the edges of its doubt_factor. points, charges, at as congener_run, rules as above; throws as both.
inline Windows windows(const std::span<const RunPoint> points, const std::span<const CongenerCharge> charges, const pressure<>& at,
                       const std::span<const BoundaryRule> rules = usual_boundaries) {
    const std::array<CongenerRun, 3> runs{congener_run(points, charges, at), congener_run(points, charges, at, 1.0), congener_run(points, charges, at, -1.0)};
    return windows(runs, charges, rules);
}

// ---- legal limits as lines to draw ----

/// A limit of the law, for a line beside a curve. Check the law in force; laws differ and change.
struct LegalLine {
    std::string_view product;
    std::string_view compound;
    std::string_view congener;  ///< name as in `congeners` that is compared with it; empty where none is
    double grams_per_hl;        ///< g per hL of 100 % vol; NaN where the law says "not detectable"
    bool at_most;               ///< false: at least
    source from;
};

inline constexpr source eu_neutral_alcohol{
    "eu_neutral_alcohol",
    "residues of ethyl alcohol of agricultural origin [g/hL of 100 % vol]",
    "Regulation (EC) No 110/2008 Annex I point 1, kept in Regulation (EU) 2019/787 Article 5; 1989 text: Council Regulation (EEC) 1576/89 Annex I",
    "at least 96.0 % vol",
    "legal limits; methanol was 50 in the text of 1989",
    source_status::secondary,
};
inline constexpr source eu_wine_spirit{
    "eu_wine_spirit",
    "limits of wine spirit [g/hL of 100 % vol]",
    "Regulation (EU) 2019/787 Annex I category 4",
    "distilled below 86 % vol",
    "legal limits",
    source_status::secondary,
};
inline constexpr source eu_methanol{
    "eu_methanol",
    "general EU limit of naturally occurring methanol [g/hL of 100 % vol]",
    "Paine, Dayan, Defining a tolerable concentration of methanol in alcoholic drinks, Hum. Exp. Toxicol. 20 (2001) 563-568: 10 g per L of ethanol",
    "as quoted in 2001",
    "legal limit",
    source_status::secondary,
};

/// count = 9
inline constexpr std::array<LegalLine, 9> legal_lines{{
    {"ethyl alcohol of agricultural origin", "total acidity as acetic acid", "acetic_acid", 1.5, true, eu_neutral_alcohol},
    {"ethyl alcohol of agricultural origin", "esters as ethyl acetate", "ethyl_acetate", 1.3, true, eu_neutral_alcohol},
    {"ethyl alcohol of agricultural origin", "aldehydes as acetaldehyde", "acetaldehyde", 0.5, true, eu_neutral_alcohol},
    {"ethyl alcohol of agricultural origin", "higher alcohols as 2-methyl-1-propanol", "isobutanol", 0.5, true, eu_neutral_alcohol},
    {"ethyl alcohol of agricultural origin", "methanol", "methanol", 30.0, true, eu_neutral_alcohol},
    {"ethyl alcohol of agricultural origin", "furfural", "furfural", std::numeric_limits<double>::quiet_NaN(), true, eu_neutral_alcohol},
    {"wine spirit", "methanol", "methanol", 200.0, true, eu_wine_spirit},
    {"wine spirit", "volatile substances", "", 125.0, false, eu_wine_spirit},
    {"any, naturally occurring", "methanol", "methanol", 1000.0, true, eu_methanol},
}};

}  // namespace ferment

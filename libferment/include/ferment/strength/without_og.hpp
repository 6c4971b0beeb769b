#pragma once
// How strong a wash is, by routes that need no original gravity: in a wash of raw grain there is none.
//
//   hydrometer and refractometer   ethanol lowers the density and raises the refractive index; extract raises both
//   boiled down                    the gravity of the same sample before and after its alcohol was boiled off
//   carbon dioxide lost            what a scale under the fermenter has lost since pitching
//   boiling point                  of the wash, at the day's pressure
//   distilled sample               a small measured sample, its alcohol distilled off and measured
//
// Every route is two equations for two unknowns, ethanol and extract, one of which is the gravity; each input carries its standard uncertainty.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/carbon_dioxide.hpp>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/refraction.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/strength/gravity.hpp>
#include <limits>
#include <string>
#include <string_view>
#include <utility>

namespace ferment {

/// A strength that was found, and how far it can be trusted.
struct FoundStrength {
    std::string route;
    Uncertain abv;             ///< volume fraction at 20 degC
    Uncertain abw;             ///< mass fraction
    Uncertain real_extract;    ///< mass fraction
    std::string dominated_by;  ///< the input that contributes most to the doubt of the strength
};

inline constexpr source density_of_washes{
    "density_of_washes",
    "what the density of water + ethanol + extract may be off, as specific gravity",
    "wash against the analyses of USDA Bulletin 493 (1917): within 0.0003",
    "beers and washes to 10 % vol",
    "0.00017, as of a rectangular spread of 0.0003 either way",
};
inline constexpr double density_of_washes_uncertainty = 1.7e-4;  // gravity

inline constexpr source carbon_dioxide_per_ethanol{
    "carbon_dioxide_per_ethanol",
    "carbon dioxide made per ethanol [kg/kg]",
    "stoichiometry: 0.9553; classic balance, Weihenstephan lecture notes 4.2: 46.6 to 48.4 g per 100 g glucose, 0.9628",
    "alcoholic fermentation of glucose; bacteria give other ratios",
    "the middle of the two, 0.959, with 0.004",
};

inline constexpr source extract_refraction{
    "extract_refraction",
    "what the extract of a wash adds to the refractive index, against sucrose",
    "starch hydrolysate reads 4.5 % of itself high (ISO 1743), glycerol 18 % low (CRC Handbook 102nd ed.); the mixture in a wash was found nowhere",
    "real extract of grain washes: dextrin, glycerol, protein, minerals",
    "4 %",
    source_status::common_practice,
};

namespace detail {

inline constexpr double classic_co2_per_ethanol = 46.6 / 48.4;
inline constexpr double pure_co2_per_ethanol = stoichiometry::co2_per_glucose / stoichiometry::ethanol_per_glucose;
inline constexpr measured co2_per_ethanol{0.5 * (classic_co2_per_ethanol + pure_co2_per_ethanol), 0.5 * (classic_co2_per_ethanol - pure_co2_per_ethanol)};

/// The two unknowns of a wash, mass fractions.
template <class T>
struct composition {
    T e{};  ///< ethanol
    T x{};  ///< extract
};

/// Gravity 20/20 without a check: a search may pass just below zero on its way, and a reading of unfermented wort may lie there within its doubt.
template <class T>
T raw_gravity(const composition<T>& c) {
    const T t = T(0.0 * c.e + oiml_r22::reference_c);
    return wash::water_specific_volume(c.e, c.x, t) / wash::specific_volume(c.e, c.x, t);
}
template <class T>
T raw_density(const composition<T>& c) {
    return 1.0 / wash::specific_volume(c.e, c.x, T(0.0 * c.e + oiml_r22::reference_c));
}
template <class T>
T raw_abv(const composition<T>& c) {
    return c.e * raw_density(c) * (1.0 / volume_at_20c::ethanol_density);
}

using two_rows = std::array<composition<double>, 2>;

/// Derivatives of two residuals with both unknowns, by central differences of the step that round-off asks for.
template <class F>
two_rows slopes(const F& f, const composition<double>& at) {
    constexpr double step = 1e-6;
    const std::array<double, 2> e_up = f(composition<double>{at.e + step, at.x}), e_down = f(composition<double>{at.e - step, at.x});
    const std::array<double, 2> x_up = f(composition<double>{at.e, at.x + step}), x_down = f(composition<double>{at.e, at.x - step});
    two_rows j{};
    for (std::size_t i = 0; i < 2; ++i) {
        j[i] = {(e_up[i] - e_down[i]) / (2.0 * step), (x_up[i] - x_down[i]) / (2.0 * step)};
    }
    return j;
}

/// One step of Newton's method, for any scalar of the residuals.
template <class T>
composition<T> newton_step(const two_rows& j, const std::array<T, 2>& residual) {
    const double determinant = j[0].e * j[1].x - j[0].x * j[1].e;
    return {(residual[0] * j[1].x - residual[1] * j[0].x) / determinant, (residual[1] * j[0].e - residual[0] * j[1].e) / determinant};
}

/// The wash for which both residuals vanish, with its first-order dependence on every input (implicit function theorem).
///   residuals   callable (composition<T>, inputs as std::array<T, N>) -> std::array<T, 2>
///   inputs      of the measurement
/// Throws SolveError where the search does not end.
template <std::size_t N, class F>
composition<Uncertain> solve_wash(const F& residuals, const std::array<Uncertain, N>& inputs, const std::string_view route) {
    std::array<double, N> plain{};
    for (std::size_t i = 0; i < N; ++i) {
        plain[i] = inputs[i].value();
    }
    const auto of = [&](const composition<double>& c) { return residuals(c, plain); };
    composition<double> c{0.05, 0.03};  // an ordinary wash
    constexpr int most_steps = 60;
    constexpr double resolution = 1e-15;
    bool settled = false;
    double before = 1.0;
    for (int i = 0; i < most_steps && !settled; ++i) {
        const composition<double> step = newton_step(slopes(of, c), of(c));
        const double size = std::hypot(step.e, step.x);
        c = {c.e - step.e, c.x - step.x};
        // Converged to round-off, or as near as round-off lets it: the steps have stopped shrinking.
        settled = size <= resolution || (size < 1e-11 && size >= 0.5 * before);
        before = size;
    }
    if (!settled) {
        throw SolveError("no wash was found that agrees with these readings (" + std::string(route) + ")");
    }
    const composition<Uncertain> root{c.e, c.x};
    const composition<Uncertain> step = newton_step(slopes(of, c), residuals(root, inputs));
    return {root.e - step.e, root.x - step.x};
}

inline constexpr double strength_coverage = 3.0;  // standard uncertainties by which a share may lie below nothing
inline constexpr double unbounded = std::numeric_limits<double>::infinity();
inline constexpr double strongest_wash = 0.30;  // volume fraction: yeast gives up far below
inline constexpr double richest_wash = 0.60;    // mass fraction of extract

inline FoundStrength found(const std::string_view route, const composition<Uncertain>& c) {
    FoundStrength f;
    f.route = route;
    f.abw = c.e;
    f.real_extract = c.x;
    f.abv = raw_abv(c);
    for (const auto& [what, share] : {std::pair<const char*, const Uncertain&>{"strength", f.abw}, {"real extract", f.real_extract}}) {
        if (share.value() < -strength_coverage * share.standard_uncertainty()) {
            throw RangeError(std::string(what) + " " + format_quantity(percent * share.value(), "% mass") + " would follow from these readings (" + f.route +
                             "); no wash holds less than nothing: check them, and that they are of one sample");
        }
    }
    require_inside("strength of the wash by " + f.route, percent * f.abv.value(), "% vol", {-unbounded, percent * strongest_wash},
                   "no wash is stronger: check the readings, and that they are of one sample");
    require_inside("real extract of the wash by " + f.route, percent * f.real_extract.value(), "% mass", {-unbounded, percent * richest_wash},
                   "no wash holds more: check the readings, and that they are of one sample");
    const std::vector<contribution> budget = f.abv.budget();
    f.dominated_by = budget.empty() ? "" : budget.front().name;
    return f;
}

inline void require_reading_of(const std::string& what, const Uncertain& x, const std::string_view unit, const num::interval range,
                               const std::string_view why) {
    if (!std::isfinite(x.value()) || !std::isfinite(x.standard_uncertainty())) {
        throw InputError(what + " must be a number with a standard uncertainty");
    }
    require_inside(what, x.value(), unit, range, why);
}

inline constexpr num::interval sample_gravity_range{0.95, 1.2};
inline constexpr num::interval boiled_gravity_range{0.995, 1.2};  // below 1.000 only by the doubt of a reading

inline void require_sample_gravity(const std::string& what, const Uncertain& gravity) {
    require_reading_of(what, gravity, "SG 20/20", sample_gravity_range, "of a wash");
}

// The doubts of the formulas, each one input for all routes: a formula that is off is off by the same in every use.
inline const Uncertain& density_formula() {
    static const Uncertain doubt = Uncertain::input(0.0, density_of_washes_uncertainty, "density formula");
    return doubt;
}
inline const Uncertain& refraction_formula() {
    static const Uncertain doubt = Uncertain::input(0.0, wash_refraction::standard_uncertainty, "refraction formula");
    return doubt;
}
inline const Uncertain& kind_of_extract() {
    static const Uncertain kind = Uncertain::input(1.0, 0.04, "kind of extract");  // extract_refraction
    return kind;
}
inline const Uncertain& boiling_point_formula() {
    static const Uncertain doubt = Uncertain::input(0.0, 0.17, "boiling point formula");  // K: up to 0.3 either way below 13 % mass, see wash_vapour
    return doubt;
}

/// The wash of a known strength by volume and gravity.
inline composition<Uncertain> wash_of(const Uncertain& abv, const Uncertain& gravity, const std::string_view route) {
    return solve_wash<3>(
        [](const auto& c, const auto& in) {
            using T = std::decay_t<decltype(c.e)>;
            return std::array<T, 2>{T(raw_gravity(c) - in[0] - in[1]), T(raw_abv(c) - in[2])};
        },
        {gravity, density_formula(), abv}, route);
}

}  // namespace detail

/// (a) Hydrometer and refractometer on one degassed, clear sample.
///   gravity            SG 20/20, 0.95 to 1.2
///   refractive_index   nD at 20 degC against air, 1.32 to 1.42; from a Brix refractometer: sucrose_refraction::index
///   ->                 strength and real extract. The index of a wash is computed, not measured (wash_refraction)
/// Throws RangeError where it would be no wash, SolveError where nothing has both, InputError for what is no number. Source: wash, wash_refraction.
inline FoundStrength strength_from_hydrometer_and_refractometer(const Uncertain& gravity, const Uncertain& refractive_index) {
    constexpr std::string_view route = "hydrometer and refractometer";
    constexpr num::interval index_range{1.32, 1.42};
    detail::require_sample_gravity("gravity", gravity);
    detail::require_reading_of("refractive index", refractive_index, "", index_range, "nD of a wash at 20 degC");
    return detail::found(
        route, detail::solve_wash<5>(
                   [](const auto& c, const auto& in) {
                       using T = std::decay_t<decltype(c.e)>;
                       const T t = T(0.0 * c.e + oiml_r22::reference_c);
                       const T seen = c.x * in[4];
                       return std::array<T, 2>{T(detail::raw_gravity(c) - in[0] - in[1]), T(wash_refraction::raw_index(c.e, seen, t) - in[2] - in[3])};
                   },
                   {gravity, detail::density_formula(), refractive_index, detail::refraction_formula(), detail::kind_of_extract()}, route));
}

/// What a sample is made up to with water once its alcohol is boiled off.
enum class made_up_to { volume, mass };

/// (b) Gravity of a sample before and after its alcohol was boiled off and water made it up again, both at 20 degC.
///   before   SG 20/20, 0.95 to 1.2
///   after    SG 20/20, 0.995 to 1.2: extract and water alone
///   made_up  to the first volume (20 degC) or to the first mass
/// Throws RangeError, SolveError, InputError as above. Source: wash; exact, where Tabarie's rule (strength_by_tabarie) is a first order.
inline FoundStrength strength_from_boiled_down(const Uncertain& before, const Uncertain& after, const made_up_to made_up = made_up_to::volume) {
    constexpr std::string_view route = "boiled down";
    detail::require_sample_gravity("gravity before", before);
    detail::require_reading_of("gravity after", after, "SG 20/20", detail::boiled_gravity_range, "of extract and water alone");
    const auto residuals = [made_up](const auto& c, const auto& in) {
        using T = std::decay_t<decltype(c.e)>;
        // In what was made up there is extract and water alone.
        const detail::composition<T> rest{T(0.0 * c.e), T(c.x)};
        if (made_up == made_up_to::mass) {
            return std::array<T, 2>{T(detail::raw_gravity(c) - in[0] - in[1]), T(detail::raw_gravity(rest) - in[2])};
        }
        // The extract of a volume stays in that volume: x rho = w rho_w with w the strength of what was made up.
        const T per_volume = c.x * detail::raw_density(c);
        T w = c.x;
        constexpr int enough = 30;  // each turn gains three digits
        for (int i = 0; i < enough; ++i) w = per_volume / detail::raw_density(detail::composition<T>{T(0.0 * c.e), w});
        return std::array<T, 2>{T(detail::raw_gravity(c) - in[0] - in[1]), T(detail::raw_gravity(detail::composition<T>{T(0.0 * c.e), w}) - in[2])};
    };
    return detail::found(route, detail::solve_wash<3>(residuals, {before, detail::density_formula(), after}, route));
}

/// The same by Tabarie's rule, made up to volume: the gravity of water and the ethanol alone is before - after + 1.
/// Throws RangeError, SolveError, InputError as above. Source: tabarie_sg.
inline FoundStrength strength_by_tabarie(const Uncertain& before, const Uncertain& after) {
    constexpr std::string_view route = "boiled down, by Tabarie's rule";
    detail::require_sample_gravity("gravity before", before);
    detail::require_reading_of("gravity after", after, "SG 20/20", detail::boiled_gravity_range, "of extract and water alone");
    const auto spirit = [](const auto& c, const auto& in) {
        using T = std::decay_t<decltype(c.e)>;
        const detail::composition<T> alcohol{T(c.e), T(0.0 * c.x)};
        return std::array<T, 2>{T(detail::raw_gravity(alcohol) - (in[0] + in[1] - in[2] + 1.0)), T(c.x)};
    };
    const detail::composition<Uncertain> alcohol = detail::solve_wash<3>(spirit, {before, detail::density_formula(), after}, route);
    FoundStrength f = detail::found(route, detail::wash_of(detail::raw_abv(alcohol), before, route));
    return f;
}

/// How a fermenter was weighed.
struct GasLoss {
    Uncertain lost_kg;              ///< since pitching, 0 or more
    Uncertain wash_l;               ///< liquid at 20 degC, that in the grain included
    Uncertain temperature_c{20.0};  ///< of the wash while it fermented; what leaves is saturated with vapour
    Uncertain pressure_kpa{standard_atmosphere::sea_level_pressure / 1e3};
    bool airlock = true;  ///< gas left cooled and wet at the temperature of the wash; false: vapour was held back by a condenser
};

/// (c) Carbon dioxide lost on a scale.
///   loss      see GasLoss
///   gravity   SG 20/20 of the wash now, for its extract
/// The gas left behind in the wash is added (saturation at the wash's temperature), the vapour of water and ethanol that went with it taken off.
/// Throws RangeError, SolveError, InputError as above. Source: carbon_dioxide_per_ethanol, co2_solubility, dippr101.
inline FoundStrength strength_from_carbon_dioxide_lost(const GasLoss& loss, const Uncertain& gravity) {
    constexpr std::string_view route = "carbon dioxide lost";
    constexpr double most = 1e6;
    detail::require_sample_gravity("gravity", gravity);
    detail::require_reading_of("mass lost", loss.lost_kg, "kg", {1e-6, most}, "since pitching; a scale that has lost nothing says nothing yet");
    detail::require_reading_of("wash", loss.wash_l, "L", {1e-3, most}, "liquid at 20 degC");
    detail::require_reading_of("temperature", loss.temperature_c, "degC", {0.0, 40.0}, "of the wash");
    detail::require_reading_of("pressure", loss.pressure_kpa, "kPa", {50.0, 110.0}, "of the air");
    // Dalton: what a mole of gas carries with it. Half of the ethanol now is the mean over the fermentation, with half of that as doubt.
    const auto carried = [&](const Uncertain& pressure_pa, const double molar_mass) {
        const Uncertain total = loss.pressure_kpa * 1e3;
        return pressure_pa / (total - pressure_pa) * (molar_mass / stoichiometry::carbon_dioxide);
    };
    const Uncertain per_ethanol = detail::co2_per_ethanol.as_input("carbon dioxide per ethanol");
    const Uncertain& t = loss.temperature_c;
    constexpr double half = 0.5;
    const Uncertain liquid_kg = loss.wash_l * (volume_at_20c::density(0.0) * 1e-3);
    const Uncertain mean_share = half * loss.lost_kg / per_ethanol / liquid_kg;
    const Uncertain z = wash_vapour::mole_fraction(mean_share);
    // Ethanol over a weak wash: its activity coefficient at infinite dilution is about 5 at 20 to 30 degC (nrtl_ethanol_water).
    constexpr double dilute_activity = 5.0;
    const Uncertain water_pa = dippr101_water::vapour_pressure(t) * (1.0 - z);
    const Uncertain ethanol_pa = dilute_activity * z * dippr101_ethanol::vapour_pressure(t) * Uncertain::input(1.0, half, "ethanol carried off");
    const Uncertain with_gas = loss.airlock ? 1.0 + carried(water_pa, stoichiometry::water) + carried(ethanol_pa, stoichiometry::ethanol) : Uncertain(1.0);
    const Uncertain gone = loss.lost_kg / with_gas;
    // What was made is what has gone and what stays dissolved of it.
    constexpr double solubility_doubt = 0.1;  // co2_solubility
    const Uncertain solubility = Uncertain::input(1.0, solubility_doubt, "solubility of carbon dioxide");
    const auto missing = [](const auto& made, const auto& left, const auto& full) {
        using T = std::decay_t<decltype(made)>;
        const T share = exp(T(-made / full));
        return num::value_and_slope<T>{T(made - full * (1.0 - share) - left), T(1.0 - share)};
    };
    const Uncertain full = carbon_dioxide::saturation(t) * liquid_kg * solubility;
    const double saturated = gone.value() + full.value();
    const Uncertain made =
        num::bracketed_newton<Uncertain>([&](const double m) { return missing(m, gone.value(), full.value()); },
                                         [&](const Uncertain& m) { return missing(m, gone, full); }, gone.value(), saturated + full.value(), saturated);
    const Uncertain ethanol_kg = made / per_ethanol;
    const Uncertain abv = ethanol_kg * (1e3 / volume_at_20c::ethanol_density) / loss.wash_l;
    return detail::found(route, detail::wash_of(abv, gravity, route));
}

/// (d) Boiling point of the wash at the day's pressure.
///   boiling_c      degC
///   pressure_kpa   20 to 110; from water boiled just before: water_boiling gives it
///   gravity        SG 20/20 of the same wash, degassed, for its extract
/// Throws RangeError, SolveError, InputError as above. Source: wash_vapour; its own 0.17 K is part of the budget.
inline FoundStrength strength_from_boiling_point(const Uncertain& boiling_c, const Uncertain& pressure_kpa, const Uncertain& gravity) {
    constexpr std::string_view route = "boiling point";
    detail::require_sample_gravity("gravity", gravity);
    detail::require_reading_of("pressure", pressure_kpa, "kPa", {20.0, 110.0}, "of the air");
    detail::require_reading_of("boiling point", boiling_c, "degC", {50.0, 105.0}, "of a wash");
    return detail::found(route, detail::solve_wash<5>(
                                    [](const auto& c, const auto& in) {
                                        using T = std::decay_t<decltype(c.e)>;
                                        const T z = c.e * wash_vapour::water / (c.e * wash_vapour::water + (1.0 - c.x - c.e) * wash_vapour::ethanol);
                                        const T r = wash_vapour::solutes(c.x, T(0.0 * c.x + wash_vapour::extract_molar_mass));
                                        const T boils = wash_vapour::boiling_c(z, T(in[3] * 1e3), r);
                                        return std::array<T, 2>{T(detail::raw_gravity(c) - in[0] - in[1]), T(boils - in[2] - in[4])};
                                    },
                                    {gravity, detail::density_formula(), boiling_c, pressure_kpa, detail::boiling_point_formula()}, route));
}

/// (e) A small sample distilled.
///   distillate_abv   strength of what came over, volume fraction
///   distillate_ml    its volume at 20 degC, made up or not
///   sample_ml        volume of the wash that was distilled, at 20 degC
///   gravity          SG 20/20 of the wash, for its extract
///   recovery         share of the ethanol that came over; 99.5 +- 0.3 %, common practice, no source
/// Throws RangeError, SolveError, InputError as above.
inline FoundStrength strength_from_distilled_sample(const Uncertain& distillate_abv, const Uncertain& distillate_ml, const Uncertain& sample_ml,
                                                    const Uncertain& gravity, const measured& recovery = {0.995, 0.003}) {
    constexpr std::string_view route = "distilled sample";
    constexpr double most = 1e6;
    detail::require_sample_gravity("gravity", gravity);
    detail::require_reading_of("strength of the distillate", distillate_abv * detail::percent, "% vol", detail::percent_range, oiml_r22::from.citation);
    detail::require_reading_of("volume of the distillate", distillate_ml, "mL", {1e-3, most}, "at 20 degC");
    detail::require_reading_of("volume of the sample", sample_ml, "mL", {1e-3, most}, "at 20 degC");
    detail::require_reading_of("recovery", recovery.as_input("recovery"), "", {0.5, 1.0}, "share of the ethanol that came over");
    const Uncertain abv = distillate_abv * distillate_ml / sample_ml / recovery.as_input("recovery");
    require_inside("strength of the wash", detail::percent * abv.value(), "% vol", {0.0, 30.0},
                   "more alcohol came over than a wash can hold: check the volumes");
    return detail::found(route, detail::wash_of(abv, gravity, route));
}

}  // namespace ferment

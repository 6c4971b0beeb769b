#pragma once
// What one gravity reading of a no-cook wash says, and what it leaves open.
//
// Starch is not dissolved at pitching, so there is no original gravity to subtract from. The gravity of the wash depends on two unknowns: the
// share h of the starch that has been converted and the share f of all sugar that the yeast has taken; the balance is mash_balance::stage.
//
//   h = 0, f = 0   the mash before anything happens: only the grain's own sugars and solubles
//   h,     f = 1   no sugar stands free: gravity falls with h, from just above water to well below it
//   h,     f = 0   everything dissolved, nothing fermented: gravity rises with h, to the equivalent original gravity
//
// A reading is one equation for two unknowns. At the same gravity more conversion means both more alcohol and more standing sugar, so that
// every h from the least possible one up to the end point agrees with it. The least is usually near the truth: yeast takes glucose about as
// fast as raw starch gives it, save in the first day.

#include <algorithm>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <limits>
#include <string_view>

namespace ferment {

/// What a reading means, in one word.
///   below_lowest          below lowest_gravity, but within the doubt of it: the wash is done or the reading a little low; no strength goes with it
///   lower_than_possible   further below than doubt explains
enum class verdict { no_reading, higher_than_possible, sugar_standing, fermenting, near_end_point, below_lowest, lower_than_possible };

constexpr std::string_view to_string(const verdict v) {
    switch (v) {
        case verdict::no_reading: return "no reading";
        case verdict::higher_than_possible: return "higher than this bill can give, even with all starch dissolved as sugar";
        case verdict::sugar_standing: return "not started, or sugar still standing";
        case verdict::fermenting: return "fermenting";
        case verdict::near_end_point: return "near the end point";
        case verdict::below_lowest: return "below the lowest gravity of the plan";
        case verdict::lower_than_possible: return "lower than any wash of this bill can go";
    }
    return "unknown";
}

inline constexpr double verdict_coverage = 2.0;  // combined standard uncertainties that make a reading impossible

/// What a reading says. All shares are fractions; NaN where a figure does not exist.
struct WashReading {
    verdict says = verdict::no_reading;
    Uncertain gravity;                   ///< the reading, 20/20
    Uncertain conversion_without_sugar;  ///< share of the starch converted if no sugar stands free; NaN where the reading is too high for that
    Uncertain abv_without_sugar;         ///< volume fraction at 20 degC, likewise
    Uncertain least_conversion;          ///< the least conversion that agrees with the reading
    Uncertain least_abv;                 ///< and the strength that goes with it
    Uncertain most_conversion;           ///< that of the end point, unless the reading asks for more
    Uncertain most_abv;                  ///< the strength that goes with it, the rest of the sugar standing free
    Uncertain most_free_sugar;           ///< and that sugar, mass fraction of the liquid
    Uncertain start_gravity;             ///< nothing converted, nothing fermented
    Uncertain end_gravity;               ///< the expected end point
    Uncertain lowest_gravity;            ///< all starch converted and fermented
    Uncertain highest_gravity;           ///< all starch converted, nothing fermented
};

namespace detail {

/// The root of f(x, model) = target over x in [0, 1], f monotonic in x, with its first-order dependence on everything in model and target.
template <class F>
Uncertain solve_share(const F& f, const wash_model& model, const Uncertain& target) {
    const wash_model plain_model = model.plain();
    // The derivative comes from the propagation itself: an input of unit uncertainty contributes exactly its derivative.
    const auto plain = [&](const double x) {
        const Uncertain unit = Uncertain::input(x, 1.0, "x");
        const Uncertain y = f(unit, plain_model);
        return num::value_and_slope<double>{y.value() - target.value(), covariance(y, unit)};
    };
    const auto full = [&](const Uncertain& x) { return num::value_and_slope<Uncertain>{f(x, model) - target, Uncertain(plain(x.value()).slope)}; };
    constexpr double start = 0.5;
    return num::bracketed_newton<Uncertain>(plain, full, 0.0, 1.0, start);
}

}  // namespace detail

/// What a gravity reading of a no-cook wash says of its conversion and strength.
///   of          potential(bill, water, assumptions) of the wash
///   gravity     specific gravity 20/20, corrected for temperature, of degassed liquid without solids; 0.7 to 1.5
///   doubt       standard uncertainty of the reading, in gravity (0.0005 is half a point)
///   dissolved   share of the by-products that stays in solution
///   ->          verdict and intervals. Outside lowest_gravity to highest_gravity, which hold for the mean analysis of the grain, conversions and
///               strengths are NaN; that no wash can read so is said only where two combined standard uncertainties do not reach the reading.
/// Near the end point: not above the expected end gravity by more than one combined standard uncertainty of the difference.
/// Throws RangeError for a gravity outside its range, InputError for a negative doubt. NaN in gives "no reading" and NaN.
/// Source: mash_balance with wash; see the head of this file.
inline WashReading read_wash(const Potential& of, const specific_gravity<>& gravity, const double doubt,
                             const measured& dissolved = residue::dissolved_by_products) {
    constexpr num::interval sensible{0.7, 1.5};
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    detail::require_share("dissolved share of the by-products", dissolved);
    require_inside("gravity", gravity.value(), "SG 20/20", sensible, "what a hydrometer for wash or wort can show");
    const wash_model model = wash_model::of(of, dissolved);
    const Uncertain none(0.0);
    const Uncertain all(1.0);

    WashReading r;
    r.gravity = Uncertain::input(gravity.value(), doubt, "reading");
    r.start_gravity = model.gravity(none, none);
    r.end_gravity = model.gravity(of.conversion, all);
    r.lowest_gravity = model.gravity(all, all);
    r.highest_gravity = model.gravity(all, none);
    for (Uncertain WashReading::*const figure :
         {&WashReading::conversion_without_sugar, &WashReading::abv_without_sugar, &WashReading::least_conversion, &WashReading::least_abv,
          &WashReading::most_conversion, &WashReading::most_abv, &WashReading::most_free_sugar}) {
        r.*figure = Uncertain(nan);
    }
    const Uncertain& g = r.gravity;
    if (std::isnan(g.value())) {
        return r;
    }
    // Outside the curves of the mean analysis: beyond its doubt no wash of this bill; within it that is said, but there is no figure for either.
    if (g > r.highest_gravity) {
        const Uncertain beyond = g - r.highest_gravity;
        const bool clearly = beyond.value() > verdict_coverage * beyond.standard_uncertainty();
        r.says = clearly ? verdict::higher_than_possible : verdict::sugar_standing;
        return r;
    }
    if (g < r.lowest_gravity) {
        const Uncertain beyond = r.lowest_gravity - g;
        const bool clearly = beyond.value() > verdict_coverage * beyond.standard_uncertainty();
        r.says = clearly ? verdict::lower_than_possible : verdict::below_lowest;
        return r;
    }
    const Uncertain above_end = g - r.end_gravity;
    r.says = above_end.value() <= above_end.standard_uncertainty() ? verdict::near_end_point
             : g >= r.start_gravity                                ? verdict::sugar_standing
                                                                   : verdict::fermenting;

    const auto fermented_at = [&](const Uncertain& conversion) {
        return detail::solve_share([&](const Uncertain& f, const wash_model& m) { return m.gravity(conversion, f); }, model, g);
    };
    Uncertain least_fermented = none;
    if (g <= model.gravity(none, all)) {
        // No sugar needs to stand free: the lower curve.
        r.conversion_without_sugar = detail::solve_share([&](const Uncertain& h, const wash_model& m) { return m.gravity(h, all); }, model, g);
        r.abv_without_sugar = model.abv(r.conversion_without_sugar, all);
        r.least_conversion = r.conversion_without_sugar;
        least_fermented = all;
    } else if (g <= r.start_gravity) {
        // Part of the grain's own sugar explains it.
        r.least_conversion = none;
        least_fermented = fermented_at(none);
    } else {
        // More is dissolved than the grain brought: the upper curve.
        r.least_conversion = detail::solve_share([&](const Uncertain& h, const wash_model& m) { return m.gravity(h, none); }, model, g);
    }
    r.least_abv = model.abv(r.least_conversion, least_fermented);

    const bool asks_for_more = r.least_conversion >= of.conversion;
    r.most_conversion = asks_for_more ? r.least_conversion : of.conversion;
    const Uncertain most_fermented = asks_for_more ? least_fermented : fermented_at(of.conversion);
    r.most_abv = model.abv(r.most_conversion, most_fermented);
    const wash_masses<Uncertain> at_most = model.stage(r.most_conversion, most_fermented);
    r.most_free_sugar =
        (1.0 - most_fermented) * (model.masses.starch * r.most_conversion * stoichiometry::glucose_per_starch + model.masses.sugars) / at_most.liquid();
    return r;
}

}  // namespace ferment

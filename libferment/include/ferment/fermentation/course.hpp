#pragma once
// One batch from pitching on: its masses, its priors, the equations of its course and what can be measured of it.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/fermentation/inoculum.hpp>
#include <ferment/fermentation/kinetics.hpp>
#include <ferment/fermentation/vessel.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/liquid/carbon_dioxide.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/mash/potential.hpp>
#include <numbers>
#include <string>
#include <string_view>

namespace ferment {

/// What changes in time, per kg of mash (grain and water as charged).
namespace state {
enum index : std::size_t {
    slow_starch,  ///< kg/kg, will dissolve at the slow rate
    fast_starch,  ///< kg/kg, will dissolve at the fast rate
    sugar,        ///< kg/kg, free, as hexose
    yeast,        ///< kg/kg, alive, dry
    grown,        ///< kg/kg, all that ever grew
    adapted,      ///< share of the yeast over its lag
    enzyme,       ///< share of the enzyme not decayed
    temperature,  ///< degC
    count
};
}  // namespace state

/// A batch as it is known at pitching. Make it with of().
struct Fermentation {
    double mash_kg = 0.0;        ///< grain and water
    mash_masses<double> masses;  ///< kg
    double water_kg = 0.0;       ///< added
    double fast_share = 0.0;     ///< of the starch that dissolves, see starch_forms
    double dry_grain_kg = 0.0;
    Inoculum inoculum;
    Conditions conditions;
    std::array<kinetic_parameter, kinetic::count> priors = kinetic_table;

    /// The batch of a bill.
    ///   bill, of     the grain and its potential, which knows water, conversion, efficiency and the soluble share
    ///   inoculum     yeast and enzymes
    ///   conditions   temperature at pitching, ambient, vessel
    /// Throws InputError for an unknown form of grain, for a bill that the potential was not computed for, for what is no number; RangeError
    /// outside the ranges of inoculum and conditions.
    static Fermentation of(const Bill& bill, const Potential& of, const Inoculum& inoculum, const Conditions& conditions,
                           const measured& dissolved = residue::dissolved_by_products) {
        detail::require_grain(bill);
        detail::require_inoculum(inoculum);
        detail::require_conditions(conditions);
        detail::require_share("dissolved share of the by-products", dissolved);
        constexpr double same = 1e-9;  // relative
        const double grist = bill.total().value();
        if (!(std::abs(grist - of.grain_kg) <= same * grist)) {
            throw InputError("the bill weighs " + format_quantity(grist, "kg") + " but the potential was computed for " + format_quantity(of.grain_kg, "kg"));
        }
        Fermentation f;
        f.masses = {of.masses.starch.value(), of.masses.sugars.value(), of.masses.hexose_of_sugars.value(), of.masses.moisture.value(), of.masses.rest.value()};
        f.water_kg = of.water_kg;
        f.mash_kg = grist + of.water_kg;
        f.dry_grain_kg = grist - f.masses.moisture;
        if (f.masses.starch + f.masses.sugars <= 0.0) {
            throw InputError("the bill holds neither starch nor sugar: there is nothing to ferment");
        }
        if (f.water_kg + f.masses.moisture <= 0.0) {
            throw RangeError("mass of water 0 kg must be more than zero: dry grain does not ferment");
        }
        double fast = 0.0;
        double starch = 0.0;
        for (const BillItem& item : bill.items()) {
            const double kg = item.grain.starch.value * item.weight.value();
            fast += kg * starch_forms::fast_share(item.grain.form, item.grain.name);
            starch += kg;
        }
        if (!(std::abs(starch - f.masses.starch) <= same * grist)) {
            throw InputError("the bill holds " + format_quantity(starch, "kg") + " of starch but the potential was computed for " +
                             format_quantity(f.masses.starch, "kg"));
        }
        const double most_sunshine = vessel_heat::most_sunshine_w(f.mash_l());
        require_inside("sunshine", conditions.vessel.sunshine_w, "W", {0.0, most_sunshine}, "the most that falls on a vessel of this size at noon");
        f.fast_share = starch > 0.0 ? fast / starch : 0.0;
        f.inoculum = inoculum;
        f.conditions = conditions;
        if (f.masses.starch > 0.0) {
            f.priors[kinetic::starch_content].spread = of.masses.starch.standard_uncertainty() / f.masses.starch;
        }
        f.set_share(kinetic::soluble_share, "soluble share of the rest", {of.soluble_share_of_rest.value(), of.soluble_share_of_rest.standard_uncertainty()});
        f.set_share(kinetic::conversion_limit, "conversion", {of.conversion.value(), of.conversion.standard_uncertainty()});
        f.set_share(kinetic::fermentation_yield, "fermentation efficiency",
                    {of.fermentation_efficiency.value(), of.fermentation_efficiency.standard_uncertainty()});
        f.set_share(kinetic::dissolved_share, "dissolved share of the by-products", dissolved);
        return f;
    }

    /// Room that the mash takes, L.
    [[nodiscard]] double mash_l() const { return water_kg + masses.moisture + vessel_heat::grain_l_per_kg * dry_grain_kg; }

    /// Replaces the prior of a parameter, where more is known of it than kinetic_table says.
    ///   name     of kinetic_table
    ///   median   in the parameter's unit; above zero on the log scale, between 0 and 1 on the logit scale
    ///   spread   one standard deviation on the parameter's scale, zero or more
    /// Throws InputError for an unknown name or what is no number, RangeError outside.
    Fermentation& set_prior(const std::string_view name, const double median, const double spread) {
        const auto found = std::find_if(priors.begin(), priors.end(), [&](const kinetic_parameter& p) { return p.name == name; });
        if (found == priors.end()) {
            throw InputError("parameter " + in_quotes(name) + " is not known; known are " + parameter_names());
        }
        const std::string what(name);
        detail::require_number("median of " + what, median);
        detail::require_number("spread of " + what, spread);
        if (found->scale == spread_scale::log && median <= 0.0) {
            throw RangeError("median of " + what + " " + format_quantity(median, found->unit) + " must be more than zero");
        }
        if (found->scale == spread_scale::logit && (median <= 0.0 || median >= 1.0)) {
            throw RangeError("median of " + what + " " + format_number(median) + " must lie between 0 and 1");
        }
        if (spread < 0.0) {
            throw RangeError("spread of " + what + " " + format_number(spread) + " must be zero or more");
        }
        found->median = median;
        found->spread = spread;
        return *this;
    }

    /// Every parameter, so many spreads from its median.
    template <class T>
    [[nodiscard]] kinetic_values<T> values(const kinetic_values<T>& z) const {
        kinetic_values<T> p;
        for (std::size_t i = 0; i < kinetic::count; ++i) {
            p[i] = priors[i].at(z[i]);
        }
        return p;
    }

private:
    void set_share(const kinetic::index i, const std::string& what, const measured& share) {
        const double odds_slope = share.value * (1.0 - share.value);
        if (odds_slope <= 0.0 && share.standard_uncertainty > 0.0) {
            throw InputError(what + " " + format_quantity(detail::percent * share.value, "%") +
                             " cannot spread to both sides; give a value between 0 and 100 %, or " + "no uncertainty");
        }
        priors[i].median = share.value;
        priors[i].spread = odds_slope > 0.0 ? share.standard_uncertainty / odds_slope : 0.0;
    }
};

/// What can be measured of a wash, or reckoned from it, at one time.
struct WashState {
    double time_h = 0.0;
    double temperature_c = 0.0;
    double gravity = 0.0;       ///< SG 20/20 of the degassed liquid without solids
    double hydrometer = 0.0;    ///< what a glass hydrometer for SG 20/20 shows at the vessel's temperature; NaN outside 0 to 40 degC
    double density = 0.0;       ///< kg/m3 at the vessel's temperature; NaN outside 0 to 40 degC
    double abv = 0.0;           ///< volume fraction at 20 degC
    double abw = 0.0;           ///< mass fraction
    double real_extract = 0.0;  ///< mass fraction
    double conversion = 0.0;    ///< share of all starch that has dissolved
    double free_sugar = 0.0;    ///< mass fraction of the liquid
    double open_starch = 0.0;   ///< g per kg of liquid that enzymes have yet to dissolve; what the iodine test sees
    double starch_kg = 0.0;     ///< all that is left, resistant starch included
    double ethanol_kg = 0.0;
    double pure_alcohol_l = 0.0;  ///< at 20 degC
    double glycerol_kg = 0.0;
    double co2_kg = 0.0;  ///< made
    double co2_dissolved_kg = 0.0;
    double co2_lost_kg = 0.0;  ///< what a scale under the vessel misses, water vapour aside
    double co2_l_per_h = 0.0;  ///< gas made, at the wash's temperature and 101.325 kPa
    double heat_w = 0.0;       ///< of fermentation
    double yeast = 0.0;        ///< alive, dry, g per kg of liquid
};

/// The iodine test, as the model understands it.
struct iodine_test {
    static constexpr source from{
        "iodine_test",
        "starch that turns iodine dark, well stirred sample without grain [g per kg of liquid]",
        "raw granules stain even when the liquid is free of starch (remark of a mash handbook); no threshold for raw starch was found",
        "a drop on a white plate",
        "a factor of three",
        source_status::from_memory,
    };
    static constexpr double threshold = 1.0;         // g/kg of starch that enzymes can still reach
    static constexpr double threshold_spread = 1.1;  // of its logarithm: a factor of three

    /// Chance that the test shows starch: one half at the threshold.
    ///   open   g per kg of liquid
    static double chance_positive(const double open) {
        if (open <= 0.0) return 0.0;
        const double z = std::log(open / threshold) / threshold_spread;
        return 0.5 * std::erfc(-z / std::numbers::sqrt2);
    }
};

inline constexpr double done_sugar = 1e-3;  // mass fraction, worth less than half a point of gravity

/// When a wash counts as done: the iodine test no longer shows starch, and the sugar left is worth less than half a point of gravity.
///   open_starch   g per kg of liquid, see WashState
///   free_sugar    mass fraction of the liquid
constexpr bool done(const double open_starch, const double free_sugar) {
    return open_starch < iodine_test::threshold && free_sugar < done_sugar;
}

/// The equations of one batch with one set of parameters, per kg of mash. T is double, or lanes for several sets side by side.
template <class T>
struct fermentation_course {
    mash_masses<T> in;  // kg/kg
    T water{};
    T slow_start{}, fast_start{};
    kinetic_values<T> p{};
    T dose{};  // dose_factor
    double nutrients = 1.0;
    double yeast_start = 0.0;
    double heat_capacity = 0.0;    // kJ/(kg K)
    T heat_loss{};                 // kJ/(h K) per kg
    double sunshine_per_kg = 0.0;  // kJ/(h W) per kg
    const Conditions* conditions = nullptr;

    /// The course of a batch. The batch must outlive it.
    static fermentation_course of(const Fermentation& f, const kinetic_values<T>& z) {
        fermentation_course c;
        const double scale = 1.0 / f.mash_kg;
        c.p = f.values(z);
        // Parts were weighed together: what is more starch is less rest, and there is no less than none.
        const double starch = f.masses.starch * scale;
        const double rest = f.masses.rest * scale;
        const T more = starch * c.p[kinetic::starch_content] - starch;
        const T extra = num::select(more < rest, more, T(rest + 0.0 * more));
        c.in = {T(starch + extra), T(f.masses.sugars * scale + 0.0 * extra), T(f.masses.hexose_of_sugars * scale + 0.0 * extra),
                T(f.masses.moisture * scale + 0.0 * extra), T(rest - extra)};
        c.water = T(f.water_kg * scale + 0.0 * extra);
        const T open = c.in.starch * c.p[kinetic::conversion_limit];
        const T odds = c.p[kinetic::fast_share] / (1.0 - c.p[kinetic::fast_share]);
        const T fast = f.fast_share * odds / (1.0 - f.fast_share + f.fast_share * odds);
        c.fast_start = open * fast;
        c.slow_start = open - c.fast_start;
        c.dose = dose_factor(c.p, f.inoculum.enzyme_dose);
        c.nutrients = f.inoculum.nutrients;
        c.yeast_start = f.inoculum.yeast_kg * scale;
        const double water_share = (f.water_kg + f.masses.moisture) * scale;
        c.heat_capacity = vessel_heat::water_kj_per_kg_k * (water_share + vessel_heat::dry_grain_relative * f.dry_grain_kg * scale);
        constexpr double kj_per_wh = 3.6;
        c.heat_loss = f.conditions.vessel.heat_transfer * vessel_heat::surface_m2(f.mash_l()) * kj_per_wh * scale * c.p[kinetic::heat_loss];
        c.sunshine_per_kg = kj_per_wh * scale;
        c.conditions = &f.conditions;
        return c;
    }

    /// At pitching.
    template <class State>
    void start(State& y) const {
        y[state::slow_starch] = slow_start;
        y[state::fast_starch] = fast_start;
        y[state::sugar] = in.hexose_of_sugars;
        y[state::yeast] = yeast_start * p[kinetic::pitched_activity];
        y[state::grown] = T(0.0 * slow_start);
        y[state::adapted] = T(0.0 * slow_start);
        y[state::enzyme] = T(1.0 + 0.0 * slow_start);
        y[state::temperature] = T(conditions->mash_c + 0.0 * slow_start);
    }

    /// Starch dissolved since pitching, kg/kg.
    template <class State>
    [[nodiscard]] T dissolved(const State& y) const {
        return (slow_start + fast_start) - (y[state::slow_starch] + y[state::fast_starch]);
    }
    /// Sugar taken by the yeast since pitching, kg of hexose per kg.
    template <class State>
    [[nodiscard]] T taken(const State& y) const {
        return in.hexose_of_sugars + stoichiometry::glucose_per_starch * dissolved(y) - y[state::sugar];
    }
    /// Share of all starch dissolved, 0 for a bill without.
    template <class State>
    [[nodiscard]] T conversion(const State& y) const {
        return num::select(in.starch > 0.0, T(dissolved(y) / in.starch), T(0.0 * in.starch));
    }
    /// Everything by mass, per kg of mash.
    template <class State>
    [[nodiscard]] wash_masses<T> stage(const State& y) const {
        const T h = conversion(y);
        const T all_sugar = stoichiometry::glucose_per_starch * in.starch * h + in.hexose_of_sugars;
        const T fermented = num::select(all_sugar > 0.0, T(taken(y) / all_sugar), T(0.0 * all_sugar));
        return mash_balance::stage<T>(in, water, h, fermented, p[kinetic::fermentation_yield], p[kinetic::dissolved_share], p[kinetic::soluble_share]);
    }

    template <class State>
    [[nodiscard]] moment<T> at(const State& y, const wash_masses<T>& m) const {
        constexpr double grams = 1000.0;
        const T per_liquid = grams / m.liquid();
        return {y[state::sugar] * per_liquid, m.ethanol * per_liquid, y[state::yeast] * per_liquid,
                y[state::grown] * per_liquid, y[state::adapted],      y[state::enzyme],
                y[state::temperature]};
    }

    /// Starch that enzymes have yet to dissolve, g per kg of liquid.
    template <class State>
    [[nodiscard]] T open_starch(const State& y, const T& liquid) const {
        constexpr double grams = 1000.0;
        return (y[state::slow_starch] + y[state::fast_starch]) / liquid * grams;
    }
    /// Whether the wash counts as done.
    template <class State>
    [[nodiscard]] bool done(const State& y) const {
        const T liquid = stage(y).liquid();
        using num::value_of;
        return ferment::done(value_of(open_starch(y, liquid)), value_of(T(y[state::sugar] / liquid)));
    }

    /// The right-hand side: dy/dt per hour.
    template <class State>
    void operator()(const State& y, State& slope, const double hour) const {
        slopes(y, slope, T(conditions->ambient.at(hour) + 0.0 * slow_start), T(vessel_heat::sunshine_w(conditions->vessel, hour) + 0.0 * slow_start));
    }

    /// The same.
    ///   air     degC
    ///   sun_w   W
    template <class State>
    void slopes(const State& y, State& slope, const T& air, const T& sun_w) const {
        constexpr double kilograms = 1e-3;
        const wash_masses<T> m = stage(y);
        const moment_rates<T> r = rates_at_dose(at(y, m), p, dose, nutrients);
        const T uptake = r.uptake * kilograms * m.liquid();
        const T growth = r.growth * kilograms * m.liquid();
        slope[state::slow_starch] = -r.slow * y[state::slow_starch];
        slope[state::fast_starch] = -r.fast * y[state::fast_starch];
        slope[state::sugar] = -stoichiometry::glucose_per_starch * (slope[state::slow_starch] + slope[state::fast_starch]) - uptake;
        slope[state::yeast] = growth - r.death * y[state::yeast];
        slope[state::grown] = growth;
        slope[state::adapted] = r.adaptation * (1.0 - y[state::adapted]);
        slope[state::enzyme] = -r.enzyme_decay * y[state::enzyme];
        const T outside = air + p[kinetic::ambient_offset];
        const T sun = sunshine_per_kg * sun_w;
        slope[state::temperature] = (vessel_heat::fermentation_kj_per_kg * uptake + sun - heat_loss * (y[state::temperature] - outside)) / heat_capacity;
    }
};

/// What an ensemble keeps of a course at a time; units as in WashState.
template <class T>
struct Measurable {
    T gravity{};
    T abv{};
    T temperature_c{};
    T conversion{};
    T co2_lost_kg{};
    T co2_l_per_h{};
    T open_starch{};
};

namespace detail {

/// Sugar taken, kg/h.
template <class T, class State>
T taken_per_h(const fermentation_course<T>& c, const State& y, const wash_masses<T>& m, const double mash_kg) {
    constexpr double grams = 1000.0;
    return rates_at_dose(c.at(y, m), c.p, c.dose, c.nutrients).uptake / grams * m.liquid() * mash_kg;
}
/// Gas made, L/h.
template <class T>
T gas_l_per_h(const fermentation_course<T>& c, const T& taken_per_h, const T& temperature_c) {
    using num::value_of;
    return taken_per_h * c.p[kinetic::fermentation_yield] * stoichiometry::co2_per_glucose * carbon_dioxide::litres_per_kg(value_of(temperature_c));
}

}  // namespace detail

/// See Measurable.
///   mash_kg   grain and water
template <class T, class State>
Measurable<T> measurable(const fermentation_course<T>& c, const State& y, const double mash_kg) {
    const wash_masses<T> m = c.stage(y);
    const T liquid = m.liquid();
    const T e = m.ethanol / liquid;
    const T x = m.extract / liquid;
    const T made = m.carbon_dioxide * mash_kg;
    const T t = y[state::temperature];
    return {wash::gravity_20_20(e, x),
            wash::abv(e, x),
            t,
            c.conversion(y),
            T(made - carbon_dioxide::dissolved(made, T(liquid * mash_kg), t)),
            detail::gas_l_per_h(c, detail::taken_per_h(c, y, m, mash_kg), t),
            c.open_starch(y, liquid)};
}

/// What can be measured of a course at a time.
///   f      the batch the course was made of
///   hour   h after pitching
template <class State>
WashState observe(const Fermentation& f, const fermentation_course<double>& c, const State& y, const double hour) {
    constexpr double grams = 1000.0;
    constexpr double watts = 1000.0;  // in a kilowatt
    constexpr double glycerol_share = residue::glycerol / (residue::glycerol + residue::succinic_acid + residue::other);
    const wash_masses<double> m = c.stage(y);
    const double liquid = m.liquid();
    const double taken_per_h = detail::taken_per_h(c, y, m, f.mash_kg);
    WashState s;
    s.time_h = hour;
    s.temperature_c = y[state::temperature];
    s.abw = m.ethanol / liquid;
    s.real_extract = m.extract / liquid;
    s.gravity = wash::gravity_20_20(s.abw, s.real_extract);
    s.hydrometer = Hydrometer().stem(s.abw, s.real_extract, s.temperature_c);
    s.density = wash::density(s.abw, s.real_extract, s.temperature_c);
    s.abv = wash::abv(s.abw, s.real_extract);
    s.conversion = c.conversion(y);
    s.free_sugar = y[state::sugar] / liquid;
    s.open_starch = c.open_starch(y, liquid);
    s.starch_kg = m.starch * f.mash_kg;
    s.ethanol_kg = m.ethanol * f.mash_kg;
    s.pure_alcohol_l = s.ethanol_kg * litres_per_cubic_metre / volume_at_20c::ethanol_density;
    s.glycerol_kg = glycerol_share * m.by_products * f.mash_kg;
    s.co2_kg = m.carbon_dioxide * f.mash_kg;
    s.co2_dissolved_kg = carbon_dioxide::dissolved(s.co2_kg, liquid * f.mash_kg, s.temperature_c);
    s.co2_lost_kg = s.co2_kg - s.co2_dissolved_kg;
    s.co2_l_per_h = detail::gas_l_per_h(c, taken_per_h, s.temperature_c);
    s.heat_w = taken_per_h * vessel_heat::fermentation_kj_per_kg * watts / vessel_heat::seconds_per_hour;
    s.yeast = y[state::yeast] / liquid * grams;
    return s;
}

}  // namespace ferment

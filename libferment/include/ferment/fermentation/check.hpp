#pragma once
// Is this reading where it should be? The plan, the readings so far and the model, weighed against each other in one call.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/error.hpp>
#include <ferment/fermentation/causes.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/fit.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ferment {

/// The reading that was asked about, beside what could be expected of it.
struct Expected {
    std::string_view what;  ///< gravity, temperature or co2_lost
    double read = 0.0;
    Spread range{};  ///< quantiles of the forecast from the plan and all earlier readings; the reading's own error is not in them
    double z = 0.0;  ///< read less expected, in standard deviations of forecast and reading together
};

/// The answer.
struct Check {
    double time_h = 0.0;                                  ///< of the last reading
    std::vector<Expected> expected;                       ///< for everything measured in the last reading
    Spread conversion{};                                  ///< share of the starch dissolved by now
    Spread abv{};                                         ///< strength now, volume fraction
    Spread gravity{};                                     ///< what the gravity should be now, all readings considered
    std::array<double, standing_count> probability{};     ///< of each standing
    std::array<double, cause_count> cause_probability{};  ///< of each cause, readings considered
    standing stands = standing::on_course;                ///< the most probable
    cause because = cause::as_planned;                    ///< the most probable
    Spread days_to_finish{};                              ///< from the last reading; zero where done, infinite where not within `horizon`
    Spread end_gravity{};                                 ///< at the horizon
    Spread end_abv{};
    double look_again_h = 0.0;  ///< after pitching
    std::string says;           ///< all of it in plain words
    std::string warning;        ///< empty unless the readings contradict the plan and every cause
};

namespace detail {

inline constexpr double after_reading_h = 28.0 * hours_per_day;  // how far a check looks ahead
inline constexpr double stopped_window_h = 48.0;
inline constexpr double stopped_share = 0.02;  // of the alcohol still to come, made within the window
inline constexpr double slow_share = 0.10;     // of the forecasts made at pitching

inline Fermentation under(const Fermentation& f, const cause_model& m) {
    Fermentation other = f;
    if (m.parameter == kinetic::count) return other;
    kinetic_parameter& p = other.priors[m.parameter];
    switch (p.scale) {
        case spread_scale::normal: p.median += m.shift; break;
        case spread_scale::log: p.median *= m.shift; break;
        case spread_scale::logit: p.median = m.shift * p.median / (1.0 - p.median + m.shift * p.median); break;
    }
    p.spread = m.spread;
    return other;
}

/// One explanation of the readings: a batch, what its fit believes, and how probable it is.
struct Explanation {
    cause what = cause::as_planned;
    Fermentation batch;
    Fitted fitted;
    double log_weight = 0.0;
};

/// A cause that shifts a parameter one way explains nothing that asks for the other: its fit must lie on its side of the plan's median.
inline bool on_its_side(const Fermentation& planned, const Explanation& e) {
    const cause_model& m = cause_models[static_cast<std::size_t>(e.what)];
    if (m.parameter == kinetic::count) return true;
    const kinetic_parameter& prior = e.batch.priors[m.parameter];
    const double plan = planned.priors[m.parameter].median;
    const double found = prior.at(e.fitted.belief.mean[static_cast<Eigen::Index>(m.parameter)]);
    return (prior.median < plan) == (found < plan);
}

/// Every explanation of the readings; without the reading errors where only the wash itself is of interest.
inline std::vector<Explanation> explanations(const Fermentation& f, const std::vector<Reading>& readings, const bool with_reading_errors) {
    std::vector<Explanation> all;
    const auto add = [&](const cause_model& m, const std::vector<Reading>& as_read, const double before) {
        Explanation e{m.what, under(f, m), {}, 0.0};
        // A doubted reading moves the plan's fit only a little.
        const bool from_plan = m.what == cause::reading_error;
        e.fitted = fit(e.batch, as_read, from_plan ? all.front().fitted.belief.mean : Belief::Vector::Zero().eval());
        e.log_weight = on_its_side(f, e) ? std::log(before) + e.fitted.log_evidence : -std::numeric_limits<double>::infinity();
        all.push_back(std::move(e));
    };
    const auto gravities = std::count_if(readings.begin(), readings.end(), [](const Reading& r) { return r.gravity.has_value(); });
    const bool iodine = std::any_of(readings.begin(), readings.end(), [](const Reading& r) { return r.iodine.has_value(); });
    for (const cause_model& m : cause_models) {
        if (m.what == cause::enzyme_spent && !iodine) continue;
        if (m.what != cause::reading_error) {
            add(m, readings, m.before);
            continue;
        }
        for (std::size_t i = 0; with_reading_errors && i < readings.size(); ++i) {
            if (!readings[i].gravity) continue;
            std::vector<Reading> doubted = readings;
            measured& g = *doubted[i].gravity;
            g.standard_uncertainty = std::hypot(g.standard_uncertainty, cause_model::gravity_error);
            add(m, doubted, m.before / static_cast<double>(gravities));
        }
    }
    return all;
}

/// Normalised probabilities of explanations.
inline std::vector<double> weights(const std::vector<Explanation>& all) {
    double most = -std::numeric_limits<double>::infinity();
    for (const Explanation& e : all) most = std::max(most, e.log_weight);
    std::vector<double> w;
    double sum = 0.0;
    for (const Explanation& e : all) {
        w.push_back(std::exp(e.log_weight - most));
        sum += w.back();
    }
    for (double& x : w) x /= sum;
    return w;
}

/// Which explanation each member of an ensemble is drawn from: in proportion to their probability, by systematic sampling.
class Shares {
public:
    Shares(const std::vector<double>& w, const std::size_t members) : members_(static_cast<double>(members)) {
        double cumulated = 0.0;
        for (const double x : w) up_to_.push_back(cumulated += x);
    }
    [[nodiscard]] std::size_t of(const std::size_t member) const {
        const double place = (static_cast<double>(member) + 0.5) / members_;
        const auto found = std::lower_bound(up_to_.begin(), up_to_.end() - 1, place);
        return static_cast<std::size_t>(found - up_to_.begin());
    }

private:
    std::vector<double> up_to_{};
    double members_;
};

/// Courses drawn from several explanations.
template <class Use>
void draw_courses(const std::vector<Explanation>& all, const std::vector<double>& w, const std::vector<double>& hours, const std::size_t members,
                  const std::uint64_t seed, const Use& use) {
    const Shares shares(w, members);
    for (std::size_t i = 0; i < members; ++i) {
        const Explanation& e = all[shares.of(i)];
        use(simulate(e.batch, hours, e.fitted.belief.draw(seed, i), ensemble_tolerance(e.batch)));
    }
}

inline Expected expected_of(const std::string_view what, const measured& read, const std::vector<double>& values) {
    double mean = 0.0;
    for (const double v : values) mean += v;
    mean /= static_cast<double>(values.size());
    double variance = read.standard_uncertainty * read.standard_uncertainty;
    for (const double v : values) variance += (v - mean) * (v - mean) / static_cast<double>(values.size() - 1);
    return {what, read.value, spread_of(values), (read.value - mean) / std::sqrt(variance)};
}

inline std::string whole(const double x) {
    return format_number(std::round(x));
}
inline std::string to_go(const Spread& d) {
    constexpr std::size_t low = 0, middle = 2, high = 4;
    if (std::isinf(d[middle])) return "not done within four weeks";
    const auto day = [](const double x) { return std::isinf(x) ? std::string("more than 28") : whole(x); };
    const std::string range = " (" + day(d[low]) + " to " + day(d[high]) + ")";
    const double days = std::round(d[middle]);
    if (days == 0.0) return "done within a day" + range;
    return "done in about " + whole(days) + (days == 1.0 ? " more day" : " more days") + range;
}

inline std::string plain_words(const Check& c) {
    constexpr std::size_t low = 0, middle = 2, high = 4;
    const double sure = c.probability[static_cast<std::size_t>(c.stands)];
    std::string s(to_string(c.stands));
    s += " (" + whole(percent * sure) + " %)";
    s += ", " + whole(percent * c.conversion[middle]) + " % of the starch dissolved (" + whole(percent * c.conversion[low]) + " to " +
         whole(percent * c.conversion[high]) + ")";
    if (c.stands != standing::finished) s += ", " + to_go(c.days_to_finish);
    if (c.because != cause::as_planned) {
        s += "; most likely " + std::string(to_string(c.because)) + " (" + whole(percent * c.cause_probability[static_cast<std::size_t>(c.because)]) + " %)";
    }
    if (!c.warning.empty()) s += "; but the readings contradict the model";
    return s;
}

}  // namespace detail

/// The forecast of a batch that has readings, every explanation of them considered.
///   f          see Fermentation::of
///   hours      times, as for forecast; they may lie before the readings as well
///   readings   as for check, at least one
/// Throws as check does.
inline Forecast forecast_with_readings(const Fermentation& f, const std::vector<double>& hours, const std::vector<Reading>& readings,
                                       const std::size_t members = usual_members, const std::uint64_t seed = usual_seed, const EnsembleOptions& options = {}) {
    detail::require_times(hours);
    detail::require_members(members);
    const std::vector<detail::Explanation> all = detail::explanations(f, readings, true);
    const detail::Shares shares(detail::weights(all), members);
    const auto course_at = [&](const std::size_t i) {
        const detail::Explanation& e = all[shares.of(i)];
        return fermentation_course<double>::of(e.batch, e.fitted.belief.draw(seed, i));
    };
    return detail::forecast_of(f, hours, members, course_at, options);
}

/// Whether the last reading is where it should be, and what all readings say together.
///   f          the batch, see Fermentation::of
///   readings   at least one, times not going backwards; the last is the one asked about
///   members    courses behind every probability
///   seed       the same seed gives the same answer on every machine
/// Throws as fit does, and InputError for no reading at all. Source: kinetic_table, cause_model; how often it is right: docs/no_cook_model.md.
inline Check check(const Fermentation& f, const std::vector<Reading>& readings, const std::size_t members = usual_members,
                   const std::uint64_t seed = usual_seed) {
    if (readings.empty()) {
        throw InputError("there is no reading to check; give at least one");
    }
    detail::require_readings(readings);
    detail::require_members(members);
    constexpr double infinity = std::numeric_limits<double>::infinity();
    const Reading& last = readings.back();
    const double now = last.time_h;
    const double horizon = std::min(now + detail::after_reading_h, detail::longest_course_h);
    Check c;
    c.time_h = now;

    // What could be expected of the last reading before it was taken.
    {
        const std::vector<detail::Explanation> before = detail::explanations(f, {readings.begin(), readings.end() - 1}, false);
        std::vector<double> gravity, temperature, co2;
        detail::draw_courses(before, detail::weights(before), {now}, members, seed, [&](const Course& course) {
            const WashState& s = course.at.front();
            gravity.push_back(s.gravity);
            temperature.push_back(s.temperature_c);
            co2.push_back(s.co2_lost_kg);
        });
        if (last.gravity) c.expected.push_back(detail::expected_of("gravity", *last.gravity, gravity));
        if (last.temperature) c.expected.push_back(detail::expected_of("temperature", *last.temperature, temperature));
        if (last.co2_lost) c.expected.push_back(detail::expected_of("co2_lost", *last.co2_lost, co2));
    }

    // When a batch like this should be done, and how strong it should be by now.
    std::vector<double> planned_done, planned_abw;
    for (std::size_t i = 0; i < members; ++i) {
        const Course course = simulate(f, {now, horizon}, Belief{}.draw(seed, i), detail::ensemble_tolerance(f));
        planned_done.push_back(std::isnan(course.done_h) ? infinity : course.done_h);
        planned_abw.push_back(course.at.front().abw);
    }
    std::sort(planned_done.begin(), planned_done.end());
    std::sort(planned_abw.begin(), planned_abw.end());
    const double latest = quantile_of_sorted(planned_done, 1.0 - detail::slow_share);
    const double weakest = quantile_of_sorted(planned_abw, detail::slow_share);

    const std::vector<detail::Explanation> all = detail::explanations(f, readings, true);
    const std::vector<double> w = detail::weights(all);
    double best_chance = 0.0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        c.cause_probability[static_cast<std::size_t>(all[i].what)] += w[i];
        best_chance = std::max(best_chance, all[i].fitted.chance);
    }
    std::vector<double> conversion, abv, gravity, to_finish, end_gravity, end_abv;
    const std::vector<double> times{now, std::min(now + detail::stopped_window_h, horizon), horizon};
    detail::draw_courses(all, w, times, members, seed, [&](const Course& course) {
        const WashState& here = course.at[0];
        const WashState& soon = course.at[1];
        const WashState& end = course.at[2];
        const double done_h = std::isnan(course.done_h) ? infinity : course.done_h;
        // What could still come: the sugar in the wash and the starch within reach of enzymes.
        const double to_come = stoichiometry::ethanol_per_glucose * (here.free_sugar + stoichiometry::glucose_per_starch * here.open_starch * 1e-3);
        const double made = soon.abw - here.abw;
        const bool late = here.abw < weakest || done_h > latest || std::isinf(done_h);
        const standing stands = done_h <= now                            ? standing::finished
                                : made < detail::stopped_share * to_come ? standing::stopped
                                : late                                   ? standing::slow
                                                                         : standing::on_course;
        c.probability[static_cast<std::size_t>(stands)] += 1.0 / static_cast<double>(members);
        conversion.push_back(here.conversion);
        abv.push_back(here.abv);
        gravity.push_back(here.gravity);
        to_finish.push_back(std::max(0.0, done_h - now) / hours_per_day);
        end_gravity.push_back(end.gravity);
        end_abv.push_back(end.abv);
    });
    c.conversion = spread_of(conversion);
    c.abv = spread_of(abv);
    c.gravity = spread_of(gravity);
    c.days_to_finish = spread_of(to_finish);
    c.end_gravity = spread_of(end_gravity);
    c.end_abv = spread_of(end_abv);
    c.stands = static_cast<standing>(std::max_element(c.probability.begin(), c.probability.end()) - c.probability.begin());
    c.because = static_cast<cause>(std::max_element(c.cause_probability.begin(), c.cause_probability.end()) - c.cause_probability.begin());
    // Half of what is left to wait, but not within a day nor after four: common practice, no source.
    constexpr double soonest_days = 1.0, latest_days = 4.0;
    c.look_again_h = now + hours_per_day * std::clamp(std::round(0.5 * c.days_to_finish[2]), soonest_days, latest_days);
    if (best_chance < contradiction_chance) {
        c.warning = all.front().fitted.warning;
    }
    c.says = detail::plain_words(c);
    return c;
}

}  // namespace ferment

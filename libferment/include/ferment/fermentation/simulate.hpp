#pragma once
// One course of one batch, at the times asked for.

#include <Eigen/Core>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/ode.hpp>
#include <string>
#include <vector>

namespace ferment {

/// A course.
struct Course {
    std::vector<WashState> at;  ///< one for each time asked for
    double done_h = 0.0;        ///< when the wash counted as done; NaN where it did not within the times asked for
    std::size_t steps = 0;      ///< of the integrator
};

namespace detail {

inline constexpr double longest_course_h = 24.0 * 365.0;

inline void require_times(const std::vector<double>& hours) {
    if (hours.empty()) {
        throw InputError("give at least one time, in hours after pitching");
    }
    for (std::size_t i = 0; i < hours.size(); ++i) {
        require_number("time", hours[i]);
        require_inside("time", hours[i], "h", {0.0, longest_course_h}, "after pitching; a year at most");
        if (i > 0 && hours[i] < hours[i - 1]) {
            throw InputError("times must not go backwards; " + format_quantity(hours[i], "h") + " follows " + format_quantity(hours[i - 1], "h"));
        }
    }
}

inline void require_tolerance(const ode::Tolerance& t) {
    require_number("relative tolerance", t.relative);
    require_number("absolute tolerance", t.absolute);
    require_number("longest step", t.longest_step_h);
    require_inside("relative tolerance", t.relative, "", {1e-13, 1e-2}, "of the integrator");
    require_inside("absolute tolerance", t.absolute, "", {1e-15, 1e-2}, "of the integrator");
    require_inside("longest step", t.longest_step_h, "h", {1e-3, 7.0 * hours_per_day}, "of the integrator");
}

/// For ensembles and fits: far closer than any reading, at half the cost. Where nothing around the vessel changes, no swing can be stepped over.
inline ode::Tolerance ensemble_tolerance(const Fermentation& f) {
    constexpr double relative = 1e-6, absolute = 1e-8, steady_step_h = 48.0;
    constexpr std::size_t most_steps = 10000;  // parameters that need more are not worth waiting for
    ode::Tolerance t{relative, absolute};
    t.most_steps = most_steps;
    if (f.conditions.ambient.steady() && f.conditions.vessel.sunshine_w == 0.0) t.longest_step_h = steady_step_h;
    return t;
}

using course_state = Eigen::Matrix<double, static_cast<int>(state::count), 1>;

}  // namespace detail

/// The course of a batch.
///   f           see Fermentation::of
///   hours       times at which to look, h after pitching, not going backwards, 0 to a year
///   z           how many spreads each parameter lies from its median; zero for all: the medians
///   tolerance   of the integrator
/// Throws InputError, RangeError as said; SolveError where the integrator fails. Source: no_cook_kinetics, kinetic_table.
inline Course simulate(const Fermentation& f, const std::vector<double>& hours, const kinetic_values<double>& z = {}, const ode::Tolerance& tolerance = {}) {
    detail::require_times(hours);
    detail::require_tolerance(tolerance);
    const auto c = fermentation_course<double>::of(f, z);
    detail::course_state y;
    c.start(y);
    Course course;
    course.at.reserve(hours.size());
    const ode::Report report = ode::integrate<static_cast<int>(state::count)>(
        c, y, hours, [&](const detail::course_state& now, const double hour) { course.at.push_back(observe(f, c, now, hour)); },
        [&](const detail::course_state& now) { return c.done(now); }, tolerance);
    course.done_h = report.event_h;
    course.steps = report.steps;
    return course;
}

}  // namespace ferment

#pragma once
// The integrator: the only header that includes odeint, which adds operators to Eigen's namespace.

#include <Eigen/Core>
#include <boost/numeric/odeint/util/bind.hpp>
#include <boost/numeric/odeint/util/unwrap_reference.hpp>
// These need the two above.
#include <boost/numeric/odeint/algebra/vector_space_algebra.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
// And this one needs the steppers.
#include <boost/numeric/odeint/external/eigen/eigen.hpp>

#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <functional>
#include <limits>

namespace boost::numeric::odeint {

/// Scratch space that is zero from the start: the steppers copy theirs before its first use.
template <int N>
struct state_wrapper<Eigen::Matrix<double, N, 1>, void> {
    using state_type = Eigen::Matrix<double, N, 1>;
    using value_type = double;
    using state_wrapper_type = state_wrapper<state_type, void>;
    state_type m_v = state_type::Zero();
};

}  // namespace boost::numeric::odeint

namespace ferment::ode {

/// How closely an integration follows its equations.
struct Tolerance {
    double relative = 1e-8;
    double absolute = 1e-10;      ///< in the units of the state
    double longest_step_h = 6.0;  ///< a quarter of a day, so that no swing of the day is stepped over
    std::size_t most_steps = 100000;
};

/// What an integration did.
struct Report {
    std::size_t steps = 0;
    double event_h = std::numeric_limits<double>::quiet_NaN();  ///< first time at which the event held; NaN where it never did
};

/// Integrates y' = f(y, t) from time 0 and calls out(y, t) at each of `times`, between steps by the stepper's own interpolation of fourth order.
///   times   rising, 0 or more
///   event   event(y) is true from some time on; that time is found by bisection of the interpolated course
///   ->      steps taken and time of the event. Dormand-Prince 5(4) with step control: the fastest process of a fermentation (sugar at its half
///           saturation) relaxes within half an hour to hours, so that an explicit stepper is limited by accuracy, hardly by stability.
/// Throws SolveError where the steps do not suffice or the state is no longer finite.
template <int N, class F, class Times, class Out, class Event>
Report integrate(const F& f, const Eigen::Matrix<double, N, 1>& start, const Times& times, const Out& out, const Event& event,
                 const Tolerance& tolerance = {}) {
    namespace od = boost::numeric::odeint;
    using State = Eigen::Matrix<double, N, 1>;
    using Stepper = od::runge_kutta_dopri5<State, double, State, double, od::vector_space_algebra>;
    constexpr double first_step_h = 1e-3;
    constexpr double event_resolution_h = 1e-6;
    auto stepper = od::make_dense_output(tolerance.absolute, tolerance.relative, tolerance.longest_step_h, Stepper());
    stepper.initialize(start, 0.0, first_step_h);
    Report report;
    State at = start;
    if (event(start)) report.event_h = 0.0;
    for (const double t : times) {
        while (stepper.current_time() < t) {
            if (++report.steps > tolerance.most_steps || !std::isfinite(stepper.current_state().sum())) {
                throw SolveError("the course of the fermentation could not be followed past " + format_quantity(stepper.current_time(), "h"));
            }
            stepper.do_step(std::cref(f));
            if (std::isnan(report.event_h) && event(stepper.current_state())) {
                double before = stepper.previous_time();
                report.event_h = stepper.current_time();
                while (report.event_h - before > event_resolution_h) {
                    const double middle = 0.5 * (before + report.event_h);
                    stepper.calc_state(middle, at);
                    (event(at) ? report.event_h : before) = middle;
                }
            }
        }
        if (report.steps == 0) {
            out(start, t);
        } else {
            stepper.calc_state(t, at);
            out(at, t);
        }
    }
    if (report.event_h > times.back()) report.event_h = std::numeric_limits<double>::quiet_NaN();
    return report;
}

}  // namespace ferment::ode

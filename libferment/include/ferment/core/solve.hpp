#pragma once
// The one inverse of the library: Newton's method kept inside a bracket, run until round-off stops it.

#include <ferment/core/polynomial.hpp>
#include <ferment/core/scalar.hpp>
#include <limits>
#include <type_traits>

namespace ferment::num {

inline constexpr int newton_iteration_limit = 80;  // bisection alone needs 60 to exhaust the digits of a double

/// The root of f in [lower, upper], where f is monotonic there.
///   f      callable T -> value_and_slope<T>; a slope that is too flat, zero or of the wrong sign is caught by the bracket, one several times too
///          steep is not: the search would crawl
///   start  first guess; one outside the bracket is replaced by its middle
///   ->     the root, to round-off; NaN where f does not change sign over the bracket or is NaN; never throws
/// Works on double and on lanes, where every lane runs until the last one has converged.
template <class T, class F>
T bracketed_newton(const F& f, T lower, T upper, T start) {
    const T zero = T(0.0);
    const T at_lower = f(lower).value;
    const T at_upper = f(upper).value;
    // A root that sits on an end of the range is a root: both ends belong to it.
    const auto bracketed = (at_lower <= zero && at_upper >= zero) || (at_lower >= zero && at_upper <= zero);
    const auto rising = at_upper >= at_lower;
    constexpr double resolution = 2.0 * std::numeric_limits<double>::epsilon();
    // Where f is steep in the middle and flat on both sides Newton's steps can run in a circle. One that is no shorter than half the last, and no small
    // part of the bracket, gives way to a halving of it.
    constexpr double shrinking = 0.5, small_part = 1e-3;
    T last = upper - lower;
    T x = select(start >= lower && start <= upper, start, T(0.5 * (lower + upper)));
    x = select(at_lower == zero, lower, select(at_upper == zero, upper, x));
    for (int i = 0; i < newton_iteration_limit; ++i) {
        const value_and_slope<T> here = f(x);
        const auto root_is_above = (here.value < zero) == rising;
        const auto exact = here.value == zero;
        const auto number = here.value == here.value;
        lower = select(root_is_above || exact, x, lower);
        upper = select(root_is_above && !exact, upper, x);
        const T step = select(exact, zero, T(here.value / here.slope));
        const T newton = x - step;
        const T stalled = shrinking * last;
        const T slight = small_part * (upper - lower);
        const auto circling = mask<T>(step * step > stalled * stalled && step * step > slight * slight);
        const T next = select(newton >= lower && newton <= upper && !circling, newton, T(0.5 * (lower + upper)));
        const T moved = next - x;
        last = moved;
        const T allowed = resolution * next;
        const auto converged = moved * moved <= allowed * allowed;
        bool done = false;
        if constexpr (is_lanes<T>) {
            done = (converged || !bracketed || !number).all();
        } else {
            done = converged || !bracketed || !number;
        }
        x = keep_if(number, next);
        if (done) break;
    }
    return keep_if(bracketed, x);
}

/// The root of f(x, parameters) for scalars that carry derivatives or uncertainty: solved on plain values, then one Newton step in T,
/// which carries the first-order dependence of the root on every parameter (implicit function theorem).
///   plain   callable double -> value_and_slope<double>
///   full    callable T -> value_and_slope<T>
template <class T, class Plain, class Full>
T bracketed_newton(const Plain& plain, const Full& full, const double lower, const double upper, const double start) {
    const double root = bracketed_newton<double>(plain, lower, upper, start);
    const value_and_slope<T> here = full(T(root));
    return T(root) - here.value / here.slope;
}

}  // namespace ferment::num

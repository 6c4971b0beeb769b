#pragma once
// What a kernel needs to work on any scalar: a double, Eigen lanes, an Uncertain or an automatic-differentiation number.

#include <cmath>
#include <limits>
#include <type_traits>

namespace ferment::num {

/// A closed interval; the range of validity of a formula in one of its inputs.
struct interval {
    double lower;
    double upper;
};

/// A range printed in percent, as fractions. Both ends belong to it whether 18.03 % came as 18.03 / 100 or as 18.03 * 0.01, which differ in
/// the last digit.
constexpr interval from_percent(const double lower, const double upper) {
    constexpr double whole = 100.0;
    constexpr double hundredth = 0.01;
    return {lower / whole < lower * hundredth ? lower / whole : lower * hundredth, upper / whole > upper * hundredth ? upper / whole : upper * hundredth};
}

/// True for a scalar that holds several values side by side; core/lanes.hpp says so for fixed-size Eigen arrays.
template <class T>
inline constexpr bool is_lanes = false;

/// The plain value of a scalar. Scalars that carry more than a value (derivatives, uncertainty) overload this.
template <class T>
requires std::is_arithmetic_v<T>
constexpr double value_of(const T x) {
    return static_cast<double>(x);
}

/// Whether x lies in the interval; NaN never does. A bool for one value, a mask for lanes.
template <class T>
constexpr auto inside(const T& x, const interval range) {
    if constexpr (is_lanes<T>) {
        return (x >= range.lower && x <= range.upper).eval();
    } else {
        return value_of(x) >= range.lower && value_of(x) <= range.upper;
    }
}

/// A condition as a value of its own: Eigen's expressions would point at operands that are gone when a function has returned.
template <class T, class Condition>
constexpr auto mask(const Condition& condition) {
    if constexpr (is_lanes<T>) {
        return condition.eval();
    } else {
        return condition;
    }
}

/// `when_true` where the mask holds, else `when_false`; no branch on data for lanes.
template <class Mask, class T>
constexpr T select(const Mask& mask, const T& when_true, const T& when_false) {
    if constexpr (is_lanes<T>) {
        return mask.select(when_true, when_false);
    } else {
        return mask ? when_true : when_false;
    }
}

/// x where the mask holds, NaN elsewhere: how a kernel says "outside my range".
template <class Mask, class T>
constexpr T keep_if(const Mask& mask, const T& x) {
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    if constexpr (is_lanes<T>) {
        return mask.select(x, nan);
    } else {
        return mask ? x : T(nan);
    }
}

}  // namespace ferment::num

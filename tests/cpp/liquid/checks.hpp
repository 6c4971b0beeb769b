#pragma once
// What the tests of the liquids share: worst row of a table, error messages, eight lanes against eight scalars, slopes, numbers at the edges.

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/lanes.hpp>
#include <limits>
#include <string>
#include <tuple>

#include "catch.hpp"
#include "csv.hpp"

namespace ferment_test {

inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
inline constexpr double infinity = std::numeric_limits<double>::infinity();
inline constexpr double round_trip = 1e-10;      // of a mass fraction or of a strength as a fraction
inline constexpr double lane_round_off = 1e-13;  // relative; scalar and lanes may be contracted differently

/// The next double above and below.
inline double above(const double x) {
    return std::nextafter(x, infinity);
}
inline double below(const double x) {
    return std::nextafter(x, -infinity);
}

/// The largest absolute deviation over the rows of a table and the line it stands on. NaN until a row was added, and NaN once one was NaN.
struct Worst {
    double value = not_a_number;
    std::size_t line = 0;
    std::size_t rows = 0;

    void add(const double deviation, const std::size_t at_line = 0) {
        const double size = std::abs(deviation);
        if (rows == 0 || size > value || (std::isnan(size) && !std::isnan(value))) {
            value = size;
            line = at_line;
        }
        ++rows;
    }
};

/// The message of the RangeError that a call throws, or a remark that it threw none.
template <class F>
std::string range_error(const F& call) {
    try {
        call();
    } catch (const ferment::RangeError& error) {
        return error.what();
    }
    return "no RangeError";
}

/// The message of the library's error that a call throws, empty where it throws none.
template <class F>
std::string error_text(const F& call) {
    try {
        call();
    } catch (const ferment::Error& error) {
        return error.what();
    }
    return "";
}

inline bool begins(const std::string& message, const std::string& with) {
    return message.compare(0, with.size(), with) == 0;
}

/// A call is refused with a RangeError whose message begins with quantity, value, unit and range.
template <class F>
void check_refused(const F& call, const std::string& beginning) {
    const std::string message = range_error(call);
    CAPTURE(message, beginning);
    CHECK(begins(message, beginning));
}

inline bool same(const double a, const double b, const double relative = lane_round_off) {
    return std::isnan(a) ? std::isnan(b) : std::abs(a - b) <= relative * std::abs(a);
}

using Eight = std::array<double, 8>;

inline ferment::Lanes lanes_of(const Eight& x) {
    return Eigen::Map<const ferment::Lanes>(x.data());
}

/// A generic kernel gives eight lanes what it gives eight scalars, NaN included.
template <class F, class... Inputs>
void check_lanes(const F& kernel, const Inputs&... inputs) {
    const ferment::Lanes together = kernel(lanes_of(inputs)...);
    for (std::size_t i = 0; i < std::tuple_size_v<Eight>; ++i) {
        const double alone = kernel(inputs[i]...);
        const double lane = together[static_cast<Eigen::Index>(i)];
        CAPTURE(i, alone, lane);
        CHECK(same(alone, lane));
    }
}

/// The slope of f at x by a central difference of fourth order.
template <class F>
double central_difference(const F& f, const double x) {
    constexpr double h = 3e-4;
    return (8.0 * (f(x + h) - f(x - h)) - (f(x + 2.0 * h) - f(x - 2.0 * h))) / (12.0 * h);
}

}  // namespace ferment_test

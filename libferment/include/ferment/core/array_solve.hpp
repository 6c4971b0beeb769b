#pragma once
// Inverses of whole arrays: the search of solve.hpp on a block of elements at a time, each step one loop over the block that the compiler turns into
// vector instructions. An element that has arrived stays where it is, so that its result does not depend on its neighbours.

#include <array>
#include <cstddef>
#include <cstdint>
#include <ferment/core/solve.hpp>
#include <limits>
#include <utility>

namespace ferment::num {

/// Elements that are searched side by side: with their coefficients they fit the first-level cache.
inline constexpr std::size_t search_block = 128;

/// One value for each element of a block.
using block = std::array<double, search_block>;

/// The searches of a block, each for a root of the order of one. Nothing here is a bool or a branch: the vectoriser wants doubles.
struct block_search {
    block lower;  ///< the root lies between
    block upper;
    block x;      ///< where the search is; NaN where there is no root
    block moved;  ///< its last step; zero once it has arrived
    block sense;  ///< 1 where the function rises, -1 where it falls

    /// Starts from the values at both ends and a first guess in x; one outside the bracket is replaced by its middle. A value within round_off of zero
    /// is a root at that end: code for other instruction sets rounds the end of a range elsewhere.
    void begin(const block& at_lower, const block& at_upper, const double round_off, const std::size_t n) {
        constexpr double nan = std::numeric_limits<double>::quiet_NaN();
        for (std::size_t i = 0; i < n; ++i) {
            const double rising = at_upper[i] >= at_lower[i] ? 1.0 : -1.0;
            const double low = at_lower[i] * rising;
            const double high = at_upper[i] * rising;
            const double bracketed = low <= round_off ? (high >= -round_off ? 1.0 : nan) : nan;
            const double middle = 0.5 * (lower[i] + upper[i]);
            double start = x[i] >= lower[i] ? (x[i] <= upper[i] ? x[i] : middle) : middle;
            start = high <= round_off ? upper[i] : start;
            start = low >= -round_off ? lower[i] : start;
            const double at_end = low >= -round_off ? 0.0 : (high <= round_off ? 0.0 : 1.0);
            x[i] = start * bracketed;
            moved[i] = at_end * (upper[i] - lower[i]);
            sense[i] = rising;
        }
    }

    /// One step for each element, from the value at x and the step that a method without brackets would take; halves the bracket where that leaves it
    /// or circles. `last` says of such a step whether it is the last one.
    template <class Last>
    void advance(const block& value, const block& step, const std::size_t n, const Last& last) {
        constexpr double shrinking = 0.5, small_part = 1e-3;  // as bracketed_newton
        for (std::size_t i = 0; i < n; ++i) {
            const double here = value[i] * sense[i];  // negative where the root is above
            const double low = here <= 0.0 ? x[i] : lower[i];
            const double high = here >= 0.0 ? x[i] : upper[i];
            const double aim = x[i] - (here == 0.0 ? 0.0 : step[i]);
            const double middle = 0.5 * (low + high);
            const double size = step[i] * step[i];
            const double stalled = shrinking * moved[i];
            const double slight = small_part * (high - low);
            const double shorter = size > stalled * stalled ? (size > slight * slight ? 0.0 : 1.0) : 1.0;
            const double good = aim >= low ? (aim <= high ? shorter : 0.0) : 0.0;
            double next = good > 0.0 ? aim : middle;
            next = moved[i] == 0.0 ? x[i] : next;  // arrived before
            const double move = next - x[i];
            lower[i] = low;
            upper[i] = high;
            x[i] = next + 0.0 * here;  // NaN stays NaN
            moved[i] = good > 0.0 ? (last(move, moved[i]) ? 0.0 : move) : move;
        }
    }

    /// Whether one of them still moves.
    [[nodiscard]] bool moving(const std::size_t n) const {
        std::int64_t some = 0;
        for (std::size_t i = 0; i < n; ++i) {
            some |= static_cast<std::int64_t>(moved[i] != 0.0) & static_cast<std::int64_t>(x[i] == x[i]);
        }
        return some != 0;
    }
};

/// Roots of polynomials, c[k][i] the coefficient of power k for element i, by Halley's method. Bracket and first guess stand in `search`; the roots are
/// its x, NaN where the polynomial does not change sign over the bracket.
template <std::size_t Terms>
void polynomial_roots(const std::array<block, Terms>& c, block_search& search, const double round_off, const std::size_t n) {
    block value;
    block step;
    const auto at = [&](const block& z, block& y) {
        for (std::size_t i = 0; i < n; ++i) {
            double sum = c[Terms - 1][i];
            for (std::size_t k = Terms - 1; k-- > 0;) sum = sum * z[i] + c[k][i];
            y[i] = sum;
        }
    };
    at(search.lower, value);
    at(search.upper, step);
    search.begin(value, step, round_off, n);
    for (int iteration = 0; iteration < newton_iteration_limit && search.moving(n); ++iteration) {
        for (std::size_t i = 0; i < n; ++i) {
            double sum = c[Terms - 1][i];
            double rise = 0.0;
            double bend = 0.0;  // half the second derivative
            for (std::size_t k = Terms - 1; k-- > 0;) {
                bend = bend * search.x[i] + rise;
                rise = rise * search.x[i] + sum;
                sum = sum * search.x[i] + c[k][i];
            }
            value[i] = sum;
            step[i] = sum * rise / (rise * rise - sum * bend);
        }
        // After a step m of Halley's method the error is of the order of m^3.
        constexpr double settled = 5e-7;
        search.advance(value, step, n, [](const double move, double) { return move * move <= settled * settled; });
    }
}

/// Roots of any function f(x, i) of plain arithmetic, by the secant through the last two points. Bracket and first guess stand in `search`.
template <class F>
void secant_roots(const F& f, block_search& search, const double round_off, const std::size_t n) {
    block value;
    block step;
    block last_value;
    block last_x;
    for (std::size_t i = 0; i < n; ++i) value[i] = f(search.lower[i], i);
    for (std::size_t i = 0; i < n; ++i) step[i] = f(search.upper[i], i);
    search.begin(value, step, round_off, n);
    for (std::size_t i = 0; i < n; ++i) {
        last_x[i] = search.upper[i];
        last_value[i] = step[i];
    }
    for (int iteration = 0; iteration < newton_iteration_limit && search.moving(n); ++iteration) {
        for (std::size_t i = 0; i < n; ++i) {
            const double here = f(search.x[i], i);
            const double secant = here * (search.x[i] - last_x[i]) / (here - last_value[i]);
            value[i] = here;
            step[i] = here == last_value[i] ? 0.0 * here : secant;
            last_x[i] = search.x[i];
            last_value[i] = here;
        }
        // After steps m and M of the secant method the error is of the order of m M.
        constexpr double settled = 1e-17;
        search.advance(value, step, n, [](const double move, const double before) { return move * before * (move * before) <= settled * settled; });
    }
}

/// A whole array of an inverse that is the root of a polynomial. A Problem has
///   inputs, terms        how many inputs and coefficients an element has
///   round_off            of its values
///   set_up(in, c)        fills the coefficients, returns {lower, upper, first guess}
///   result(root, in)     what the root means; NaN where an input is outside its range
struct bracket_and_guess {
    double lower;
    double upper;
    double guess;
};
template <class Problem>
void solve_array(const double* const* in, double* out, const std::ptrdiff_t n) {
    constexpr std::size_t inputs = Problem::inputs;
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
    std::array<block, Problem::terms> c;
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
    block_search search;
    for (std::ptrdiff_t start = 0; start < n; start += static_cast<std::ptrdiff_t>(search_block)) {
        const auto left = static_cast<std::size_t>(n - start);
        const std::size_t length = left < search_block ? left : search_block;
        std::array<const double*, inputs> from{};
        for (std::size_t k = 0; k < inputs; ++k) from[k] = in[k] + start;
        const auto element = [&from]<std::size_t... K>(const std::size_t i, std::index_sequence<K...>) {
            return std::array<double, inputs>{from[K][i]...};
        };
        for (std::size_t i = 0; i < length; ++i) {
            // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
            std::array<double, Problem::terms> coefficients;
            const bracket_and_guess range = Problem::set_up(element(i, std::make_index_sequence<inputs>{}), coefficients);
            for (std::size_t k = 0; k < Problem::terms; ++k) c[k][i] = coefficients[k];
            search.lower[i] = range.lower;
            search.upper[i] = range.upper;
            search.x[i] = range.guess;
        }
        polynomial_roots(c, search, Problem::round_off, length);
        double* to = out + start;
        for (std::size_t i = 0; i < length; ++i) to[i] = Problem::result(search.x[i], element(i, std::make_index_sequence<inputs>{}));
    }
}

}  // namespace ferment::num

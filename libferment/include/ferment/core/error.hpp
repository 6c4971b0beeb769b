#pragma once
// The three ways a call can fail. Every message names the quantity, the value, the unit and what is allowed.

#include <cmath>
#include <cstddef>
#include <cstdio>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>
#include <stdexcept>
#include <string>
#include <string_view>

namespace ferment {

/// Any error of this library.
class Error : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// A value outside the range in which a formula or a definition holds.
class RangeError : public Error {
public:
    explicit RangeError(const std::string& message) : Error(message) {}
};

/// An input that is no number, no known name, or contradicts another input.
class InputError : public Error {
public:
    using Error::Error;
};

/// No solution exists for valid inputs, or a solver could not reach it.
class SolveError : public Error {
public:
    using Error::Error;
};

/// A number as people write it: up to ten significant digits, no trailing zeros.
inline std::string format_number(const double x) {
    constexpr int significant_digits = 10;
    char text[40];
    std::snprintf(text, sizeof text, "%.*g", significant_digits, x);
    return text;
}

/// "120 degC", or just "1.05" where the unit is empty.
inline std::string format_quantity(const double x, const std::string_view unit) {
    std::string text = format_number(x);
    if (!unit.empty()) {
        text.append(" ").append(unit);
    }
    return text;
}

/// A name as it was given, for a message: one line, and only the beginning of a very long one.
inline std::string shortened(const std::string_view name) {
    constexpr std::size_t longest = 60;  // bytes
    std::size_t length = name.size();
    if (length > longest) {
        length = longest;
        while (length > 0 && (static_cast<unsigned char>(name[length]) & 0xC0U) == 0x80U) --length;  // not within a character of UTF-8
    }
    std::string text(name.substr(0, length));
    for (char& c : text) {
        if (static_cast<unsigned char>(c) < ' ' || c == '\x7f') c = '?';
    }
    return length < name.size() ? text + "..." : text;
}

/// The same in quotes.
inline std::string in_quotes(const std::string_view name) {
    std::string quoted(1, '"');
    quoted.append(shortened(name)).push_back('"');
    return quoted;
}

/// Throws the RangeError for a value outside its range.
[[noreturn]] inline void throw_range_error(const std::string_view quantity, const double value, const std::string_view unit, const num::interval range,
                                           const std::string_view why) {
    std::string message(quantity);
    message.append(" ").append(format_quantity(value, unit));
    if (std::isinf(range.upper)) {
        message.append(" is below the lowest allowed, ").append(format_quantity(range.lower, unit));
    } else if (std::isinf(range.lower)) {
        message.append(" is above the highest allowed, ").append(format_quantity(range.upper, unit));
    } else {
        message.append(" is outside ").append(format_number(range.lower)).append(" to ").append(format_quantity(range.upper, unit));
    }
    if (!why.empty()) {
        message.append(" (").append(why).append(")");
    }
    throw RangeError(message);
}

/// Passes NaN (NaN in, NaN out) and values in the closed range; throws RangeError for anything else. A bound is NaN where another input is.
inline void require_inside(const std::string_view quantity, const double value, const std::string_view unit, const num::interval range,
                           const std::string_view why) {
    if (value < range.lower || value > range.upper) {
        throw_range_error(quantity, value, unit, range, why);
    }
}

/// The same, quoting the formula whose range it is.
inline void require_inside(const std::string_view quantity, const double value, const std::string_view unit, const num::interval range, const source& from) {
    require_inside(quantity, value, unit, range, from.citation);
}

namespace detail {

// Fractions inside, percent in every message.
inline constexpr double percent = 100.0;
inline constexpr num::interval percent_range{0.0, percent};

// Amounts that can be reckoned with, in kg, L and the like: sums and ratios of them neither overflow nor vanish.
inline constexpr num::interval workable_amount{1e-9, 1e12};

/// Passes NaN, nothing at all, and amounts that can be reckoned with.
inline void require_workable(const std::string_view quantity, const double value, const std::string_view unit) {
    if (value != 0.0) require_inside(quantity, value, unit, workable_amount, "amounts that can be reckoned with");
}

/// require_inside for a fraction, whose message is in percent. Compared as the fraction it is, so that the check and the kernel behind it
/// agree to the last bit.
inline void require_fraction(const std::string_view quantity, const double fraction, const std::string_view unit, const num::interval range,
                             const source& from) {
    if (!std::isnan(fraction) && !num::inside(fraction, range)) {
        throw_range_error(quantity, percent * fraction, unit, {percent * range.lower, percent * range.upper}, from.citation);
    }
}

}  // namespace detail
}  // namespace ferment

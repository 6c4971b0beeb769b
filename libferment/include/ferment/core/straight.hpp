#pragma once
// A double whose exp, log, pow and cos are plain arithmetic, so that a loop over kernels that use them can be vectorised by the compiler.

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <ferment/core/scalar.hpp>
#include <limits>
#include <numbers>

namespace ferment::num {

/// One value. Functions without branches, calls or tables; within 4 units in the last place where the result is a normal number (pow: of x^y with
/// |y ln x| up to 100 within 1e-13), see tests/cpp/core/test_straight.cpp. NaN in, NaN out. Beyond e^-708 and e^709 exp stays there.
struct straight {
    double v;

    straight() = default;
    constexpr straight(const double x) : v(x) {}  // NOLINT(google-explicit-constructor): a kernel mixes constants in

    friend constexpr straight operator+(const straight a, const straight b) { return a.v + b.v; }
    friend constexpr straight operator-(const straight a, const straight b) { return a.v - b.v; }
    friend constexpr straight operator*(const straight a, const straight b) { return a.v * b.v; }
    friend constexpr straight operator/(const straight a, const straight b) { return a.v / b.v; }
    friend constexpr straight operator-(const straight a) { return -a.v; }
    friend constexpr bool operator<(const straight a, const straight b) { return a.v < b.v; }
    friend constexpr bool operator>(const straight a, const straight b) { return a.v > b.v; }
    friend constexpr bool operator<=(const straight a, const straight b) { return a.v <= b.v; }
    friend constexpr bool operator>=(const straight a, const straight b) { return a.v >= b.v; }
    friend constexpr bool operator==(const straight a, const straight b) { return a.v == b.v; }
};

constexpr double value_of(const straight x) {
    return x.v;
}

namespace detail {

inline constexpr double round_by = 0x1.8p52;  // added and taken away again: rounds to a whole number, which stands in the lowest bits in between
inline constexpr unsigned mantissa_bits = 52;
inline constexpr std::uint64_t sign_bit = std::uint64_t{1} << 63U;
inline constexpr double ln2_high = 0x1.62e42fefa38p-1, ln2_low = 0x1.ef35793c7673p-45;  // ln 2 in two parts; the first has room for an exponent

/// 1/0!, 1/1!, ...
template <std::size_t N>
consteval std::array<double, N> inverse_factorials() {
    std::array<double, N> c{1.0};
    for (std::size_t i = 1; i < N; ++i) c[i] = c[i - 1] / static_cast<double>(i);
    return c;
}

/// sum c_i x^i, written out at compile time.
template <std::size_t I, std::size_t N>
constexpr double horner(const std::array<double, N>& c, const double x) {
    if constexpr (I + 1 == N) {
        return c[I];
    } else {
        return c[I] + x * horner<I + 1>(c, x);
    }
}

}  // namespace detail

/// Taylor's series on |r| <= ln(2)/2, where 13 terms leave 2e-16, times a power of two.
constexpr straight exp(const straight of) {
    constexpr double least = -708.0, most = 709.0;
    constexpr auto c = detail::inverse_factorials<14>();
    double x = of.v;
    x = x < least ? least : x;
    x = x > most ? most : x;
    const double shifted = x * std::numbers::log2e + detail::round_by;
    const double n = shifted - detail::round_by;
    const double r = (x - n * detail::ln2_high) - n * detail::ln2_low;
    const auto power = std::bit_cast<double>((std::bit_cast<std::uint64_t>(shifted) << detail::mantissa_bits) + std::bit_cast<std::uint64_t>(1.0));
    return detail::horner<0>(c, r) * power;
}

/// 2 artanh((m - 1)/(m + 1)) for the mantissa m in [sqrt(1/2), sqrt(2)), plus the exponent. -708 or less for zero, NaN below.
constexpr straight log(const straight of) {
    constexpr std::uint64_t root_half = std::bit_cast<std::uint64_t>(std::numbers::sqrt2 / 2.0);
    constexpr std::uint64_t whole = 0x4330000000000000;  // 2^52 as a double: whole numbers in its lowest bits
    constexpr double bias = 1024.0, two_to_52 = 0x1p52;
    constexpr std::array<double, 11> c{2.0, 2.0 / 3, 2.0 / 5, 2.0 / 7, 2.0 / 9, 2.0 / 11, 2.0 / 13, 2.0 / 15, 2.0 / 17, 2.0 / 19, 2.0 / 21};
    const auto bits = std::bit_cast<std::uint64_t>(of.v);
    // The exponent, moved so that the mantissa starts at sqrt(1/2); one is added to the biased exponent to keep it above zero.
    const std::uint64_t moved = bits - root_half + (std::uint64_t{1024} << detail::mantissa_bits);
    const double e = std::bit_cast<double>((moved >> detail::mantissa_bits) | whole) - (two_to_52 + bias);
    const double m = std::bit_cast<double>((moved & ((std::uint64_t{1} << detail::mantissa_bits) - 1)) + root_half);
    const double s = (m - 1.0) / (m + 1.0);
    const double value = e * detail::ln2_high + (s * detail::horner<0>(c, s * s) + e * detail::ln2_low);
    return of.v >= 0.0 ? value : std::numeric_limits<double>::quiet_NaN();
}

/// x^y for x of zero or more; 0 for x = 0, whatever y.
constexpr straight pow(const straight x, const straight y) {
    const straight value = exp(y * log(x));
    return x.v == 0.0 ? 0.0 : value.v;
}

/// Cosine: whole turns off, folded to a quarter to both sides of zero, and Taylor's series of the sine.
constexpr straight cos(const straight of) {
    constexpr double quarter = 0.25;
    const double turns = of.v * (0.5 / std::numbers::pi);
    const double part = turns - ((turns + detail::round_by) - detail::round_by);  // -1/2 to 1/2
    const auto size = std::bit_cast<double>(std::bit_cast<std::uint64_t>(part) & ~detail::sign_bit);
    const double x = (quarter - size) * (2.0 * std::numbers::pi);
    constexpr auto f = detail::inverse_factorials<24>();
    constexpr std::array<double, 11> c{f[1], -f[3], f[5], -f[7], f[9], -f[11], f[13], -f[15], f[17], -f[19], f[21]};
    return x * detail::horner<0>(c, x * x);
}

}  // namespace ferment::num

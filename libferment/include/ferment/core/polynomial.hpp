#pragma once
// Polynomials by Horner's rule over coefficient tables that stay in printed order (lowest power first).

#include <array>
#include <cstddef>
#include <utility>

namespace ferment::num {

/// c[0] + c[1] x + ... + c[N-1] x^(N-1). Written out by the compiler: a loop here would keep the one around it from becoming vector instructions.
template <class T, std::size_t N>
constexpr T horner(const std::array<double, N>& c, const T& x) {
    static_assert(N > 0);
    T y = T(c[N - 1]);
    [&]<std::size_t... K>(std::index_sequence<K...>) {
        ((y = y * x + c[N - 2 - K]), ...);
    }
    (std::make_index_sequence<N - 1>{});
    return y;
}

/// The coefficients of the derivative: {c[1], 2 c[2], 3 c[3], ...}.
template <std::size_t N>
constexpr std::array<double, N - 1> derivative(const std::array<double, N>& c) {
    static_assert(N > 1);
    std::array<double, N - 1> d{};
    for (std::size_t k = 1; k < N; ++k) {
        d[k - 1] = static_cast<double>(k) * c[k];
    }
    return d;
}

/// The coefficients of the same polynomial in x - 1/2: c[0] + c[1] x + ... = s[0] + s[1] (x - 1/2) + ... . Where the terms of a polynomial on [0, 1] are
/// large and cancel, those of the shifted one are small, and with them the round-off. Halving is exact and the sums carry their rounding errors along
/// (error-free addition: Knuth 1969, The Art of Computer Programming vol. 2, 4.2.2), so that each coefficient is right to its last digit.
template <std::size_t N>
constexpr std::array<double, N> about_one_half(const std::array<double, N>& c) {
    constexpr double half = 0.5;
    std::array<double, N> sum = c;
    std::array<double, N> rest{};
    for (std::size_t i = 0; i + 1 < N; ++i) {
        for (std::size_t j = N - 1; j-- > i;) {
            const double a = sum[j];
            const double b = half * sum[j + 1];
            const double total = a + b;
            const double part = total - a;
            sum[j] = total;
            rest[j] += half * rest[j + 1] + ((a - (total - part)) + (b - part));
        }
    }
    for (std::size_t k = 0; k < N; ++k) sum[k] += rest[k];
    return sum;
}

/// {first, c[0], c[1], ...}: first + x (c[0] + c[1] x + ...).
template <std::size_t N>
constexpr std::array<double, N + 1> after(const double first, const std::array<double, N>& c) {
    std::array<double, N + 1> longer{first};
    for (std::size_t k = 0; k < N; ++k) longer[k + 1] = c[k];
    return longer;
}

/// A value with its slope, as the inverse by Newton's method needs them.
template <class T>
struct value_and_slope {
    T value;
    T slope;
};

}  // namespace ferment::num

#pragma once
// Polynomials by Horner's rule over coefficient tables that stay in printed order (lowest power first).

#include <array>
#include <cstddef>

namespace ferment::num {

/// c[0] + c[1] x + ... + c[N-1] x^(N-1).
template <class T, std::size_t N>
constexpr T horner(const std::array<double, N>& c, const T& x) {
    static_assert(N > 0);
    T y = T(c[N - 1]);
    for (std::size_t k = N - 1; k-- > 0;) {
        y = y * x + c[k];
    }
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

/// A value with its slope, as the inverse by Newton's method needs them.
template <class T>
struct value_and_slope {
    T value;
    T slope;
};

}  // namespace ferment::num

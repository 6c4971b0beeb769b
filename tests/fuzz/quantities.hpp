#pragma once
// Plain numbers into the quantities of the doors, and ranges that come again and again.

#include <ferment/core/quantity.hpp>

#include "fuzz.hpp"

namespace fuzz {

using namespace ferment;

inline abw<> by_mass(const double x) {
    return abw<>::from_value(x);
}
inline abv<> by_volume(const double x) {
    return abv<>::from_value(x);
}
inline extract<> dissolved(const double x) {
    return extract<>::from_value(x);
}
inline celsius<> degrees(const double t) {
    return t * degree_celsius;
}
inline density<> kg_per_m3(const double rho) {
    return density<>::from_value(rho);
}
inline mass<> kg(const double m) {
    return mass<>::from_value(m);
}
inline volume<> cubic_metres(const double v) {
    return volume<>::from_value(v);
}
template <class Reference>
gravity<Reference> sg(const double x) {
    return gravity<Reference>::from_value(x);
}

inline constexpr Input any_share{0.0, 1.0};
inline constexpr Input sugar_share{0.0, 0.7};
inline constexpr Input little_share{0.0, 0.3};
inline constexpr Input wort_c{0.0, 80.0};
inline constexpr Input wash_c{0.0, 40.0};
inline constexpr Input spirit_c{-20.0, 40.0};
inline constexpr Input refraction_c{10.0, 40.0};
inline constexpr Input any_density{700.0, 1400.0};
inline constexpr Input any_index{1.32, 1.50};
inline constexpr Input pressure_pa{20e3, 110e3};
inline constexpr Input heat_c{0.0, 110.0};

}  // namespace fuzz

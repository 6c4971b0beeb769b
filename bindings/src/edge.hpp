#pragma once
// Percent and degrees Celsius at the edge, fractions inside.

#include <ferment/core/quantity.hpp>

namespace ferment_python {

inline constexpr double percent = 100.0;

inline ferment::celsius<> degrees(const double t) {
    return t * ferment::degree_celsius;
}

}  // namespace ferment_python

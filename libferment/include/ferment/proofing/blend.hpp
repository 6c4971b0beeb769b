#pragma once
// Blending spirits and waters. Volumes are never added: every liquid is weighed in and out, so contraction and temperature take care of
// themselves and mass is conserved to round-off.

#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <span>
#include <string>

namespace ferment {

/// A quantity of spirit (or of water, at zero strength), by mass.
struct SpiritMass {
    mass<> total;    ///< kg
    mass<> ethanol;  ///< kg, part of total
};

namespace detail {

inline void require_positive_volume(const char* quantity, const volume<>& v) {
    constexpr double litres_per_cubic_metre = 1000.0;
    if (!(v.value() > 0.0) || std::isinf(v.value())) {
        throw RangeError(std::string(quantity) + " " + format_quantity(litres_per_cubic_metre * v.value(), "L") + " must be a number above 0 L");
    }
    require_workable(quantity, litres_per_cubic_metre * v.value(), "L");
}

}  // namespace detail

/// The mass of a volume of spirit of known strength, both at a temperature.
///   v             volume at the temperature, above zero
///   strength      ethanol by mass
///   temperature   -20 to 40 degC, not below freezing
/// Throws RangeError. Source: oiml_r22.
inline SpiritMass weigh(const volume<>& v, const abw<>& strength, const celsius<>& temperature) {
    detail::require_positive_volume("volume", v);
    const mass<> total = v * spirit_density(strength, temperature);
    return {total, total * strength.value()};
}

inline abw<> strength_of(const SpiritMass& spirit) {
    return abw<>::from_value(spirit.ethanol.value() / spirit.total.value());
}

/// Volume of a spirit at a temperature. Throws RangeError as spirit_density.
inline volume<> volume_of(const SpiritMass& spirit, const celsius<>& temperature) {
    return spirit.total / spirit_density(strength_of(spirit), temperature);
}

/// Volume of pure ethanol at 20 degC in a spirit: what excise and the ledger count.
inline volume<> pure_alcohol(const SpiritMass& spirit) {
    return volume<>::from_value(spirit.ethanol.value() / volume_at_20c::ethanol_density);
}

/// Everything poured together. Order does not matter beyond round-off. Throws InputError for nothing at all.
inline SpiritMass blend(const std::span<const SpiritMass> parts) {
    if (parts.empty()) throw InputError("blend: no spirit given");
    SpiritMass sum{0.0 * kilogram, 0.0 * kilogram};
    for (const SpiritMass& part : parts) {
        sum.total += part.total;
        sum.ethanol += part.ethanol;
    }
    return sum;
}

/// What the liquids lose in volume by mixing, all at 20 degC. Throws as volume_of.
inline volume<> contraction(const std::span<const SpiritMass> parts) {
    const celsius<> reference = reference_20c::t * degree_celsius;
    volume<> apart = 0.0 * litre;
    for (const SpiritMass& part : parts) apart += volume_of(part, reference);
    return apart - volume_of(blend(parts), reference);
}

}  // namespace ferment

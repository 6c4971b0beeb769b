#pragma once
// Filling bottles: the label states the volume at 20 degC, the filler works at the temperature of the shed.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/proofing/blend.hpp>

namespace ferment {

/// How many bottles a spirit fills.
struct Bottling {
    long full;                ///< whole bottles
    volume<> fill_volume;     ///< to fill into each at the temperature, so that it holds the nominal volume at 20 degC
    volume<> volume_at_fill;  ///< of all the spirit at that temperature
    volume<> rest_at_20c;     ///< what is left over
};

/// Bottles of a nominal volume (at 20 degC) that a spirit fills at a temperature.
///   spirit        from weigh() or a Dilution
///   nominal       label volume of a bottle at 20 degC, above zero
///   temperature   of the spirit when filled, -20 to 40 degC, not below freezing
/// Throws RangeError. Source: oiml_r22; nominal volumes at 20 degC: OIML R 87.
inline Bottling bottles(const SpiritMass& spirit, const volume<>& nominal, const celsius<>& temperature) {
    detail::require_positive_volume("bottle", nominal);
    const volume<> at_20c = volume_of(spirit, reference_20c::t * degree_celsius);
    const volume<> at_fill = volume_of(spirit, temperature);
    // A bottle that is full but for round-off is full.
    constexpr double round_off = 1e-9;
    const double count = std::floor(at_20c.value() / nominal.value() + round_off);
    constexpr double most_bottles = 1e15;
    require_inside("number of bottles", count, "", {0.0, most_bottles}, "nobody counts more");
    if (std::isnan(count)) throw InputError("bottles: strength, volume and temperature must be numbers");
    const volume<> rest = at_20c - count * nominal;
    return {static_cast<long>(count), nominal * (at_fill.value() / at_20c.value()), at_fill, rest.value() > 0.0 ? rest : 0.0 * litre};
}

}  // namespace ferment

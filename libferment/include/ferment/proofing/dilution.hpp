#pragma once
// How much water takes a spirit down to a strength, contraction included, with spirit and water each at its own temperature.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/proofing/blend.hpp>

namespace ferment {

/// A reduction: what goes in and what comes out.
struct Dilution {
    SpiritMass spirit;       ///< before
    mass<> water;            ///< to add
    volume<> water_volume;   ///< at the temperature of the water
    SpiritMass result;       ///< after
    volume<> volume_at_20c;  ///< of the result
    volume<> contraction;    ///< volume lost by mixing, at 20 degC
};

namespace detail {

// The water of the spirit formula, so that a spirit of zero strength and the water added to it are one liquid.
inline density<> dilution_water_density(const celsius<>& temperature) {
    require_inside("water temperature", temperature.value(), "degC", {0.0, oiml_r22::t_range.upper}, oiml_r22::from);
    return density<>::from_value(oiml_r22::density(0.0, temperature.value()));
}

inline Dilution dilution_with(const SpiritMass& spirit, const mass<>& water, const celsius<>& water_temperature) {
    const celsius<> reference = reference_20c::t * degree_celsius;
    require_inside("water", water.value(), "kg", {0.0, workable_amount.upper}, "amounts that can be reckoned with");
    const SpiritMass parts[] = {spirit, {water, 0.0 * kilogram}};
    const SpiritMass result = blend(parts);
    const volume<> after = volume_of(result, reference);
    // No water at all has no strength, so its volume comes from its density and not from volume_of.
    const volume<> apart = volume_of(spirit, reference) + water / dilution_water_density(reference);
    return {spirit, water, water / dilution_water_density(water_temperature), result, after, apart - after};
}

// The water that is the rest of the mixture. Never negative for a target that require_weaker let pass, but for round-off.
inline mass<> water_to(const mass<>& after, const mass<>& before) {
    const mass<> water = after - before;
    return water.value() < 0.0 ? 0.0 * kilogram : water;
}

inline void require_weaker(const abw<>& from, const abw<>& target) {
    require_inside("target abw", percent * target.value(), "% mass", percent_range, oiml_r22::from);
    // A spirit brought to the strength it has is no error, though the division of its masses gives that back only to round-off.
    constexpr double round_off = 1e-14;
    const double most = from.value() * (1.0 + round_off);
    if (target.value() <= 0.0 || target.value() > most) {
        throw RangeError("target strength " + format_quantity(percent * volume_at_20c::from_abw(target.value()), "% vol") +
                         " must be above 0 and at most that of the spirit, " + format_quantity(percent * volume_at_20c::from_abw(from.value()), "% vol") +
                         ": water cannot strengthen a spirit");
    }
}

}  // namespace detail

/// Water to bring a spirit to a target strength.
///   spirit              from weigh()
///   target              ethanol by mass, above zero, at most that of the spirit
///   water_temperature   0 to 40 degC; only for the volume of the water
/// Throws RangeError. Source: mass balance with oiml_r22 densities.
inline Dilution dilute(const SpiritMass& spirit, const abw<>& target, const celsius<>& water_temperature = 20.0 * degree_celsius) {
    detail::require_weaker(strength_of(spirit), target);
    const mass<> after = spirit.ethanol / target.value();
    return detail::dilution_with(spirit, detail::water_to(after, spirit.total), water_temperature);
}

/// What a spirit becomes with a given mass of water. Throws RangeError for a negative mass.
inline Dilution add_water(const SpiritMass& spirit, const mass<>& water, const celsius<>& water_temperature = 20.0 * degree_celsius) {
    if (!(water.value() >= 0.0) || std::isinf(water.value())) {
        throw RangeError("water " + format_quantity(water.value(), "kg") + " must be a number of 0 kg or more");
    }
    detail::require_workable("water", water.value(), "kg");
    return detail::dilution_with(spirit, water, water_temperature);
}

/// Spirit and water that together make a volume (at 20 degC) of a target strength.
///   strength   of the spirit taken; target: of the mixture, above zero, at most strength; wanted: volume of the mixture at 20 degC
/// Throws RangeError.
inline Dilution dilute_to_volume(const abw<>& strength, const abw<>& target, const volume<>& wanted,
                                 const celsius<>& water_temperature = 20.0 * degree_celsius) {
    detail::require_weaker(strength, target);
    const celsius<> reference = reference_20c::t * degree_celsius;
    const SpiritMass made = weigh(wanted, target, reference);
    const SpiritMass taken{made.ethanol / strength.value(), made.ethanol};
    return detail::dilution_with(taken, detail::water_to(made.total, taken.total), water_temperature);
}

}  // namespace ferment

#pragma once
// How a glass alcoholometer reading is corrected: the indicated strength names the density the scale stands for at its reference
// temperature; the glass has expanded by the time it floats in a warmer spirit.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/liquid/spirit.hpp>

namespace ferment {

/// Kernels of the alcoholometer on plain numbers: apparent and true strength, both as volume fractions by the same definition.
///   Volume   volume_at_20c (% vol) or volume_at_60f (US proof)
template <class Volume, class Reference>
struct alcoholometer_scale {
    using volume = Volume;

    /// True strength from the reading. reading: volume fraction 0 to 1; t -20 to 40 degC; beta 1/K. NaN where no spirit floats it there.
    template <class T>
    static T true_strength(const T& reading, const T& t, const double beta) {
        const T at_scale = Volume::density(Volume::to_abw(reading));
        const T at_sample = at_scale / (1.0 + beta * (t - Reference::t));
        return strength_of_density(at_sample, t);
    }
    /// What the glass shows in a spirit of known strength: the exact inverse of true_strength where the reading lies on the scale.
    template <class T>
    static T reading(const T& strength, const T& t, const double beta) {
        const T at_sample = oiml_r22::density(Volume::to_abw(strength), t);
        const T at_scale = at_sample * (1.0 + beta * (t - Reference::t));
        return strength_of_density(at_scale, T(0.0 * t + Reference::t));
    }

private:
    // Pure ethanol and water belong to the scale: a density that misses theirs by the round-off of the way there is theirs.
    template <class T>
    static T strength_of_density(const T& rho, const T& t) {
        constexpr double round_off = 1e-12;  // relative, ten times that of the density polynomial at its far end
        const T lightest = oiml_r22::raw_density(T(0.0 * t + oiml_r22::abw_range.upper), t);
        const T heaviest = oiml_r22::raw_density(oiml_r22::least_liquid_abw(t), t);
        const T not_lighter = num::select(rho < lightest && rho >= lightest * (1.0 - round_off), lightest, rho);
        const T on_scale = num::select(rho > heaviest && rho <= heaviest * (1.0 + round_off), heaviest, not_lighter);
        return Volume::from_abw(oiml_r22::abw_from_density(on_scale, t));
    }
};
using alcoholometer_at_20c = alcoholometer_scale<volume_at_20c, reference_20c>;
using alcoholometer_at_60f = alcoholometer_scale<volume_at_60f, reference_60f>;

/// A glass alcoholometer, scaled in % vol at 20 degC or in US proof at 60 degF; the type of the reading says which.
class Alcoholometer {
public:
    /// glass_expansion   cubic expansion of the glass, 1/K, 0 to 1e-3. Throws RangeError, InputError for NaN.
    explicit Alcoholometer(const double glass_expansion = conventional_glass_expansion) : glass_expansion_(glass_expansion) {
        require_inside("glass expansion", glass_expansion_, "1/K", glass_expansion_range, "cubic expansion; soda-lime glass is 25e-6");
        if (std::isnan(glass_expansion_)) throw InputError("alcoholometer: glass expansion must be a number");
    }

    /// True strength of a spirit from the reading at its temperature.
    ///   reading       % vol (at 20 degC) or US proof (at 60 degF), as read
    ///   temperature   -20 to 40 degC
    ///   ->            strength by the same definition; NaN for NaN
    /// Throws RangeError outside the scale and where no spirit floats the glass there. Source: glass_hydrometer, oiml_r22.
    [[nodiscard]] abv<> correct(const abv<>& reading, const celsius<>& temperature) const {
        require_inside("alcoholometer reading", detail::percent * reading.value(), "% vol", detail::percent_range, "scale of the instrument");
        return abv<>::from_value(corrected<alcoholometer_at_20c>(reading.value(), temperature.value(), detail::percent, "% vol"));
    }
    [[nodiscard]] us_proof<> correct(const us_proof<>& reading, const celsius<>& temperature) const {
        require_inside("alcoholometer reading", reading.value(), "proof", {0.0, us_proof_of_pure_ethanol}, "scale of the instrument");
        const double fraction = reading.value() / us_proof_of_pure_ethanol;
        return us_proof<>::from_value(us_proof_of_pure_ethanol *
                                      corrected<alcoholometer_at_60f>(fraction, temperature.value(), us_proof_of_pure_ethanol, "proof"));
    }

    /// What the glass shows in a spirit of known strength: the exact inverse of correct.
    ///   strength      0 to 100 % vol (at 20 degC) or 0 to 200 US proof (at 60 degF), true
    ///   temperature   -20 to 40 degC, not below freezing
    ///   ->            reading on the scale of the same definition; NaN for NaN
    /// Throws RangeError outside and where the spirit floats the glass beyond an end of its scale. Source: glass_hydrometer, oiml_r22.
    [[nodiscard]] abv<> reads(const abv<>& strength, const celsius<>& temperature) const {
        require_inside("strength", detail::percent * strength.value(), "% vol", detail::percent_range, "from water to pure ethanol");
        return abv<>::from_value(shown<alcoholometer_at_20c>(strength.value(), temperature.value(), detail::percent, "% vol"));
    }
    [[nodiscard]] us_proof<> reads(const us_proof<>& strength, const celsius<>& temperature) const {
        require_inside("strength", strength.value(), "proof", {0.0, us_proof_of_pure_ethanol}, "from water to pure ethanol");
        const double fraction = strength.value() / us_proof_of_pure_ethanol;
        return us_proof<>::from_value(us_proof_of_pure_ethanol * shown<alcoholometer_at_60f>(fraction, temperature.value(), us_proof_of_pure_ethanol, "proof"));
    }

private:
    template <class Scale>
    [[nodiscard]] double corrected(const double reading, const double t, const double whole, const char* unit) const {
        detail::require_spirit(1.0, t);
        const double strength = Scale::true_strength(reading, t, glass_expansion_);
        if (std::isnan(strength) && !std::isnan(reading) && !std::isnan(t)) {
            throw RangeError("alcoholometer reading " + format_quantity(whole * reading, unit) + " at " + format_quantity(t, "degC") +
                             " belongs to no liquid mixture of ethanol and water: it would be lighter than ethanol, heavier than water, or frozen");
        }
        return strength;
    }

    template <class Scale>
    [[nodiscard]] double shown(const double strength, const double t, const double whole, const char* unit) const {
        detail::require_spirit(Scale::volume::to_abw(strength), t);
        const double reading = Scale::reading(strength, t, glass_expansion_);
        if (std::isnan(reading) && !std::isnan(strength) && !std::isnan(t)) {
            throw RangeError("a spirit of " + format_quantity(whole * strength, unit) + " at " + format_quantity(t, "degC") +
                             " is off the scale of the alcoholometer: lighter than pure ethanol or heavier than water at the temperature of the scale");
        }
        return reading;
    }

    double glass_expansion_;
};

}  // namespace ferment

#pragma once
// Strength of a wash from its boiling point. Ethanol lowers it by 1.2 K for the first % by mass and 0.6 K for the tenth; the pressure of the day
// moves it by 1 K for every 3.6 kPa, so that the pressure, or water boiled just before, is part of the reading. Extract hardly matters: it raises
// the boiling point of the liquid it is dissolved in by 0.03 K for every %, but takes the place of water in it.

#include <algorithm>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <string>

namespace ferment {

/// The inverse of wash_vapour::bubble_point in strength, below the azeotrope; the wash of an extract x that boils at t.
struct boiling_point_strength {
    static constexpr source from{
        "boiling_point_strength",
        "ethanol of a wash from its boiling point and roughly known extract",
        "the exact inverse of wash_vapour",
        "from water to the mixture that boils lowest at the pressure (95.6 % mass at 101.325 kPa); extract 0 to 30 % mass",
        "up to 13 % mass within 0.5 % mass of the Soviet-era table of boiling points (secondary); 0.3 K of the model is 0.25 % mass at 1 %, 0.6 at 12 %; "
        "worthless near the azeotrope",
        source_status::secondary,
    };

    /// The washes that a boiling point can tell apart: from none to `strongest`, as mole fraction in ethanol and water alone.
    template <class T>
    struct branch {
        T strongest;  ///< mole fraction; the lowest boiling one, or where the extract would be 70 % of the rest
        T coldest_c;  ///< its boiling point, degC
        T hottest_c;  ///< that of extract and water alone
    };
    template <class T>
    static branch<T> range(const T& x, const T& p, const T& molar_mass) {
        const T r = wash_vapour::solutes(x, molar_mass);
        const T most = wash_vapour::raw_mole_fraction(wash_vapour::in_solvent(T(1.0 - x * (1.0 / icumsa_sps4::extract_range.upper)), x));
        const T lowest = wash_vapour::lowest_boiling(p, r);
        const T strongest = num::select(num::mask<T>(lowest < most), lowest, most);
        return {strongest, wash_vapour::boiling_c(strongest, p, r), wash_vapour::boiling_c(T(0.0 * x), p, r)};
    }

    /// Ethanol of a boiling wash, mass fraction of the wash.
    ///   t            boiling temperature, degC
    ///   x            extract, mass fraction of the wash    0 <= x <= 0.30
    ///   p            pressure, Pa                          20e3 <= p <= 110e3
    ///   molar_mass   of the extract, g/mol                 60 to 2000
    ///   ->           the weaker of the two mixtures that boil there; NaN where none does, outside the range or for NaN
    template <class T>
    static T abw(const T& t, const T& x, const T& p, const T& molar_mass) {
        const auto ok = wash_vapour::valid(T(0.0 * t), x, p, molar_mass);
        return num::keep_if(ok, T((1.0 - x) * wash_vapour::raw_mass_fraction(solve(t, x, p, molar_mass))));
    }

private:
    // Boiling point at z less t, with its slope.
    template <class T>
    static num::value_and_slope<T> excess(const T& z, const T& t, const T& p, const T& r) {
        const T boiling = wash_vapour::boiling_c(z, p, r);
        const auto state = wash_vapour::binary::at(z, T(boiling + zero_celsius_kelvin));
        const T raised = r * (wash_vapour::ethanol - wash_vapour::water) / wash_vapour::raise(z, r);
        return {vle::settled(T(boiling - t), vle::round_off_kelvin), (raised - state.ln_pressure.by_z) / state.ln_pressure.by_t};
    }
    template <class T>
    static T solve(const T& t, const T& x, const T& p, const T& molar_mass) {
        const T r = wash_vapour::solutes(x, molar_mass);
        if constexpr (vle::carries_more<T>) {
            using num::value_of;
            const double root = solve<double>(value_of(t), value_of(x), value_of(p), value_of(molar_mass));
            const num::value_and_slope<T> here = excess(T(root), t, p, r);
            return T(root - here.value / here.slope);
        } else {
            return num::bracketed_newton<T>([&](const T& z) { return excess(z, t, p, r); }, T(0.0 * t), range(x, p, molar_mass).strongest, T(0.0 * t));
        }
    }
};

/// What a boiling point says of a wash.
struct EbulliometerReading {
    abw<> strength;
    abv<> by_volume;  ///< at 20 degC
    pressure<> at_pressure;
    double abv_per_kelvin;  ///< how far the strength by volume (a fraction) moves with the boiling point; negative, and larger the stronger the wash
};

/// An ebulliometer: a thermometer in the steam of a boiling sample, with a condenser that returns what boils off.
class Ebulliometer {
public:
    /// thermometer_correction   added to every temperature, K, -5 to 5
    /// extract_molar_mass       g/mol, 60 to 2000; glucose unless the extract is known
    /// Throws RangeError, and InputError for NaN.
    explicit Ebulliometer(const double thermometer_correction = 0.0, const double extract_molar_mass = wash_vapour::extract_molar_mass)
        : correction_(thermometer_correction), molar_mass_(extract_molar_mass) {
        constexpr num::interval correction_range{-5.0, 5.0};
        require_inside("thermometer correction", correction_, "K", correction_range, "a thermometer further out belongs replaced");
        require_inside("molar mass of the extract", molar_mass_, "g/mol", wash_vapour::molar_mass_range, wash_vapour::extract_from);
        if (std::isnan(correction_) || std::isnan(molar_mass_)) {
            throw InputError("ebulliometer: thermometer correction and molar mass of the extract must be numbers");
        }
    }

    /// Strength of a wash that boils at a temperature under a known pressure.
    ///   boiling           as read
    ///   at_pressure       20 to 110 kPa, absolute: not reduced to sea level (see station_pressure)
    ///   extract_by_mass   real extract, 0 to 30 % mass; roughly will do, 1 % is worth 0.02 to 0.05 % mass of ethanol
    ///   ->                all NaN for NaN
    /// Throws RangeError where no wash below the azeotrope boils there. Source: boiling_point_strength.
    [[nodiscard]] EbulliometerReading strength(const celsius<>& boiling, const pressure<>& at_pressure, const extract<>& extract_by_mass) const {
        detail::require_boiling_pressure(at_pressure.value());
        return read(boiling.value() + correction_, at_pressure.value(), extract_by_mass.value());
    }

    /// The same from the boiling point of water on the same thermometer just before: the pressure drops out, and with it most of an error of the
    /// thermometer's zero.
    ///   water_boiling   as read, what water boils at under 20 to 110 kPa: 60.06 to 102.34 degC
    /// Throws RangeError outside. The pressure of the result is that at which water boils so.
    [[nodiscard]] EbulliometerReading strength_against_water(const celsius<>& water_boiling, const celsius<>& wash_boiling,
                                                             const extract<>& extract_by_mass) const {
        const double t = water_boiling.value() + correction_;
        const num::interval possible{wash_vapour::boiling_c(0.0, wash_vapour::pressure_range.lower, 0.0),
                                     wash_vapour::boiling_c(0.0, wash_vapour::pressure_range.upper, 0.0)};
        require_inside("boiling point of water", t, "degC", possible, "20 to 110 kPa");
        return read(wash_boiling.value() + correction_, dippr101_water::vapour_pressure(t), extract_by_mass.value());
    }

    /// What the thermometer shows in a wash of known composition: the exact inverse of strength. Ranges and errors as bubble_point.
    [[nodiscard]] celsius<> reads(const abw<>& strength, const extract<>& extract_by_mass, const pressure<>& at_pressure) const {
        return (bubble_point(strength, extract_by_mass, at_pressure, molar_mass_).temperature.value() - correction_) * degree_celsius;
    }

private:
    [[nodiscard]] EbulliometerReading read(const double t, const double p, const double x) const {
        detail::require_extract_of_boiling(x, molar_mass_);
        const auto branch = boiling_point_strength::range(x, p, molar_mass_);
        // Water boiled before and after may differ by the round-off of the pressure between them; the kernel counts that as the end of the range.
        require_inside("boiling point", t, "degC", {branch.coldest_c - vle::round_off_kelvin, branch.hottest_c + vle::round_off_kelvin},
                       "a wash of " + format_quantity(detail::percent * x, "% extract") + " at " + format_quantity(p / detail::pascal_per_kilopascal, "kPa") +
                           " boils between the azeotrope and water");
        const auto by_volume = [&](const double at) { return wash::abv(boiling_point_strength::abw(at, x, p, molar_mass_), x); };
        const double e = boiling_point_strength::abw(t, x, p, molar_mass_);
        return {abw<>::from_value(e), abv<>::from_value(wash::abv(e, x)), pressure<>::from_value(p), slope(by_volume, t, branch)};
    }

    // By a difference taken inwards from either end.
    template <class F, class Branch>
    static double slope(const F& f, const double t, const Branch& branch) {
        constexpr double step = 1e-4;  // K
        const double above = std::min(t + step, branch.hottest_c);
        const double below = std::max(t - step, branch.coldest_c);
        return (f(above) - f(below)) / (above - below);
    }

    double correction_;
    double molar_mass_;
};

}  // namespace ferment

#pragma once
// Readings of batches whose truth is known, for the tests of fit and check.

#include <ferment/fermentation/fit.hpp>
#include <vector>

#include "batches.hpp"

namespace ferment_test {

/// Standard uncertainties of what is read; zero where it is not read.
struct Instruments {
    double gravity = 1e-3;     // a point: a hydrometer and the sample
    double temperature = 0.0;  // K
    double co2_lost = 0.0;     // kg
};

inline constexpr Instruments hydrometer_only{};
inline constexpr Instruments hydrometer_and_scale{1e-3, 0.0, 0.05};
inline constexpr Instruments all_instruments{1e-3, 0.5, 0.05};

/// What these instruments show, without an error, of a batch with these parameters.
inline std::vector<ferment::Reading> readings_of(const ferment::Fermentation& truth, const std::vector<double>& hours, const Instruments& with = {},
                                                 const ferment::kinetic_values<double>& z = {}) {
    std::vector<ferment::Reading> readings;
    for (const ferment::WashState& s : ferment::simulate(truth, hours, z).at) {
        ferment::Reading r;
        r.time_h = s.time_h;
        if (with.gravity > 0.0) r.gravity = ferment::measured{s.gravity, with.gravity};
        if (with.temperature > 0.0) r.temperature = ferment::measured{s.temperature_c, with.temperature};
        if (with.co2_lost > 0.0) r.co2_lost = ferment::measured{s.co2_lost_kg, with.co2_lost};
        readings.push_back(r);
    }
    return readings;
}

/// Gravities of the reader's own making.
inline ferment::Reading gravity_read(const double hour, const double gravity, const double uncertainty = 1e-3) {
    ferment::Reading r;
    r.time_h = hour;
    r.gravity = ferment::measured{gravity, uncertainty};
    return r;
}
inline ferment::Reading temperature_read(const double hour, const double celsius, const double uncertainty = 0.5) {
    ferment::Reading r;
    r.time_h = hour;
    r.temperature = ferment::measured{celsius, uncertainty};
    return r;
}
inline ferment::Reading iodine_read(const double hour, const bool positive) {
    ferment::Reading r;
    r.time_h = hour;
    r.iodine = positive;
    return r;
}

}  // namespace ferment_test

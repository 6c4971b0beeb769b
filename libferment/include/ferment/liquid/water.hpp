#pragma once
// How much water weighs.

#include <array>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>

namespace ferment {

/// Liquid water at 0.1 MPa.
/// Rejected alternatives and errata: DEVELOPERS.md, "Density of water".
struct iapws_sr6 {
    static constexpr source from{
        "iapws_sr6",
        "density of air-free water at 0.1 MPa [kg/m3]",
        "IAPWS SR6-08(2011), Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa, eq. (2)",
        "0 <= t <= 100 degC (ITS-90)",
        "reproduces IAPWS-95 at 0.1 MPa within 0.0008 kg/m3; Tanaka 2001 (0.001 kg/m3) within 0.0009 kg/m3 at 0-40 degC",
    };
    static constexpr num::interval t_range{0.0, 100.0};

    static constexpr double specific_gas_constant = 461.51805;  // J/(kg K), as the release prints it
    static constexpr double reference_temperature = 10.0;       // K
    static constexpr double reference_pressure = 1e5;           // Pa
    static constexpr double zero_celsius = 273.15;              // K

    // Table 1 of the release, verbatim: a5, a6 ... a10 with exponents of alpha, b5 ... b10 with exponents 1 ... 6 of beta.
    static constexpr double a5 = 1.93763157e-2;
    static constexpr double a6 = 6.74458446e3, a7 = -2.22521604e5, a8 = 1.00231247e8, a9 = -1.63552118e9, a10 = 8.32299658e9;
    static constexpr std::array<double, 10> alpha_powers{0.0, 0.0, 0.0, 0.0, a6, a7, 0.0, a8, a9, a10};  // alpha^4, ^5, ^7, ^8, ^9
    static constexpr std::array<double, 7> beta_powers{a5, 5.78545292e-3, -1.53195665e-2, 3.11337859e-2, -4.23546241e-2, 3.38713507e-2, -1.19946761e-2};

    /// Density of water, kg/m3.
    ///   t    temperature, degC    0 <= t <= 100
    ///   ->   kg/m3; NaN outside the range or for NaN
    template <class T>
    static constexpr T density(const T& t) {
        const T kelvin = t + zero_celsius;
        const T alpha = reference_temperature / (593.0 - kelvin);
        const T beta = reference_temperature / (kelvin - 232.0);
        constexpr double scale = specific_gas_constant * reference_temperature / reference_pressure;
        const T specific_volume = scale * (num::horner(beta_powers, beta) + num::horner(alpha_powers, alpha));
        const T rho = 1.0 / specific_volume;
        return num::keep_if(num::inside(t, t_range), rho);
    }
};

/// Density of air-free water at atmospheric pressure.
///   temperature   a point, 0 to 100 degC
///   ->            density, kg/m3 (uncertainty 0.001 kg/m3 to 40 degC, 0.005 kg/m3 above)
/// Throws RangeError outside. Source: IAPWS SR6-08(2011), eq. (2).
inline density<> water_density(const celsius<>& temperature) {
    require_inside("temperature", temperature.value(), "degC", iapws_sr6::t_range, iapws_sr6::from);
    return density<>::from_value(iapws_sr6::density(temperature.value()));
}

}  // namespace ferment

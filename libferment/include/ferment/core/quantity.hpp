#pragma once
// The quantities of the trade as types. Every kind of strength has a dimension of its own, so that adding % vol to % mass, or handing
// degrees Plato to a function that wants a gravity, does not compile. Masses, volumes and temperatures are ordinary SI quantities.
//
//   40.0 * percent_vol         abv<>          strength by volume, both volumes at 20 degC
//   100.0 * us_proof_degree    us_proof<>     US proof, defined at 60 degF
//   33.3 * percent_mass        abw<>          ethanol by mass of the liquid
//   12.0 * degree_plato        extract<>      dissolved extract by mass of the liquid
//   1.048 * sg_20_20           gravity<at_20_20>  specific gravity; also sg_15_15, sg_60f, sg_20_4
//   20.0 * degree_celsius      celsius<>      a temperature point; two of them cannot be added
//   ferment::value_in(x, percent_vol)         back to the plain number
//
// Base-dimension and base-unit ordinals 9100 to 9199 are reserved for this library.

#include <boost/units/absolute.hpp>
#include <boost/units/base_dimension.hpp>
#include <boost/units/base_unit.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/base.hpp>
#include <boost/units/systems/si/dimensionless.hpp>
#include <boost/units/systems/si/mass.hpp>
#include <boost/units/systems/si/mass_density.hpp>
#include <boost/units/systems/si/temperature.hpp>
#include <boost/units/systems/si/volume.hpp>
#include <boost/units/systems/temperature/celsius.hpp>
#include <string>

namespace ferment {

namespace bu = boost::units;

struct abv_dimension : bu::base_dimension<abv_dimension, 9101> {};
struct abw_dimension : bu::base_dimension<abw_dimension, 9102> {};
struct extract_dimension : bu::base_dimension<extract_dimension, 9103> {};
struct us_proof_dimension : bu::base_dimension<us_proof_dimension, 9104> {};

struct abv_unit : bu::base_unit<abv_unit, abv_dimension::dimension_type, 9101> {
    static std::string name() { return "ethanol volume fraction at 20 degC"; }
    static std::string symbol() { return "L/L"; }
};
struct abw_unit : bu::base_unit<abw_unit, abw_dimension::dimension_type, 9102> {
    static std::string name() { return "ethanol mass fraction"; }
    static std::string symbol() { return "kg ethanol/kg"; }
};
struct extract_unit : bu::base_unit<extract_unit, extract_dimension::dimension_type, 9103> {
    static std::string name() { return "extract mass fraction"; }
    static std::string symbol() { return "kg extract/kg"; }
};
struct us_proof_unit : bu::base_unit<us_proof_unit, us_proof_dimension::dimension_type, 9104> {
    static std::string name() { return "degree of US proof at 60 degF"; }
    static std::string symbol() { return "proof"; }
};

/// 60 degF, the reference temperature of US proof and of many hydrometers, in degC.
inline constexpr double sixty_fahrenheit_c = (60.0 - 32.0) / 1.8;

/// Reference temperatures of a specific gravity: that of the sample and that of the water it is compared with, degC.
struct at_20_20 {
    static constexpr double sample_c = 20.0, water_c = 20.0;
    static constexpr long ordinal = 9110;
    static constexpr const char* name = "20/20";
};
struct at_15_15 {
    static constexpr double sample_c = 15.0, water_c = 15.0;
    static constexpr long ordinal = 9111;
    static constexpr const char* name = "15/15";
};
struct at_60f_60f {
    static constexpr double sample_c = sixty_fahrenheit_c, water_c = sixty_fahrenheit_c;
    static constexpr long ordinal = 9112;
    static constexpr const char* name = "60/60F";
};
struct at_20_4 {
    static constexpr double sample_c = 20.0, water_c = 4.0;
    static constexpr long ordinal = 9113;
    static constexpr const char* name = "20/4";
};

template <class Reference>
struct gravity_dimension : bu::base_dimension<gravity_dimension<Reference>, Reference::ordinal> {};
template <class Reference>
struct gravity_unit : bu::base_unit<gravity_unit<Reference>, typename gravity_dimension<Reference>::dimension_type, Reference::ordinal> {
    static std::string name() { return std::string("specific gravity ") + Reference::name; }
    static std::string symbol() { return std::string("SG ") + Reference::name; }
};

template <class T = double>
using abv = bu::quantity<typename abv_unit::unit_type, T>;
template <class T = double>
using abw = bu::quantity<typename abw_unit::unit_type, T>;
template <class T = double>
using extract = bu::quantity<typename extract_unit::unit_type, T>;
template <class T = double>
using us_proof = bu::quantity<typename us_proof_unit::unit_type, T>;
template <class Reference, class T = double>
using gravity = bu::quantity<typename gravity_unit<Reference>::unit_type, T>;
template <class T = double>
using specific_gravity = gravity<at_20_20, T>;

template <class T = double>
using density = bu::quantity<bu::si::mass_density, T>;  ///< kg/m3, in vacuum unless a name says "in air"
template <class T = double>
using mass = bu::quantity<bu::si::mass, T>;  ///< kg
template <class T = double>
using volume = bu::quantity<bu::si::volume, T>;  ///< m3
template <class T = double>
using celsius = bu::quantity<bu::absolute<bu::celsius::temperature>, T>;  ///< a point on the scale, degC

inline const abv<> percent_vol = abv<>::from_value(0.01);
inline const abw<> percent_mass = abw<>::from_value(0.01);
inline const extract<> degree_plato = extract<>::from_value(0.01);  ///< % extract by mass; Plato, Brix and Balling are one scale today
inline const us_proof<> us_proof_degree = us_proof<>::from_value(1.0);
inline const gravity<at_20_20> sg_20_20 = gravity<at_20_20>::from_value(1.0);
inline const gravity<at_15_15> sg_15_15 = gravity<at_15_15>::from_value(1.0);
inline const gravity<at_60f_60f> sg_60f = gravity<at_60f_60f>::from_value(1.0);
inline const gravity<at_20_4> sg_20_4 = gravity<at_20_4>::from_value(1.0);
inline const density<> kilogram_per_cubic_metre = density<>::from_value(1.0);
inline const density<> gram_per_litre = density<>::from_value(1.0);
inline const mass<> kilogram = mass<>::from_value(1.0);
inline const volume<> litre = volume<>::from_value(1e-3);
inline constexpr bu::absolute<bu::celsius::temperature> degree_celsius;

/// The plain number of a quantity in a unit: value_in(strength, percent_vol) is 40.0 for 40 % vol.
template <class Unit, class T>
constexpr T value_in(const bu::quantity<Unit, T>& x, const bu::quantity<Unit, double>& unit) {
    return x.value() / unit.value();
}

}  // namespace ferment

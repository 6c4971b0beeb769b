#include <ferment/liquid/vapour.hpp>

#include "edge.hpp"
#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

constexpr double sea_level_kpa = 101.325;
constexpr double pascal = 1e3;  // in a kPa
constexpr Argument pressure_argument{"pressure_kpa", "Absolute pressure [kPa], 20 to 110.", sea_level_kpa};
constexpr Argument abw_wash{"abw", "Ethanol by mass of the liquid [%], 0 to 100."};
constexpr Argument extract_wash{"extract", "Extract by mass of the liquid [%], 0 to 30; at most 70 % of what is not ethanol.", 0.0};
constexpr Argument vapour_argument{"vapour_abw", "Ethanol by mass of the vapour [%], 0 to 100."};

wash_vapour::bubble<double> bubble(const double abw, const double p, const double x) {
    return wash_vapour::bubble_point(abw / percent, x / percent, p * pascal);
}
void check_bubble(const double abw, const double p, const double x) {
    bubble_point(abw * percent_mass, x * degree_plato, p * kilopascal);
}
void check_dew(const double vapour, const double p) {
    dew_point(vapour * percent_mass, p * kilopascal);
}

void bind_boiling(py::module_& m) {
    const std::array liquid{abw_wash, pressure_argument, extract_wash};
    def_documented<[](double e, double p, double x) { return bubble(e, p, x).boiling_c; }, [](double e, double p, double x) { check_bubble(e, p, x); }, 2>(
        m, "boiling_point", "Boiling point of water, spirit or wash at a pressure [degC].", liquid, "Boiling point [degC]; 0.4.", wash_vapour::from.citation);
    def_documented<[](double e, double p, double x) { return percent * bubble(e, p, x).vapour; }, [](double e, double p, double x) { check_bubble(e, p, x); },
                   2>(m, "vapour_abw", "Ethanol by mass in the vapour over a boiling liquid [% mass].", liquid,
                      "Ethanol in the vapour [% mass]; 1.3 % by moles.", wash_vapour::from.citation);
    def_documented<[](double e, double p, double x) { return bubble(e, p, x).relative_volatility; },
                   [](double e, double p, double x) { check_bubble(e, p, x); }, 2>(
        m, "relative_volatility", "Volatility of ethanol relative to water in a boiling liquid, by moles [1].", liquid,
        "Relative volatility; 1 at the azeotrope, below it more.", wash_vapour::from.citation);
    const std::array vapour{vapour_argument, pressure_argument};
    def_documented<[](double v, double p) { return wash_vapour::dew_point(v / percent, p * pascal).boiling_c; }, [](double v, double p) { check_dew(v, p); },
                   1>(m, "dew_point", "Temperature at which a vapour of ethanol and water begins to condense [degC].", vapour, "Dew point [degC].",
                      wash_vapour::from.citation);
    def_documented<[](double v, double p) { return percent * wash_vapour::dew_point(v / percent, p * pascal).liquid; },
                   [](double v, double p) { check_dew(v, p); }, 1>(
        m, "abw_from_vapour_abw", "Ethanol by mass of the liquid under a vapour: the exact inverse of vapour_abw without extract [% mass].", vapour,
        "Ethanol in the liquid [% mass], which is also that of the first drop.", wash_vapour::from.citation);
    // ferment/liquid.py makes a record of these.
    constexpr std::array<const char*, 1> at_pressure{"pressure_kpa"};
    def_elementwise<FormulaOf<[](double p) { return wash_vapour::azeotrope(p * pascal).boiling_c; }, [](double p) { azeotrope(p * kilopascal); }>>(
        m, "azeotrope_c", at_pressure, "Boiling point of the azeotrope [degC].");
    def_elementwise<FormulaOf<[](double p) { return percent * wash_vapour::azeotrope(p * pascal).abw; }, [](double p) { azeotrope(p * kilopascal); }>>(
        m, "azeotrope_abw", at_pressure, "Ethanol by mass of the azeotrope [%].");
}

void bind_pressures(py::module_& m) {
    def_documented<[](double t) { return dippr101_ethanol::vapour_pressure(t) / pascal; }, [](double t) { ethanol_vapour_pressure(degrees(t)); }>(
        m, "ethanol_vapour_pressure", "Vapour pressure of ethanol [kPa].", std::array{Argument{"temperature_c", "Temperature [degC], -114.1 to 240.85."}},
        "Vapour pressure [kPa].", dippr101_source.citation);
    def_documented<[](double t) { return dippr101_water::vapour_pressure(t) / pascal; }, [](double t) { water_vapour_pressure(degrees(t)); }>(
        m, "water_vapour_pressure", "Vapour pressure of water [kPa].", std::array{Argument{"temperature_c", "Temperature [degC], 0.01 to 373.946."}},
        "Vapour pressure [kPa].", dippr101_source.citation);
    def_documented<[](double h) { return standard_atmosphere::pressure(h) / pascal; }, [](double h) { pressure_at_altitude(h * metre); }>(
        m, "pressure_at_altitude", "Pressure of the standard atmosphere at an altitude [kPa].",
        std::array{Argument{"altitude_m", "Altitude [m], -5000 to 11000."}}, "Pressure [kPa]; the weather moves it by 3 % either way.",
        standard_atmosphere::from.citation);
    def_documented<[](double p) { return standard_atmosphere::altitude(p * pascal); }, [](double p) { altitude_of_pressure(p * kilopascal); }>(
        m, "altitude_of_pressure", "Altitude at which the standard atmosphere has a pressure: the exact inverse of pressure_at_altitude [m].",
        std::array{Argument{"pressure_kpa", "Pressure [kPa], 22.6 to 177.7."}}, "Altitude [m].", standard_atmosphere::from.citation);
    def_documented<[](double p, double h) { return standard_atmosphere::station_pressure(p * pascal, h) / pascal; },
                   [](double p, double h) { station_pressure(p * kilopascal, h * metre); }>(
        m, "station_pressure", "Pressure at a place from the one a weather report gives, which is reduced to sea level [kPa].",
        std::array{Argument{"sea_level_kpa", "Pressure reduced to sea level [kPa], 85 to 110."},
                   Argument{"altitude_m", "Altitude of the place [m], -5000 to 11000."}},
        "Pressure at the place [kPa].", standard_atmosphere::from.citation);
    def_documented<[](double e) { return percent * wash_vapour::mole_fraction(e / percent); }, [](double e) { mole_fraction_from_abw(e * percent_mass); }>(
        m, "mole_percent_from_abw", "Ethanol by moles from ethanol by mass, in ethanol and water [% mol].",
        std::array{Argument{"abw", "Ethanol by mass [%], 0 to 100."}}, "Ethanol [% mol].", stoichiometry::from.citation);
    def_documented<[](double z) { return percent * wash_vapour::mass_fraction(z / percent); }, [](double z) { abw_from_mole_fraction(z * percent_mole); }>(
        m, "abw_from_mole_percent", "Ethanol by mass from ethanol by moles: the exact inverse of mole_percent_from_abw [% mass].",
        std::array{Argument{"mole_percent", "Ethanol by moles [%], 0 to 100."}}, "Ethanol [% mass].", stoichiometry::from.citation);
}

}  // namespace

void bind_vapour(py::module_& m) {
    bind_boiling(m);
    bind_pressures(m);
    m.attr("sea_level_kpa") = sea_level_kpa;
}

}  // namespace ferment_python

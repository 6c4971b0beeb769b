#include <ferment/liquid/enthalpy.hpp>

#include "edge.hpp"
#include "elementwise.hpp"
#include "module.hpp"

namespace ferment_python {

using namespace ferment;

namespace {

constexpr double kilo = 1e3;
constexpr Argument temperature{"temperature_c", "Temperature [degC], 0 to 110."};
constexpr Argument abw_spirit{"abw", "Ethanol by mass [%], 0 to 100."};
constexpr Argument abw_wash{"abw", "Ethanol by mass of the wash [%], 0 to 100."};
constexpr Argument extract_wash{"extract", "Real extract by mass of the wash [%]; at most 70 % of what is not ethanol."};
constexpr Argument before{"before_c", "Temperature before [degC], 0 to 110."};
constexpr Argument after{"after_c", "Temperature after [degC], 0 to 110."};
constexpr std::string_view capacity_result = "Heat capacity [kJ/(kg K)].";

void bind_spirit(py::module_& m) {
    const std::array spirit{abw_spirit, temperature};
    def_documented<[](double e, double t) { return spirit_heat::heat_capacity(e / percent, t) / kilo; },
                   [](double e, double t) { spirit_heat_capacity(e * percent_mass, degrees(t)); }>(
        m, "spirit_heat_capacity", "Heat capacity of a liquid mixture of ethanol and water [kJ/(kg K)].", spirit, capacity_result, spirit_heat::from.citation);
    def_documented<[](double e, double t) { return spirit_heat::liquid_enthalpy(e / percent, t) / kilo; },
                   [](double e, double t) { spirit_enthalpy(e * percent_mass, degrees(t)); }>(
        m, "spirit_enthalpy", "Enthalpy of a liquid mixture of ethanol and water above that of its unmixed parts at 0 degC [kJ/kg].", spirit,
        "Enthalpy [kJ/kg].", spirit_heat::from.citation);
    def_documented<[](double e, double t) { return spirit_heat::vapour_enthalpy(e / percent, t) / kilo; },
                   [](double e, double t) { vapour_enthalpy(e * percent_mass, degrees(t)); }>(
        m, "vapour_enthalpy", "Enthalpy of a vapour of ethanol and water above that of its liquid parts at 0 degC [kJ/kg].",
        std::array{Argument{"abw", "Ethanol by mass of the vapour [%], 0 to 100."}, temperature}, "Enthalpy [kJ/kg].", spirit_heat::total_from.citation);
    def_documented<[](double e, double t) { return spirit_heat::latent_heat(e / percent, t) / kilo; },
                   [](double e, double t) { latent_heat(e * percent_mass, degrees(t)); }>(
        m, "latent_heat", "Heat that a vapour gives up where all of it condenses without cooling further [kJ/kg].",
        std::array{Argument{"abw", "Ethanol by mass of the vapour [%], 0 to 100."}, temperature}, "Latent heat [kJ/kg].", spirit_heat::total_from.citation);
    def_door<[](double e, double start, double boiling) { return evaporation_heat(e * percent_mass, degrees(start), degrees(boiling)).value() / kilo; }>(
        m, "evaporation_heat", "Heat that warms a spirit to its boiling point and evaporates all of it there [kJ/kg].",
        std::array{abw_spirit, Argument{"start_c", "Temperature at the start [degC], 0 to the boiling point."},
                   Argument{"boiling_c", "Boiling point at the pressure of the still [degC], 0 to 110; see boiling_point."}},
        "Heat [kJ/kg].", spirit_heat::total_from.citation);
}

food_components grain_of(const double moisture, const double protein, const double fat, const double fibre, const double ash) {
    return {moisture / percent, protein / percent, fat / percent, fibre / percent, ash / percent};
}

void bind_wash_and_grain(py::module_& m) {
    def_documented<[](double e, double x, double t) { return wash_heat::heat_capacity(e / percent, x / percent, t) / kilo; },
                   [](double e, double x, double t) { wash_heat_capacity(e * percent_mass, x * degree_plato, degrees(t)); }>(
        m, "wash_heat_capacity", "Heat capacity of a wash: water, ethanol and extract [kJ/(kg K)].", std::array{abw_wash, extract_wash, temperature},
        capacity_result, wash_heat::from.citation);
    def_door<[](double mass_kg, double e, double x, double from, double to) {
        return wash_heating(mass_kg * kilogram, e * percent_mass, x * degree_plato, degrees(from), degrees(to)).value() / kilowatt_hour.value();
    }>(m, "wash_heating_kwh", "Heat that brings a wash from one temperature to another, without losses and without boiling [kWh].",
       std::array{Argument{"wash_kg", "Mass of the wash [kg], from 0."}, abw_wash, extract_wash, before, after}, "Heat [kWh]; negative where it cools.",
       wash_heat::from.citation);
    constexpr Argument moisture{"moisture", "Water in the grain [% mass], 0 to 100, all together at most 100."};
    constexpr Argument protein{"protein", "Protein in the grain [% mass]."};
    constexpr Argument fat{"fat", "Fat in the grain [% mass]."};
    constexpr Argument fibre{"fibre", "Fibre in the grain [% mass]."};
    constexpr Argument ash{"ash", "Ash in the grain [% mass]; what is left is carbohydrate."};
    def_door<[](double w, double p, double f, double r, double a, double t) {
        return grain_heat_capacity(grain_of(w, p, f, r, a), degrees(t)).value() / kilo;
    }>(m, "grain_heat_capacity", "Heat capacity of a grain with its moisture, from its analysis [kJ/(kg K)].",
       std::array{moisture, protein, fat, fibre, ash, temperature}, capacity_result, choi_okos_1986_heat::from.citation);
    def_door<[](double mass_kg, double w, double p, double f, double r, double a, double from, double to) {
        return grain_heating(mass_kg * kilogram, grain_of(w, p, f, r, a), degrees(from), degrees(to)).value() / kilowatt_hour.value();
    }>(m, "grain_heating_kwh", "Heat that brings a grain with its moisture from one temperature to another [kWh].",
       std::array{Argument{"grain_kg", "Mass of the grain [kg], from 0."}, moisture, protein, fat, fibre, ash, before, after},
       "Heat [kWh]; negative where it cools. What dry grain gives up as it takes water is left out.", choi_okos_1986_heat::from.citation);
}

}  // namespace

void bind_enthalpy(py::module_& m) {
    bind_spirit(m);
    bind_wash_and_grain(m);
}

}  // namespace ferment_python

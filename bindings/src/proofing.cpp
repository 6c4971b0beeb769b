#include <pybind11/stl.h>

#include <ferment/proofing/blend.hpp>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>
#include <ferment/proofing/sweetening.hpp>
#include <vector>

#include "edge.hpp"
#include "elementwise.hpp"
#include "module.hpp"
#include "proofing.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

SpiritMass weighed(const double abv_percent, const double volume_l, const double temperature_c) {
    return weigh(volume_l * litre, abw_from_abv(abv_percent * percent_vol), degrees(temperature_c));
}

double abv_of(const SpiritMass& spirit) {
    return value_in(abv_from_abw(strength_of(spirit)), percent_vol);
}

py::dict spirit_values(const SpiritMass& spirit, const double temperature_c) {
    py::dict d;
    d["abv"] = abv_of(spirit);
    d["abw"] = value_in(strength_of(spirit), percent_mass);
    d["mass_kg"] = spirit.total.value();
    d["ethanol_kg"] = spirit.ethanol.value();
    d["volume_l"] = value_in(volume_of(spirit, degrees(reference_20c::t)), litre);
    d["volume_at_temperature_l"] = value_in(volume_of(spirit, degrees(temperature_c)), litre);
    d["temperature_c"] = temperature_c;
    d["pure_alcohol_l"] = value_in(pure_alcohol(spirit), litre);
    return d;
}

}  // namespace

py::dict dilution_to(const Dilution& d, const double temperature_c, const double water_temperature_c) {
    py::dict out;
    out["spirit"] = spirit_values(d.spirit, temperature_c);
    out["result"] = spirit_values(d.result, temperature_c);
    out["water_kg"] = d.water.value();
    out["water_l"] = value_in(d.water_volume, litre);
    out["water_temperature_c"] = water_temperature_c;
    out["contraction_l"] = value_in(d.contraction, litre);
    return out;
}

py::dict bottling_to(const Bottling& b) {
    py::dict d;
    d["bottles"] = b.full;
    d["fill_l"] = value_in(b.fill_volume, litre);
    d["volume_at_fill_l"] = value_in(b.volume_at_fill, litre);
    d["rest_l"] = value_in(b.rest_at_20c, litre);
    return d;
}

void bind_proofing(py::module_& m) {
    m.def("dilute", [](const double abv, const double volume_l, const double target_abv, const double temperature_c, const double water_temperature_c) {
        const Dilution d = dilute(weighed(abv, volume_l, temperature_c), abw_from_abv(target_abv * percent_vol), degrees(water_temperature_c));
        return dilution_to(d, temperature_c, water_temperature_c);
    });
    m.def("add_water", [](const double abv, const double volume_l, const double water_kg, const double temperature_c, const double water_temperature_c) {
        const Dilution d = add_water(weighed(abv, volume_l, temperature_c), water_kg * kilogram, degrees(water_temperature_c));
        return dilution_to(d, temperature_c, water_temperature_c);
    });
    m.def("dilute_to_volume",
          [](const double abv, const double target_abv, const double target_volume_l, const double temperature_c, const double water_temperature_c) {
              const Dilution d = dilute_to_volume(abw_from_abv(abv * percent_vol), abw_from_abv(target_abv * percent_vol), target_volume_l * litre,
                                                  degrees(water_temperature_c));
              return dilution_to(d, temperature_c, water_temperature_c);
          });
    m.def("blend", [](const std::vector<std::array<double, 3>>& parts, const double temperature_c) {
        std::vector<SpiritMass> spirits;
        spirits.reserve(parts.size());
        for (const auto& [abv, volume_l, t] : parts) spirits.push_back(weighed(abv, volume_l, t));
        const SpiritMass sum = blend(spirits);
        py::dict out = spirit_values(sum, temperature_c);
        out["contraction_l"] = value_in(contraction(spirits), litre);
        return out;
    });
    constexpr std::string_view cited = "Density of wash against OIML R 22; compare 27 CFR 30.32.";
    constexpr Argument sugar{"sugar_g_per_l", "Dissolved sugar at 20 degC [g/L], 0 to 500."};
    def_documented<[](double q, double c) { return or_nan([&] { return value_in(apparent_strength(q * percent_vol, c), percent_vol); }); },
                   [](double q, double c) { apparent_strength(q * percent_vol, c); }>(
        m, "apparent_abv", "What an alcoholometer shows in a sweetened spirit at 20 degC [% vol].",
        std::array{Argument{"abv", "True strength [% vol at 20 degC], 0 to 100."}, sugar}, "Apparent strength [% vol].", cited);
    def_documented<[](double q, double c) { return or_nan([&] { return value_in(strength_of_sweetened(q * percent_vol, c), percent_vol); }); },
                   [](double q, double c) { strength_of_sweetened(q * percent_vol, c); }>(
        m, "abv_of_sweetened", "True strength of a sweetened spirit from what an alcoholometer shows at 20 degC [% vol].",
        std::array{Argument{"apparent_abv", "As read [% vol at 20 degC], 0 to 100."}, sugar}, "True strength [% vol].", cited);
    m.def("sweeten", [](const double abv, const double volume_l, const double target_abv, const double sugar_g_per_l, const double temperature_c) {
        const Sweetening s = sweeten(weighed(abv, volume_l, temperature_c), target_abv * percent_vol, sugar_g_per_l);
        py::dict out;
        out["sugar_kg"] = s.sugar.value();
        out["water_kg"] = s.water.value();
        out["mass_kg"] = s.result.total.value();
        out["volume_l"] = value_in(s.volume_20c, litre);
        out["abv"] = target_abv;
        out["apparent_abv"] = value_in(s.apparent, percent_vol);
        return out;
    });
    m.def("bottles", [](const double abv, const double volume_l, const double bottle_l, const double temperature_c, const double filling_temperature_c) {
        return bottling_to(bottles(weighed(abv, volume_l, temperature_c), bottle_l * litre, degrees(filling_temperature_c)));
    });
}

}  // namespace ferment_python

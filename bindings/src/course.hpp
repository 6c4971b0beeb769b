#pragma once
// A batch, its yeast and its surroundings from plain Python values.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <array>
#include <ferment/fermentation/course.hpp>
#include <ferment/mash/bill.hpp>
#include <ferment/mash/potential.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "edge.hpp"

namespace ferment_python {

inline pybind11::str text(const std::string_view s) {
    return {s.data(), s.size()};
}

/// {"mean_c", "swing_c", "warmest_hour"} or {"hours", "temperatures_c"}
ferment::Ambient ambient_from(const pybind11::dict& values);

/// What a batch is made of, free of Python: fermentation() may run without the interpreter's lock.
struct Batch {
    ferment::Bill bill;
    double water_kg = 0.0;
    ferment::Assumptions assumptions;
    ferment::Inoculum inoculum;
    ferment::Conditions conditions;
    std::vector<std::pair<std::string, ferment::measured>> priors;  ///< median and spread

    [[nodiscard]] ferment::Fermentation fermentation() const;
};

/// {"bill": [(grain, mass in kg), ...], "water_kg", "assumptions", "inoculum", "conditions", "priors"}, see the values() of the classes of the package.
Batch batch_from(const pybind11::dict& values);

/// {name: how many spreads from the median}; zero where nothing is said. InputError for an unknown name or what is no number.
ferment::kinetic_values<double> spreads_from(const pybind11::dict& values);

/// A figure of a wash as Python calls it.
struct WashFigure {
    const char* name = nullptr;
    double ferment::WashState::*member = nullptr;
    double scale = 1.0;
};

inline constexpr std::array<WashFigure, 21> wash_figures{{
    {"time_h", &ferment::WashState::time_h},
    {"temperature_c", &ferment::WashState::temperature_c},
    {"gravity", &ferment::WashState::gravity},
    {"hydrometer", &ferment::WashState::hydrometer},
    {"density", &ferment::WashState::density},
    {"abv", &ferment::WashState::abv, percent},
    {"abw", &ferment::WashState::abw, percent},
    {"real_extract", &ferment::WashState::real_extract, percent},
    {"conversion", &ferment::WashState::conversion, percent},
    {"free_sugar", &ferment::WashState::free_sugar, percent},
    {"open_starch_g_per_kg", &ferment::WashState::open_starch},
    {"starch_kg", &ferment::WashState::starch_kg},
    {"ethanol_kg", &ferment::WashState::ethanol_kg},
    {"pure_alcohol_l", &ferment::WashState::pure_alcohol_l},
    {"glycerol_kg", &ferment::WashState::glycerol_kg},
    {"co2_kg", &ferment::WashState::co2_kg},
    {"co2_dissolved_kg", &ferment::WashState::co2_dissolved_kg},
    {"co2_lost_kg", &ferment::WashState::co2_lost_kg},
    {"co2_l_per_h", &ferment::WashState::co2_l_per_h},
    {"heat_w", &ferment::WashState::heat_w},
    {"yeast_g_per_kg", &ferment::WashState::yeast},
}};

}  // namespace ferment_python

#pragma once
// A bill and its assumptions from plain Python values, and a grain back to them. Percent at the edge.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <ferment/mash/bill.hpp>
#include <ferment/mash/grain.hpp>
#include <ferment/mash/potential.hpp>
#include <string>
#include <utility>

namespace ferment {
struct EndPoint;
struct WaterBalance;
}  // namespace ferment

namespace ferment_python {

/// {"name", "form", "moisture": (value, standard uncertainty), ..., "disaccharide_share", "starch_method", "source"}, in percent.
pybind11::dict grain_to(const ferment::Grain& grain);
ferment::Grain grain_from(const pybind11::dict& values);

/// [(grain, mass in kg), ...]
ferment::Bill bill_from(const pybind11::list& items);

/// {"conversion": (value, standard uncertainty), ...}, in percent.
ferment::Assumptions assumptions_from(const pybind11::dict& values);

// What the classes of ferment.mash and ferment.fermentation are made of.
pybind11::dict potential_to(const ferment::Potential& p);
pybind11::dict water_balance_to(const ferment::WaterBalance& b);
pybind11::dict end_point_to(const ferment::EndPoint& e);

}  // namespace ferment_python

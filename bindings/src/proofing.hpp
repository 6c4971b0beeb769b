#pragma once
// Reductions and bottlings as the classes of ferment.proofing take them.

#include <pybind11/pybind11.h>

#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>

namespace ferment_python {

pybind11::dict dilution_to(const ferment::Dilution& d, double temperature_c, double water_temperature_c);
pybind11::dict bottling_to(const ferment::Bottling& b);

}  // namespace ferment_python

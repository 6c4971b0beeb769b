#pragma once
// One function per folder of the library; module.cpp calls them all.

#include <pybind11/pybind11.h>

namespace ferment_python {

void bind_core(pybind11::module_& m);
void bind_liquid(pybind11::module_& m);
void bind_instrument(pybind11::module_& m);
void bind_strength(pybind11::module_& m);
void bind_mash(pybind11::module_& m);
void bind_fermentation(pybind11::module_& m);
void bind_course(pybind11::module_& m);
void bind_forecast(pybind11::module_& m);
void bind_proofing(pybind11::module_& m);

}  // namespace ferment_python
